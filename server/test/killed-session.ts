import { type ChildProcessByStdio, spawn } from 'node:child_process';
import { once } from 'node:events';
import type { Readable } from 'node:stream';
import type { AnswerRequest, HostView, Tasting } from '@pourline/core';
import { rightLooking } from '@pourline/core/testing/sessions';
import { v7 as uuid7 } from 'uuid';
import { joining, Phone } from './tasting.ts';

type Child = ChildProcessByStdio<null, Readable, null>;

/** A server that listens in a process of its own. */
export interface Victim {
  child: Child;
  port: number;
  shared: number;
  faults: string[];
}

/** Starts a server on a database and waits until it listens. */
export async function startVictim(program: string, file: string): Promise<Victim> {
  const child = spawn(process.execPath, [program, file], { stdio: ['ignore', 'pipe', 'inherit'] });
  const [line] = (await Promise.race([once(child.stdout, 'data'), once(child, 'exit')])) as [unknown];
  if (!(line instanceof Buffer)) throw new Error(`the server ended by itself with ${String(line)}`);
  return { child, ...(JSON.parse(line.toString()) as Omit<Victim, 'child'>) };
}

/** Ends a server's process at once, as a power cut would. */
export async function killVictim({ child }: Victim): Promise<void> {
  const gone = once(child, 'exit');
  if (!child.kill('SIGKILL')) throw new Error('the server had ended before it was killed');
  await gone;
}

/** Asks a victim's own door. */
export async function askOwner<T>(victim: Victim, path: string, body?: object): Promise<T> {
  const answer = await fetch(`http://127.0.0.1:${victim.port}${path}`, {
    method: body ? 'POST' : 'GET',
    ...(body ? { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) } : {}),
  });
  if (!answer.ok) throw new Error(`${path} was answered with ${answer.status}: ${await answer.text()}`);
  return (await answer.json()) as T;
}

/** Does something as the host. */
export const actAsHost = (victim: Victim, id: string, act: object): Promise<HostView> =>
  askOwner<HostView>(victim, `/api/tastings/${id}/actions`, { action_id: uuid7(), act });

/** A taster whose phone keeps its answers in an outbox until the server said that it has them. */
export class Outbox {
  readonly acknowledged: string[] = [];
  resent = 0;
  readonly #queue: AnswerRequest[] = [];
  #token: string | undefined;

  /** Joins; the phone keeps its token from then on. */
  async join(victim: Victim, code: string, name: string, tasting: Tasting): Promise<void> {
    const phone = new Phone(victim.shared);
    const got = await phone.join(joining(code, name));
    if (got.status !== 201) throw new Error(`joining was answered with ${got.status}: ${got.body}`);
    this.#token = phone.token;
    const { seat, sets } = phone.sheet!;
    for (const { set, flight, window_id, codes } of sets) {
      const cups = codes.map((code_) => ({ code: code_, sample_id: '', known: false }));
      const asked = rightLooking(tasting, { seat, set, flight, window_id, cups, right: [] });
      this.#queue.push(...asked.map((request) => ({ ...request, answer_id: uuid7() })));
    }
  }

  get left(): number {
    return this.#queue.length;
  }

  /** Sends one after another until all is told or the server is gone. Every one that got no answer is sent again. */
  async drain(victim: Victim, onTaken: () => void): Promise<void> {
    const phone = new Phone(victim.shared);
    phone.token = this.#token;
    for (let [next] = this.#queue; next !== undefined; [next] = this.#queue) {
      const got = await phone.answer(next).catch(() => undefined);
      if (!got) return;
      if (got.status === 200) this.resent++;
      else if (got.status !== 201) throw new Error(`an answer was met with ${got.status}: ${got.body}`);
      this.acknowledged.push(next.answer_id);
      this.#queue.shift();
      onTaken();
    }
  }
}
