/** The brews of extremes.test.ts at the resolutions that take longer. */
import { describe, expect, it } from 'vitest';
import { simulate } from './simulate.ts';
import { EXTREMES } from './testing/extreme-bundles.ts';
import { unsound } from './testing/unsound.ts';

const SLOW = process.env.POURLINE_SLOW === '1';

describe.runIf(SLOW).each(EXTREMES)('$name', { timeout: 120_000 }, ({ bundle, says }) => {
  it.each(['standard', 'reference'] as const)('is sound at %s resolution', (resolution) => {
    const result = simulate(bundle(), { resolution });
    expect(unsound(result)).toEqual([]);
    expect(result.remarks.map((remark) => remark.code)).toEqual(expect.arrayContaining([...says]));
  });
});
