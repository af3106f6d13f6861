import type { AddressInfo } from 'node:net';
import type { Sharing as Told } from '@pourline/core';
import type { FastifyInstance } from 'fastify';
import { ProblemError, problemDetails } from '../problem.ts';
import { networkAddresses } from './addresses.ts';
import { TASTER_PAGE } from './taster-pages.ts';

/** Where the shared door is tried first, and how many ports after it. */
export const FIRST_SHARED_PORT = 4760;
const MORE_PORTS = 20;

export interface SharingOptions {
  /** Address to listen on. Default: all of this machine's. */
  host?: string | undefined;
  /** Exactly this port, 0 for any; default the first free one from {@link FIRST_SHARED_PORT}. */
  port?: number | undefined;
}

/** How long a running request may still take when the door is closed [ms]. */
const CUT_OFF_MS = 300;

/** The door for other machines: closed until somebody opens it on purpose. */
export class Sharing {
  readonly #make: () => Promise<FastifyInstance>;
  readonly #options: SharingOptions;
  #app: FastifyInstance | undefined;
  #port = 0;
  /** One opening or closing after another. */
  #last: Promise<unknown> = Promise.resolve();

  /** @param make makes the server behind the door */
  constructor(make: () => Promise<FastifyInstance>, options: SharingOptions) {
    this.#make = make;
    this.#options = options;
  }

  /** Opens the door; nothing happens when it is open. */
  start(): Promise<Told> {
    return this.#next(async () => {
      if (this.#app) return;
      try {
        await this.#listen();
      } catch (error) {
        throw cannotShare(error);
      }
    });
  }

  /** Closes the door and ends every connection through it. */
  stop(): Promise<Told> {
    return this.#next(async () => {
      const app = this.#app;
      this.#app = undefined;
      if (!app) return;
      const force = setTimeout(() => app.server.closeAllConnections(), CUT_OFF_MS);
      await app.close().finally(() => clearTimeout(force));
    });
  }

  get open(): boolean {
    return this.#app !== undefined;
  }

  /** Where other machines reach the taster's page; empty while the door is closed. */
  addresses(): string[] {
    if (!this.#app) return [];
    const { host } = this.#options;
    const hosts = host === undefined || host === '0.0.0.0' ? networkAddresses() : [host];
    return hosts.map((name) => `http://${name}:${this.#port}${TASTER_PAGE}`);
  }

  /** How things stand, in words. */
  standing(): Told {
    const addresses = this.addresses();
    if (!this.#app)
      return { shared: false, addresses, says: ['Only this machine can reach Pourline. Nothing is shared.'] };
    return {
      shared: true,
      addresses,
      says: [
        addresses.length > 0
          ? `Every device in the same network can reach the tasters’ page at ${addresses.join(' or ')}.`
          : 'The door is open, but this machine is in no network just now, so nobody can reach it.',
        'There they find the page for tasters and nothing else; to join, they need the code of a session. Devices that you paired as host or coach see what their role allows.',
        'The connection is not encrypted: share only in a network whose people you trust.',
        'To stop, end sharing here, or stop the program; everybody is cut off at once.',
      ],
    };
  }

  /** Names by which the shared door may be called: this machine's addresses as numbers, which no foreign page can claim. */
  names(): string[] {
    const { host } = this.#options;
    return host === undefined || host === '0.0.0.0' ? networkAddresses() : [host];
  }

  async #next(work: () => Promise<void>): Promise<Told> {
    const run = this.#last.then(work);
    this.#last = run.catch(() => undefined);
    await run;
    return this.standing();
  }

  async #listen(): Promise<void> {
    const { host = '0.0.0.0', port } = this.#options;
    const last = port ?? FIRST_SHARED_PORT + MORE_PORTS;
    for (let on = port ?? FIRST_SHARED_PORT; ; on++) {
      const app = await this.#make();
      try {
        await app.listen({ host, port: on });
        this.#port = (app.server.address() as AddressInfo).port;
        this.#app = app;
        return;
      } catch (error) {
        await app.close();
        const taken = error instanceof Error && 'code' in error && error.code === 'EADDRINUSE';
        if (!taken || on >= last) throw error;
      }
    }
  }
}

function cannotShare(error: unknown): ProblemError {
  const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown';
  return new ProblemError(
    problemDetails(
      503,
      'cannot-share',
      'Cannot share',
      code === 'EADDRINUSE'
        ? 'Every port for sharing is taken by other programs. Stop one of them, or start with another --share-port.'
        : `The door for other machines cannot be opened (${code}). Nothing is shared.`,
    ),
  );
}
