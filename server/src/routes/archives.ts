import { Readable } from 'node:stream';
import { archiveText } from '@pourline/store';
import type { FastifyInstance } from 'fastify';
import { readJson } from '../body.ts';
import { LIMITS } from '../limits.ts';
import { notFound, ProblemError, unprocessable } from '../problem.ts';
import type { Uploads } from '../uploads.ts';
import { disposition } from './attachments.ts';
import { address, type Context, isId, pathValue, queryValue } from './context.ts';

/** `/api/campaigns/:id/archive` and `/api/archives`: a campaign as one readable file. */
export function archiveRoutes(app: FastifyInstance, { store, live }: Context, uploads: Uploads): void {
  address(app, '/api/campaigns/:id/archive', {
    GET: async (request, reply) => {
      const id = pathValue(request, 'id');
      const archive = isId(id) ? await store.exportCampaign(id) : undefined;
      if (!archive)
        throw new ProblemError(notFound(`There is no campaign with the id "${id.slice(0, 60)}" here.`));
      const name = archive.documents.find((document) => document.id === id)?.name ?? 'campaign';
      return reply
        .headers({
          'content-type': 'application/json; charset=utf-8',
          'content-disposition': disposition(`${name}.json`),
        })
        .send(Readable.from(archiveText(archive)));
    },
  });

  address(app, '/api/archives', {
    POST: async (request, reply) => {
      const asNew = queryValue(request, 'as_new') === 'true';
      const result = await uploads.run(async () =>
        store.importArchive(await readJson(request, LIMITS.archive_bytes, 'The archive'), { asNew }),
      );
      if (result.outcome === 'invalid') throw new ProblemError(unprocessable(result.problems));
      const { outcome: _, ...counts } = result;
      if (counts.saved > 0) void live.tell();
      return reply.code(counts.saved > 0 || counts.attachments > 0 ? 201 : 200).send(counts);
    },
  });
}
