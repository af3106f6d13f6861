import { describe, expect, it } from 'vitest';
import { blindCases, expectBlind } from '../../test/blind-cases.ts';
import { halls } from '../../test/tasting.ts';

const hall = halls();

describe.runIf(process.env.POURLINE_SLOW === '1')(
  'all that a taster’s device ever gets until closing',
  () => {
    it.each(blindCases())('in a session of %s', { timeout: 120_000 }, async (test, tasting) => {
      const { exchanges, stream, answered } = await expectBlind(hall, tasting, false);
      console.log(
        `${test}: ${exchanges.length} answers, ${stream.length} bytes of stream, ${answered} ballots, three times`,
      );
      expect(exchanges.length).toBeGreaterThan(40);
    });
  },
);
