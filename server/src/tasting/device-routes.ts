import { type PairCode, type Paired, pairCodeRequest, pairRequest, sharingRequest } from '@pourline/core';
import type { FastifyInstance } from 'fastify';
import { notFound, ProblemError } from '../problem.ts';
import { address, type Context, isId, pathValue } from '../routes/context.ts';
import { TASTING_LIMITS } from './limits.ts';
import { readChecked } from './taster-routes.ts';
import { DEVICE_COOKIE } from './who.ts';

/** `/api/sharing` and `/api/devices`: letting other machines in, and which. */
export function deviceRoutes(app: FastifyInstance, { store, pairing, sharing }: Context): void {
  address(app, '/api/sharing', {
    GET: async () => sharing.standing(),
    POST: async (request) => {
      const { share } = await readChecked(request, sharingRequest, 'The wish');
      return share ? sharing.start() : sharing.stop();
    },
  });

  address(app, '/api/devices', { GET: async () => ({ devices: await pairing.devices() }) });

  address(app, '/api/devices/codes', {
    POST: async (request, reply) => {
      const { role } = await readChecked(request, pairCodeRequest, 'The wish');
      const made: PairCode = { ...pairing.makeCode(role), addresses: sharing.addresses() };
      return reply.code(201).send(made);
    },
  });

  address(app, '/api/devices/:id/revoke', {
    POST: async (request) => {
      const id = pathValue(request, 'id');
      if (!isId(id))
        throw new ProblemError(notFound(`There is no device with the id "${id.slice(0, 60)}" here.`));
      await store.tastings.removeDevice(id);
      return { devices: await pairing.devices() };
    },
  });
}

/** `/api/devices/join`: a device shows its code and gets a cookie that scripts cannot read and other sites cannot send. */
export function pairRoute(app: FastifyInstance, { pairing }: Context): void {
  address(app, '/api/devices/join', {
    POST: async (request, reply) => {
      const { role, token } = await pairing.pair(
        await readChecked(request, pairRequest, 'The request'),
        request.ip,
      );
      const paired: Paired = { role };
      return reply
        .code(201)
        .header(
          'set-cookie',
          `${DEVICE_COOKIE}=${token}; Path=/; HttpOnly; SameSite=Strict; Max-Age=${TASTING_LIMITS.paired_s}`,
        )
        .send(paired);
    },
  });
}
