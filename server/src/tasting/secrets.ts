import { createHash, randomBytes, randomInt, timingSafeEqual } from 'node:crypto';
import type { Chance } from '@pourline/core';

/** Chance that nobody can foresee or work out from what came before: from the operating system. */
export const secretChance: Chance = {
  whole: (low, high) => randomInt(low, high + 1),
  shuffle(list) {
    for (let i = list.length - 1; i > 0; i--) {
      const j = randomInt(0, i + 1);
      [list[i], list[j]] = [list[j]!, list[i]!];
    }
    return list;
  },
};

/** A token: 256 random bits. */
export const makeToken = (): string => randomBytes(32).toString('base64url');

/** How a token is kept. It is random and long, so a plain hash is enough. */
export const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex');

/** Whether two texts are the same, in a time that does not tell how far they agree. */
export const sameSecret = (a: string, b: string): boolean =>
  timingSafeEqual(createHash('sha256').update(a).digest(), createHash('sha256').update(b).digest());
