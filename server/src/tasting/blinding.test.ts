import { describe, expect, it, vi } from 'vitest';
import { blindCases, expectBlind } from '../../test/blind-cases.ts';
import { halls } from '../../test/tasting.ts';

// Dozens of requests, each on disk before it is answered; generous, for a machine that is busy with other things.
vi.setConfig({ testTimeout: 120_000 });

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
