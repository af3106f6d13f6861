export { createDoors, createServer, type Doors, type ServerOptions } from './create-server.ts';
export { LIMITS } from './limits.ts';
export type { ProblemDetails } from './problem.ts';
export { type SeedResult, seedIfEmpty } from './seed.ts';
export {
  closeOnSignals,
  DEFAULT_HOST,
  DEFAULT_PORT,
  type Running,
  StartError,
  type StartOptions,
  startServer,
} from './start-server.ts';
export type { Randomness } from './tasting/randomness.ts';
export { Sharing, type SharingOptions } from './tasting/sharing.ts';
export { SERVER_VERSION } from './version.ts';
