import { type ChildProcessByStdio, spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import type { Revision, RevisionInput } from '@pourline/store';
import { makeCampaign, makeRevision } from '@pourline/store/testing';
import { build } from 'esbuild';

/** When one server process is killed: so long after it was started, or after so many answers to its clients [ms]. */
export type Killing =
  | { after: 'start'; wait_ms: number }
  | { after: 'answers'; answers: number; wait_ms: number };

/** What came of it. */
export interface Toll {
  kills: number;
  acknowledged: number;
  /** Acknowledged revisions that were not there after a restart, or not in their place. */
  lost: string[];
  /** What the database found wrong with itself at a restart. */
  faults: string[];
  /** Writes without an answer that turned out to be on disk when they were sent again. */
  unanswered_but_saved: number;
  /** Writes without an answer that were saved when they were sent again. */
  sent_again: number;
}

type Child = ChildProcessByStdio<null, Readable, null>;

/** Bundles the server that is to be killed into one file, because it is started hundreds of times. */
export async function bundleVictim(folder: string, source = './victim.ts'): Promise<string> {
  const outfile = join(folder, 'victim.mjs');
  // The database's native part is found from here, not from where the bundle lies.
  const require = "import { createRequire as makeRequire } from 'node:module';";
  await build({
    entryPoints: [fileURLToPath(new URL(source, import.meta.url))],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    banner: { js: `${require}\nconst require = makeRequire(${JSON.stringify(import.meta.url)});` },
    logLevel: 'error',
  });
  return outfile;
}

/** One database whose server is killed again and again while clients write. */
export class Lane {
  readonly toll: Toll = {
    kills: 0,
    acknowledged: 0,
    lost: [],
    faults: [],
    unanswered_but_saved: 0,
    sent_again: 0,
  };
  readonly #victim: string;
  readonly #file: string;
  readonly #clients: number;
  /** Every acknowledged revision, by document, oldest first. */
  readonly #acknowledged = new Map<string, string[]>();
  #unanswered: RevisionInput[] = [];
  #onAnswer: () => void = () => {};

  constructor(victim: string, file: string, clients: number) {
    this.#victim = victim;
    this.#file = file;
    this.#clients = clients;
  }

  /** Starts, writes, kills. */
  async round(killing: Killing): Promise<void> {
    const child = this.#spawn();
    if (killing.after === 'start') {
      await pause(killing.wait_ms);
      return this.#kill(child);
    }
    const port = await this.#ready(child);
    await this.#settleUnanswered(port);
    const enough = this.toll.acknowledged + killing.answers;
    const answered = new Promise<void>((resolve) => {
      this.#onAnswer = () => this.toll.acknowledged >= enough && resolve();
      this.#onAnswer();
    });
    const writing = Promise.all(Array.from({ length: this.#clients }, () => this.#write(port)));
    await Promise.race([answered, writing]);
    await pause(killing.wait_ms);
    await this.#kill(child);
    await writing;
  }

  /** Starts once more and looks for every revision that was ever acknowledged. */
  async reckon(): Promise<Toll> {
    const child = this.#spawn();
    const port = await this.#ready(child);
    await this.#settleUnanswered(port);
    for (const [id, wanted] of this.#acknowledged) {
      const answer = await fetch(`http://127.0.0.1:${port}/api/documents/${id}/revisions`);
      const { revisions = [] } = (await answer.json()) as { revisions?: Revision[] };
      const found = revisions.map((revision) => revision.revision_id);
      this.toll.lost.push(...wanted.filter((revision_id, i) => found[i] !== revision_id));
    }
    child.kill('SIGTERM');
    await once(child, 'exit');
    return this.toll;
  }

  /** Saves state upon state of one document until the server is gone. */
  async #write(port: number): Promise<void> {
    const campaign = makeCampaign();
    let base: string | null = null;
    for (let n = 1; ; n++) {
      // Bodies from a few hundred bytes to some pages of the database.
      const notes = `state ${n} ${'.'.repeat((n * 2_731) % 19_000)}`;
      const input = makeRevision({ ...campaign, notes }, base);
      const status = await send(port, input);
      if (status === undefined) {
        this.#unanswered.push(input);
        return;
      }
      if (status !== 201) throw new Error(`a write was answered with ${status}`);
      this.#acknowledge(input);
      base = input.revision_id;
    }
  }

  /** A client that got no answer sends the same again; that must work whether or not it had been saved. */
  async #settleUnanswered(port: number): Promise<void> {
    for (const input of this.#unanswered.splice(0)) {
      const status = await send(port, input);
      if (status === 200) this.toll.unanswered_but_saved++;
      else if (status === 201) this.toll.sent_again++;
      else throw new Error(`a write that was sent again was answered with ${status}`);
      this.#acknowledge(input);
    }
  }

  #acknowledge(input: RevisionInput): void {
    const { id } = input.body as { id: string };
    this.toll.acknowledged++;
    this.#onAnswer();
    this.#acknowledged.set(id, [...(this.#acknowledged.get(id) ?? []), input.revision_id]);
  }

  #spawn(): Child {
    return spawn(process.execPath, [this.#victim, this.#file], { stdio: ['ignore', 'pipe', 'inherit'] });
  }

  /** Waits until a server listens; takes down what its database found wrong with itself. */
  async #ready(child: Child): Promise<number> {
    const [line] = (await Promise.race([once(child.stdout, 'data'), once(child, 'exit')])) as [unknown];
    if (!(line instanceof Buffer)) throw new Error(`the server ended by itself with ${String(line)}`);
    const { port, faults } = JSON.parse(line.toString()) as { port: number; faults: string[] };
    this.toll.faults.push(...faults);
    return port;
  }

  async #kill(child: Child): Promise<void> {
    const gone = once(child, 'exit');
    if (!child.kill('SIGKILL')) throw new Error('the server had ended before it was killed');
    const [, signal] = (await gone) as [number | null, string | null];
    if (signal !== 'SIGKILL') throw new Error('the server ended by itself');
    this.toll.kills++;
  }
}

/** Sends one revision; gives the status, or undefined when no answer came. */
async function send(port: number, input: RevisionInput): Promise<number | undefined> {
  try {
    const answer = await fetch(`http://127.0.0.1:${port}/api/revisions`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(input),
    });
    await answer.arrayBuffer();
    return answer.status;
  } catch {
    return undefined;
  }
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
