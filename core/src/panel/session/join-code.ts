import type { Chance } from '../random.ts';

/** Letters and digits of a join code: none that looks like another, no vowels, so that no words come up. */
const LETTERS = '23456789BCDFGHJKMNPQRSTVWXZ';

/** Characters of a join code: 27⁶ ≈ 387 million codes; short for a thumb, and tries are few. */
const LENGTH = 6;

/** A join code. `chance` must be one that nobody can foresee. */
export const makeJoinCode = (chance: Chance): string =>
  Array.from({ length: LENGTH }, () => LETTERS[chance.whole(0, LETTERS.length - 1)]).join('');

/** A code as it was typed, brought to how codes are written: capitals, without spaces and dashes. */
export const tidyCode = (typed: string): string => typed.toUpperCase().replaceAll(/[\s\-–—._]/g, '');

/** How names are compared at a table: without capitals, accents and outer spaces. */
export const sameName = (name: string): string =>
  name.normalize('NFKD').replaceAll(/\p{M}/gu, '').replaceAll(/\s+/g, ' ').trim().toLowerCase();
