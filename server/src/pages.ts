import { existsSync } from 'node:fs';
import { join } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { notFound, ProblemError } from './problem.ts';
import { TASTER_PAGE, tasterFiles } from './tasting/taster-pages.ts';

/** For files whose name carries their hash. */
export const FOREVER = 'public, max-age=31536000, immutable';
/** Kept by the browser, but asked for again each time. */
export const ASK_AGAIN = 'no-cache';

/**
 * Serves the built web app, and its first page for every address of the app itself. Files under `/assets/` carry
 * their hash in their name and never change; everything else is asked for again.
 * @param webRoot folder of the built app; when it holds none, a plain page says how to build it
 */
export async function servePages(app: FastifyInstance, webRoot: string | undefined): Promise<void> {
  const tasters = tasterFiles(webRoot).page;
  const built = webRoot !== undefined && existsSync(join(webRoot, 'index.html'));
  if (built)
    await app.register(fastifyStatic, {
      root: webRoot,
      cacheControl: false,
      dotfiles: 'ignore',
      preCompressed: true,
      setHeaders: (reply, path) => {
        const asset = path.slice(webRoot.length).replaceAll('\\', '/').startsWith('/assets/');
        void reply.header('cache-control', asset ? FOREVER : ASK_AGAIN);
      },
    });
  app.setNotFoundHandler(async (request, reply) => {
    if (!isPage(request))
      throw new ProblemError(notFound(`There is nothing at ${pathOf(request).slice(0, 120)}.`));
    if (built)
      return reply.sendFile(tasters !== null && pathOf(request) === TASTER_PAGE ? tasters : 'index.html');
    return sayHowToBuild(reply);
  });
}

/** The path without its query. */
export const pathOf = (request: Pick<FastifyRequest, 'url'>): string => request.url.replace(/[?#].*$/s, '');

/** Whether a request asks for a page of the app rather than for data or for one certain file. */
function isPage(request: FastifyRequest): boolean {
  if (request.method !== 'GET' && request.method !== 'HEAD') return false;
  const path = pathOf(request);
  const file = /\.[^/]*$/.test(path);
  return path !== '/api' && !path.startsWith('/api/') && !path.startsWith('/assets/') && !file;
}

export function sayHowToBuild(reply: FastifyReply): FastifyReply {
  return reply
    .code(200)
    .headers({ 'content-type': 'text/html; charset=utf-8', 'cache-control': 'no-store' })
    .send(`<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Pourline</title>
<h1>Pourline is running, but its pages are not built yet</h1>
<p>Stop the server, run <code>npm run build</code> in the folder of the project, and start it again.
<code>npm start</code> does both.</p>
<p>The data is safe, and its interface answers under <a href="/api/about">/api/about</a>.</p>
</html>
`);
}
