import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Sharing as Told } from '@pourline/core';
import { inCheckout } from './checkout.ts';
import { DATABASE, tellStoreFaults } from './data.ts';
import { EXIT, Stop } from './exit.ts';

/** Port that is tried first when nobody asks for one. */
export const FIRST_PORT = 4700;
/** How many ports are tried after it. */
const MORE_PORTS = 50;

export interface Serving {
  /** Folder of the database. */
  data: string;
  host?: string | undefined;
  /** Exactly this port; otherwise the first free one from {@link FIRST_PORT}. */
  port?: number | undefined;
  allowedHosts?: string[] | undefined;
  /** Let other machines reach the page for tasters from the start. */
  share?: boolean | undefined;
  /** Address and port of that door; default all addresses and the first free port from 4760. */
  shareHost?: string | undefined;
  sharePort?: number | undefined;
  /** Put the demo campaign into an empty database. Default true. */
  demo?: boolean;
}

/** What a start came to. */
export type Served =
  /** Serving until the process is asked to end. */
  | { outcome: 'started'; url: string; demo: boolean; sharing: Told }
  /** Another process serves this data already. */
  | { outcome: 'running'; url: string };

/** Address of the process that serves this data just now, or null. Its note may be left over from one that was killed. */
async function alreadyServed(note: string): Promise<string | null> {
  try {
    const { url } = JSON.parse(readFileSync(note, 'utf8')) as { url: string };
    const answer = await fetch(new URL('api/about', url), { signal: AbortSignal.timeout(1_500) });
    const { name } = (await answer.json()) as { name?: string };
    return name === 'pourline' ? url : null;
  } catch {
    return null;
  }
}

/**
 * Serves a data folder until the process is asked to end, unless another process serves it already.
 * @throws Stop when there is no port, or the database cannot be opened
 */
export async function serve(options: Serving): Promise<Served> {
  const note = join(options.data, 'serving.json');
  const served = await alreadyServed(note);
  if (served) return { outcome: 'running', url: served };
  const { closeOnSignals } = await import('@pourline/server');
  const running = await startOnFreePort(options);
  if (running.seeded?.outcome === 'unreadable') process.stderr.write(`${running.seeded.sentence}\n`);
  if (running.seeded?.outcome === 'invalid')
    for (const { sentence } of running.seeded.problems) process.stderr.write(`Demo campaign: ${sentence}\n`);
  mkdirSync(options.data, { recursive: true });
  writeFileSync(note, `${JSON.stringify({ url: running.url, pid: process.pid })}\n`);
  closeOnSignals(running, () => {
    rmSync(note, { force: true });
    process.exit(EXIT.ok);
  });
  const demo = running.seeded?.outcome === 'seeded';
  return { outcome: 'started', url: running.url, demo, sharing: running.sharing.standing() };
}

async function startOnFreePort({ data, host, port, allowedHosts, demo = true, ...sharing }: Serving) {
  const { StartError, startServer } = await import('@pourline/server');
  const start = (on: number) =>
    tellStoreFaults(() =>
      startServer({
        file: join(data, DATABASE),
        webRoot: inCheckout('web/dist'),
        host,
        port: on,
        allowedHosts,
        share: sharing.share,
        sharing: { host: sharing.shareHost, port: sharing.sharePort },
        ...(demo ? { demo: inCheckout('examples/demo-campaign.json') } : {}),
      }),
    );
  const last = port ?? FIRST_PORT + MORE_PORTS;
  for (let on = port ?? FIRST_PORT; ; on++) {
    try {
      return await start(on);
    } catch (error) {
      if (!(error instanceof StartError)) throw error;
      if (on >= last || !isTaken(error)) throw new Stop(EXIT.notFound, error.message);
    }
  }
}

const isTaken = (error: Error): boolean => error.message.includes('is taken');
