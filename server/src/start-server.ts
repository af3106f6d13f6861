import type { AddressInfo } from 'node:net';
import { openStore, type Store } from '@pourline/store';
import type { FastifyInstance } from 'fastify';
import { createDoors, type ServerOptions } from './create-server.ts';
import { hostName, isLoopbackName } from './guard.ts';
import { LIMITS } from './limits.ts';
import { ProblemError } from './problem.ts';
import { type SeedResult, seedIfEmpty } from './seed.ts';
import type { Sharing } from './tasting/sharing.ts';

/** Where the server listens when nobody says otherwise. */
export const DEFAULT_HOST = '127.0.0.1';
export const DEFAULT_PORT = 4700;

export interface StartOptions extends Omit<ServerOptions, 'store'> {
  /** Path of the database; made when it is not there. */
  file: string;
  /** Default {@link DEFAULT_HOST}. Any other than a loopback address needs `allowedHosts`. */
  host?: string | undefined;
  /** Default {@link DEFAULT_PORT}; 0 takes any free one. */
  port?: number | undefined;
  /** Open the door for other machines at once. */
  share?: boolean | undefined;
  /** Archive, or the path of one, for a store without a campaign. */
  demo?: unknown;
}

/** A server that listens. */
export interface Running {
  /** Address to open in a browser, such as `http://localhost:4700/`. */
  url: string;
  port: number;
  app: FastifyInstance;
  store: Store;
  /** The door for other machines. */
  sharing: Sharing;
  /** What became of the demo campaign; undefined when none was given. */
  seeded: SeedResult | undefined;
  /** Ends open streams, gives running requests a few seconds to finish, closes server and database. */
  close(): Promise<void>;
}

/** Why a server could not start. The message is a sentence for a person. */
export class StartError extends Error {
  override readonly name = 'StartError';
}

/**
 * Opens the database and listens.
 * @throws StartError when it cannot listen there; StoreError when the database cannot be opened
 */
export async function startServer(options: StartOptions): Promise<Running> {
  const { file, host = DEFAULT_HOST, port = DEFAULT_PORT, demo, share, ...rest } = options;
  refuseOpenDoor(host, options.allowedHosts);
  const store = await openStore({ file });
  let app: FastifyInstance | undefined;
  try {
    const seeded = demo === undefined ? undefined : await seedIfEmpty(store, demo);
    const doors = await createDoors({ ...rest, store });
    app = doors.app;
    const server = app;
    await server.listen({ host, port });
    if (share === true) await doors.sharing.start();
    const taken = (server.server.address() as AddressInfo).port;
    const name = options.allowedHosts?.[0] ?? (host === DEFAULT_HOST ? 'localhost' : host);
    const close = async (): Promise<void> => {
      const force = setTimeout(() => server.server.closeAllConnections(), LIMITS.closing_ms);
      await server.close().finally(() => clearTimeout(force));
      await store.close();
    };
    return {
      url: `http://${name}:${taken}/`,
      port: taken,
      app: server,
      store,
      sharing: doors.sharing,
      seeded,
      close,
    };
  } catch (error) {
    await app?.close();
    await store.close();
    throw startError(error, host, port);
  }
}

/** There is no login yet, so only this machine may reach the server unless somebody names who else may. */
function refuseOpenDoor(host: string, allowedHosts: readonly string[] | undefined): void {
  const name = hostName(host.includes(':') && !host.startsWith('[') ? `[${host}]` : host);
  if ((name !== undefined && isLoopbackName(name)) || (allowedHosts ?? []).length > 0) return;
  throw new StartError(
    `Host ${host} lets other machines in, and there is no login. Leave it out, or name the hosts that are allowed.`,
  );
}

function startError(error: unknown, host: string, port: number): unknown {
  if (error instanceof ProblemError) return new StartError(error.message);
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  if (code === 'EADDRINUSE')
    return new StartError(`Port ${port} is taken by another program. Stop it, or start with another port.`);
  if (code === 'EACCES') return new StartError(`Port ${port} may not be used. Choose one above 1023.`);
  if (code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND')
    return new StartError(`This machine has no address ${host}. Leave the host out to use ${DEFAULT_HOST}.`);
  if (code === 'ERR_SOCKET_BAD_PORT')
    return new StartError(`Port ${port} is not one; use 1 to 65535, or 0 for any.`);
  return error;
}

/**
 * Closes the server when the process is asked to end (Ctrl-C, SIGTERM). A second signal ends it at once, which loses
 * nothing either.
 */
export function closeOnSignals(running: Running, then: () => void = () => process.exit(0)): void {
  const stop = (): void => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.off(signal, stop);
    running.close().then(then, (error: unknown) => {
      console.error(error);
      process.exit(1);
    });
  };
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, stop);
}
