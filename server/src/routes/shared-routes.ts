import type { FastifyInstance } from 'fastify';
import { hostRoutes } from '../tasting/host-routes.ts';
import type { Uploads } from '../uploads.ts';
import { aboutRoutes } from './about.ts';
import { attachmentRoutes } from './attachments.ts';
import type { Context } from './context.ts';
import { documentRoutes } from './documents.ts';
import { eventRoutes } from './events.ts';

/** Routes behind both doors: the owner's, and that of paired devices as far as their role goes. */
export function sharedRoutes(app: FastifyInstance, context: Context, uploads: Uploads): void {
  aboutRoutes(app, context);
  documentRoutes(app, context);
  eventRoutes(app, context);
  attachmentRoutes(app, context, uploads);
  hostRoutes(app, context);
}
