import type { Store } from '@pourline/store';
import type { FastifyInstance } from 'fastify';
import { makeDoor, openDoor } from './door.ts';
import { LIMITS } from './limits.ts';
import { Live } from './live.ts';
import { pathOf, servePages } from './pages.ts';
import { ProblemError, problemDetails } from './problem.ts';
import { archiveRoutes } from './routes/archives.ts';
import type { Context } from './routes/context.ts';
import { sharedRoutes } from './routes/shared-routes.ts';
import { isTasterAddress } from './tasting/access.ts';
import { deviceRoutes, pairRoute } from './tasting/device-routes.ts';
import { Pairing } from './tasting/pairing.ts';
import { type Randomness, secretRandomness } from './tasting/randomness.ts';
import { makeSharedDoor } from './tasting/shared-door.ts';
import { Sharing, type SharingOptions } from './tasting/sharing.ts';
import { TASTER_PAGE } from './tasting/taster-pages.ts';
import { tasterRoutes } from './tasting/taster-routes.ts';
import { Tastings } from './tasting/tastings.ts';
import { Uploads } from './uploads.ts';

export interface ServerOptions {
  store: Store;
  /** Folder of the built web app. */
  webRoot?: string | undefined;
  /** Names, without port, by which the server may be called besides localhost. */
  allowedHosts?: readonly string[] | undefined;
  /** Fastify's logger option; default writes errors only, to stderr. */
  logger?: boolean | object | undefined;
  /** Where the door for other machines opens, when somebody opens it. */
  sharing?: SharingOptions | undefined;
  /** The server's clock [ms]; default is the machine's. */
  now?: (() => number) | undefined;
  /** Where sessions take their chance from; default is the operating system. */
  chance?: Randomness | undefined;
}

/** The server's two doors: its own, and the one for other machines, closed until it is started. */
export interface Doors {
  app: FastifyInstance;
  sharing: Sharing;
}

/** Makes the server without listening. The store stays the caller's: closing the server leaves it open. */
export async function createServer(options: ServerOptions): Promise<FastifyInstance> {
  return (await createDoors(options)).app;
}

/** {@link createServer}, with the door for other machines beside it. Closing the server closes both. */
export async function createDoors(options: ServerOptions): Promise<Doors> {
  const { store, webRoot, logger } = options;
  const allowed = new Set((options.allowedHosts ?? []).map((name) => name.toLowerCase()));
  const app = makeDoor({
    logger,
    allowedHosts: () => allowed,
    request_ms: LIMITS.request_ms,
    admit: async (request) => {
      // A taster's device that calls at the wrong address is told so, rather than let in as the owner.
      if (request.headers.authorization !== undefined && !isTasterAddress(pathOf(request)))
        throw tasterOnly();
    },
  });
  const live = new Live(store, (error) => app.log.error(error));
  const now = options.now ?? Date.now;
  const chance = options.chance ?? secretRandomness;
  const sharing = new Sharing(
    () => makeSharedDoor(context, { webRoot, logger, uploads }),
    options.sharing ?? {},
  );
  const addresses = (): string[] => (sharing.open ? sharing.addresses() : ownAddresses(app));
  const tastings = new Tastings({
    store,
    live,
    now,
    chance,
    addresses,
    onFailure: (error) => app.log.error(error),
  });
  const pairing = new Pairing(store, tastings, chance, now);
  const asker = () => ({ role: 'owner', name: 'this machine' }) as const;
  const context: Context = { store, live, tastings, pairing, sharing, now, asker };
  const uploads = new Uploads();
  app.addHook('preClose', async () => {
    live.close();
    tastings.streams.close();
    await sharing.stop();
  });
  sharedRoutes(app, context, uploads);
  archiveRoutes(app, context, uploads);
  deviceRoutes(app, context);
  pairRoute(app, context);
  tasterRoutes(app, context);
  await servePages(app, webRoot);
  return { app: await openDoor(app), sharing };
}

/** Where the taster's page is on this very machine; empty before the server listens. */
function ownAddresses(app: FastifyInstance): string[] {
  const at = app.server.address();
  return at !== null && typeof at === 'object' ? [`http://localhost:${at.port}${TASTER_PAGE}`] : [];
}

const tasterOnly = (): ProblemError =>
  new ProblemError(
    problemDetails(
      403,
      'taster-only',
      'For tasters only',
      'A device that sits at the table can only ask for what tasters see.',
    ),
  );
