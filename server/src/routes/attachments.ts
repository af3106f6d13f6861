import type { FastifyInstance, FastifyRequest } from 'fastify';
import { bodyChunks, refuseTooLong, tooLargeSentence } from '../body.ts';
import { UPLOAD_POLICY } from '../headers.ts';
import { LIMITS } from '../limits.ts';
import { notFound, ProblemError, unprocessable } from '../problem.ts';
import type { Uploads } from '../uploads.ts';
import { address, type Context, pathValue, queryValue } from './context.ts';

/** `/api/attachments`: files by the hash of their content. */
export function attachmentRoutes(app: FastifyInstance, { store }: Context, uploads: Uploads): void {
  address(app, '/api/attachments', {
    POST: async (request, reply) => {
      refuseTooLong(request, LIMITS.attachment_bytes, 'The file');
      const stored = await uploads.run(() =>
        store.putAttachment(bodyChunks(request), described(request), LIMITS.attachment_bytes),
      );
      if (stored.outcome === 'invalid') throw new ProblemError(unprocessable(stored.problems));
      if (stored.outcome === 'too_big')
        throw new ProblemError(tooLargeSentence('The file', LIMITS.attachment_bytes));
      return reply.code(stored.outcome === 'saved' ? 201 : 200).send(stored.attachment);
    },
  });

  address(app, '/api/attachments/:hash', {
    GET: async (request, reply) => {
      const hash = pathValue(request, 'hash');
      const found = /^[0-9a-f]{64}$/.test(hash) ? await store.getAttachment(hash) : undefined;
      if (!found)
        throw new ProblemError(notFound(`There is no attachment with the hash "${hash.slice(0, 64)}" here.`));
      return reply
        .headers({
          'content-type': found.media_type,
          'content-disposition': disposition(found.name),
          'cache-control': 'private, max-age=31536000, immutable',
          'content-security-policy': UPLOAD_POLICY,
          etag: `"${hash}"`,
        })
        .send(Buffer.from(found.bytes.buffer, found.bytes.byteOffset, found.bytes.byteLength));
    },
  });
}

function described(request: FastifyRequest): { media_type: string; name: string } {
  return {
    media_type: request.headers['content-type'] ?? 'application/octet-stream',
    name: queryValue(request, 'name') ?? 'file',
  };
}

/** Content-Disposition that saves under a name in any script, RFC 6266 and RFC 8187. */
export function disposition(name: string): string {
  const plain = name.replace(/[^\x20-\x7e]|["\\%/]/g, '_');
  const exact = encodeURIComponent(name.toWellFormed()).replace(
    /['()*]/g,
    (c) => `%${c.charCodeAt(0).toString(16).toUpperCase()}`,
  );
  return `attachment; filename="${plain}"; filename*=UTF-8''${exact}`;
}
