import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkKind } from '../documents/index.ts';
import type { BrewResult, Trace } from './result.ts';
import { simulate } from './simulate.ts';
import { randomBundle } from './testing/random-bundle.ts';

const RUNS = 600;
/** Quantities that may be NaN where the thing is not there (an empty head, no stream, no drip). */
const MAY_BE_ABSENT = new Set(['stream_C', 'head_C', 'drip_C', 'drip_strength_pct', 'wall_C']);
const MASSES = [
  'poured_g',
  'head_g',
  'head_mm',
  'drip_g_s',
  'beverage_g',
  'held_g',
  'strength_pct',
  'yield_pct',
  'gas_mg',
  'dissolved_mg',
  'saturation',
] as const satisfies readonly (keyof Trace)[];

/** Everything that a run breaks, in words. */
function faults(result: BrewResult): string[] {
  const { trace, cup, closure } = result;
  const found: string[] = [];
  for (const [name, values] of Object.entries(trace))
    if (values instanceof Float64Array && !MAY_BE_ABSENT.has(name) && values.some((x) => !Number.isFinite(x)))
      found.push(`${name} holds a number that is not finite`);
  for (const name of MASSES) {
    const least = trace[name].reduce((low, x) => Math.min(low, x), 0);
    if (least < -1e-9) found.push(`${name} falls to ${least}`);
  }
  for (let i = 1; i < trace.time_s.length; i++) {
    if (trace.time_s[i]! < trace.time_s[i - 1]!) found.push(`time goes back at ${trace.time_s[i]}`);
    if (trace.beverage_g[i]! < trace.beverage_g[i - 1]! - 1e-9)
      found.push(`beverage falls at ${trace.time_s[i]}`);
  }
  for (const [name, value] of Object.entries(cup))
    if (typeof value === 'number' && !Number.isFinite(value) && !name.includes('_bed_'))
      found.push(`cup.${name} is ${value}`);
  if (closure.water > 1e-10) found.push(`water closes to ${closure.water}`);
  if (closure.enthalpy > 1e-10) found.push(`enthalpy closes to ${closure.enthalpy}`);
  for (const solute of closure.solutes)
    if (solute.relative > 1e-10) found.push(`${solute.key} closes to ${solute.relative}`);
  for (const solute of cup.solutes)
    if (solute.extracted_pct < 0 || solute.extracted_pct > 100)
      found.push(`${solute.key} ${solute.extracted_pct} %`);
  return found;
}

describe('any valid plan', () => {
  it(`conserves, stays finite and never falls, over ${RUNS} random plans`, { timeout: 240_000 }, () => {
    fc.assert(
      fc.property(randomBundle, (bundle) => {
        expect(checkKind('plan', bundle.plan)).toMatchObject({ ok: true });
        expect(faults(simulate(bundle, { resolution: 'draft' }))).toEqual([]);
      }),
      { numRuns: RUNS, seed: 20_261_125 },
    );
  });

  it('shares the water and solids of the cup among the pours without remainder', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(randomBundle, (bundle) => {
        const { pours, cup } = simulate(bundle, { resolution: 'draft' });
        const water =
          pours.reduce((sum, pour) => sum + pour.water_in_cup_g, 0) + (bundle.plan.bypass?.water_g ?? 0);
        const solids = pours.reduce((sum, pour) => sum + pour.solids_g, 0);
        expect(water + solids).toBeCloseTo(cup.beverage_g, 6);
        expect(solids).toBeCloseTo((cup.beverage_g * cup.strength_pct) / 100, 6);
      }),
      { numRuns: 60, seed: 7 },
    );
  });

  it('gives the same bits twice', () => {
    const [bundle] = fc.sample(randomBundle, { numRuns: 1, seed: 3 });
    expect(simulate(bundle!)).toEqual(simulate(bundle!));
  });
});
