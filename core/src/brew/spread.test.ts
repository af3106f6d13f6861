import { describe, expect, it } from 'vitest';
import { compileCase } from './compile.ts';
import { defaultParameters, PARAMETERS } from './parameters.ts';
import { HELD_LEVEL, SOLUTE_CONSTANT_NAMES, SOLUTE_CONSTANTS, SOLUTES } from './solutes.ts';
import { caseOf, defaultDraw, drawAt, spreadValue, UNCERTAIN } from './spread.ts';
import { demoBundle } from './testing/demo-bundle.ts';

describe('constants of the solutes', () => {
  it.each(
    SOLUTE_CONSTANTS.flatMap((s) => SOLUTE_CONSTANT_NAMES.map((name) => [s.key, name, s[name]] as const)),
  )(
    '%s: %s lies within its range, and says what it means and where it comes from',
    (_, __, { value, low, high, unit, meaning, source }) => {
      expect(low).toBeLessThan(value);
      expect(value).toBeLessThan(high);
      for (const words of [unit, meaning, source]) expect(words).not.toBe('');
    },
  );
  it('keep small molecules within the fitted effective diffusivities, 1–6·10⁻¹⁰ m²/s (from memory)', () => {
    for (const { diffusivity } of SOLUTES) {
      expect(diffusivity).toBeGreaterThan(1e-10);
      expect(diffusivity).toBeLessThan(6e-10);
    }
  });
});

describe('a draw', () => {
  it('in the middle of everything is the default, bit for bit', () => {
    const middle = drawAt(UNCERTAIN.map(() => 0.5));
    expect(middle).toEqual(defaultDraw());
    const bundle = demoBundle();
    expect(caseOf(bundle, middle, 'draft')).toEqual(compileCase(bundle, defaultParameters(), 'draft'));
  });
  it('reaches both ends of a range, evenly on either side of the default', () => {
    const range = PARAMETERS.paperResistance;
    expect(spreadValue(range, 0)).toBe(range.low);
    expect(spreadValue(range, 1)).toBe(range.high);
    expect(spreadValue(range, 0.25)).toBeCloseTo((range.low + range.value) / 2, 3);
  });
  it('moves what it says and leaves the sum of what is extractable alone', () => {
    const bundle = demoBundle();
    const base = compileCase(bundle, defaultParameters(), 'draft');
    const u = UNCERTAIN.map(({ id }) => (['share.chlorogenic', 'held.acids', 'held'].includes(id) ? 1 : 0.5));
    const drawn = caseOf(bundle, drawAt(u), 'draft');
    const sum = (c: typeof base) => c.solutes.reduce((total, s) => total + s.extractable, 0);
    expect(sum(drawn) / sum(base)).toBeCloseTo(1, 12);
    const at = (c: typeof base, key: string) => c.solutes.find((s) => s.key === key)!;
    const share = (c: typeof base) => at(c, 'chlorogenic').extractable / at(c, 'caffeine').extractable;
    expect(share(drawn) / share(base)).toBeCloseTo(4.5 / 2.5, 12);
    const hold = (key: string) => at(drawn, key).partition / at(base, key).partition;
    const { value, high } = SOLUTE_CONSTANTS.find(({ key }) => key === 'acids')!.held;
    expect(hold('acids')).toBeCloseTo((high / value) * HELD_LEVEL.high, 12);
    expect(hold('sugars')).toBeCloseTo(HELD_LEVEL.high, 12);
    expect(at(drawn, 'sugars').diffusivity).toBe(at(base, 'sugars').diffusivity);
  });
  it('begins with the constants that tell most, each of them there', () => {
    expect(UNCERTAIN[0]!.id).toBe('diffusionFactor');
    expect(UNCERTAIN[15]!.id).toBe('jetDensityStep');
  });
  it('has a name of its own for every constant', () => {
    expect(new Set(UNCERTAIN.map(({ id }) => id)).size).toBe(UNCERTAIN.length);
  });
});
