import { describe, expect, it } from 'vitest';
import { ofAssay, ofReading, ofWeighing, weighOrDose } from './uncertainty.ts';

// Worked by hand from JCGM 100:2008 (GUM) 4.3.7 and 5.1.2, for a balance that shows 0.01 g.
describe('how sure a dose is', () => {
  it('one reading 2.89 mg, a tared weighing 4.08 mg', () => {
    expect(1000 * ofReading(0.01)).toBeCloseTo(2.887, 3);
    expect(1000 * ofWeighing(0.01)).toBeCloseTo(4.082, 3);
  });
  it.each([
    [{ salt_g: 3.697, total_g: 100 }, 0.0042, 0.00005],
    [{ salt_g: 1.8485, total_g: 500 }, 0.0022, 0.00015],
  ])('36.97 mg straight 11.0 %%, through %j %s', (concentrate, through, within) => {
    const found = weighOrDose(0.03697, 1000, 0.01, concentrate);
    expect(Math.abs(found.straight - 0.11)).toBeLessThan(0.001);
    expect(Math.abs(found.through - through)).toBeLessThan(within);
    expect(found.advice).toBe('concentrate');
    expect(found.batch_for_straight_g).toBeCloseTo((1000 * 0.0040825) / 0.02 / 0.03697, 0);
  });
  it('a kilogram of salt needs no concentrate', () => {
    expect(weighOrDose(5, 100_000, 0.01, { salt_g: 10, total_g: 100 }).advice).toBe('weigh');
  });
  it('an assay of 99 to 107 % is ± 2.3 %', () => {
    expect(ofAssay([99, 107])).toBeCloseTo(0.0231, 4);
  });
});
