import { describe, expect, it } from 'vitest';
import { blindCases, expectBlind } from '../../test/blind-cases.ts';
import { halls } from '../../test/tasting.ts';

const hall = halls();

describe('what a taster’s device gets until closing', () => {
  // All kinds are played in the slow test beside this one.
  const cases = blindCases().filter(([test]) => test === 'three_afc');
  it.each(cases)(
    'in a session of %s holds nothing secret and does not depend on what is in the cups',
    async (_, tasting) => {
      const { exchanges, answered } = await expectBlind(hall, tasting, true);
      expect(exchanges.length).toBeGreaterThan(90);
      expect(answered).toBe(4);
    },
  );
});
