import type { Role } from '@pourline/core';
import type { Store } from '@pourline/store';
import type { FastifyRequest } from 'fastify';
import { hashOf } from './secrets.ts';

/** Through which door a request came: this machine's own, or the one that other machines reach. */
export type Door = 'own' | 'shared';

/** Name of the cookie of a paired device. */
export const DEVICE_COOKIE = 'pourline_device';

/** Who asks, and which paired device it is. */
export interface Asker {
  role: Role;
  /** For what is written down: the device's name, or "this machine". */
  name: string;
}

/** The token that a request carries in its head, or undefined. */
export function bearerOf(request: Pick<FastifyRequest, 'headers'>): string | undefined {
  const match = /^Bearer +([A-Za-z0-9_-]{1,200})$/i.exec(request.headers.authorization ?? '');
  return match?.[1];
}

/** Value of the device's cookie, or undefined. */
export function cookieOf(request: Pick<FastifyRequest, 'headers'>): string | undefined {
  const parts = (request.headers.cookie ?? '').split(/; */).map((part) => part.split('='));
  const value = parts.find(([name]) => name === DEVICE_COOKIE)?.[1];
  return value !== undefined && /^[A-Za-z0-9_-]{1,200}$/.test(value) ? value : undefined;
}

/**
 * Who asks. Whoever shows a token of a taster is a taster and nothing more, through whichever door. Through the shared door nobody is the owner,
 * not even this machine.
 */
export async function askerOf(
  request: FastifyRequest,
  door: Door,
  store: Store,
  now: number,
): Promise<Asker> {
  if (request.headers.authorization !== undefined) return { role: 'taster', name: '' };
  if (door === 'own') return { role: 'owner', name: 'this machine' };
  const token = cookieOf(request);
  const device = token === undefined ? undefined : await store.tastings.deviceByToken(hashOf(token));
  if (!device) return { role: 'anyone', name: '' };
  if (now - device.seen_at > SEEN_EVERY) await store.tastings.seeDevice(device.device_id, now);
  return { role: device.role, name: device.name };
}

/** How exactly it is known when a device was last here [ms]. */
const SEEN_EVERY = 60_000;
