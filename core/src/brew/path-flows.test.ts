/** A bed whose water takes its ways side by side: uneven flow as parallel paths under one head. */
import { describe, expect, it } from 'vitest';
import type { BrewBundle } from '../documents/index.ts';
import type { CasePath } from './case.ts';
import { compileCase } from './compile.ts';
import { defaultParameters } from './parameters.ts';
import type { BrewResult } from './result.ts';
import { runCase } from './run.ts';
import { simulate } from './simulate.ts';
import { cupOf, evennessOf } from './summarise.ts';
import { demoBundle } from './testing/demo-bundle.ts';
import type { Run } from './watch.ts';

/** The demo plan left to drain, its grind made coarser by a factor. */
function bundleOf(coarser = 1): BrewBundle {
  const bundle = demoBundle();
  bundle.plan.lift_s = null;
  for (const grinder of Object.values(bundle.grinders))
    for (const setting of grinder.settings)
      if (setting.distribution.by === 'modes') setting.distribution.modes[0]!.median_um *= coarser;
  return bundle;
}

function along(paths: readonly CasePath[]) {
  const bundle = bundleOf();
  const c = compileCase(bundle, defaultParameters(), 'draft');
  // Steps of one length, so that what is compared was computed at the same moments.
  const numerics = { ...c.numerics, tolerance: Number.POSITIVE_INFINITY, firstStep: 0.5, longestStep: 0.5 };
  const uneven = { ...c, bed: { ...c.bed, paths }, numerics };
  const run = runCase(uneven);
  return { run, cup: cupOf(bundle, uneven, run), evenness: evennessOf(uneven, run) };
}

const brew = (flowUnevenness: number, coarser = 1): BrewResult =>
  simulate(bundleOf(coarser), {
    resolution: 'draft',
    parameters: { ...defaultParameters(), flowUnevenness },
  });

const worstClosure = ({ closure }: Run): number =>
  Math.max(closure.water, closure.enthalpy, ...closure.solutes);

describe('paths side by side', () => {
  const even = along([{ share: 1, permeability: 1 }]);

  it.each([
    ['two halves', [0.5, 0.5]],
    ['a third and two thirds', [1 / 3, 2 / 3]],
    ['three parts', [0.2, 0.3, 0.5]],
  ])('that are alike, %s, give the cup of one bed', (_, shares) => {
    const parted = along(shares.map((share) => ({ share, permeability: 1 })));
    expect(parted.cup.beverage_g).toBeCloseTo(even.cup.beverage_g, 4);
    expect(parted.cup.yield_pct).toBeCloseTo(even.cup.yield_pct, 4);
    expect(parted.cup.server_C).toBeCloseTo(even.cup.server_C, 3);
    parted.evenness.paths.forEach((path, p) => {
      expect(path.water_pct).toBeCloseTo(100 * shares[p]!, 4);
      expect(path.grounds_pct).toBeCloseTo(100 * shares[p]!, 9);
      expect(path.yield_pct).toBeCloseTo(even.evenness.paths[0]!.yield_pct, 4);
    });
  });

  it.each([
    ['two', [1.9, 0.1]],
    ['three', [1.7, 1, 0.3]],
  ])('lose nothing when %s of them differ', (_, permeabilities) => {
    const share = 1 / permeabilities.length;
    const { run, cup, evenness } = along(permeabilities.map((permeability) => ({ share, permeability })));
    expect(worstClosure(run)).toBeLessThan(1e-10);
    const waters = evenness.paths.map((path) => path.water_g);
    const solids = (cup.beverage_g * cup.strength_pct) / 100;
    const passed = waters.reduce((sum, water) => sum + water, 0);
    // What does not drip out of the bed runs past it along the wall.
    expect(passed).toBeGreaterThan(0.9 * (cup.beverage_g - solids));
    expect(passed).toBeLessThanOrEqual(cup.beverage_g - solids + 1e-9);
    expect([...waters].sort((a, b) => b - a)).toEqual(waters);
  });

  it('that run dry, flood or are stirred conserve as well', () => {
    const bundle = bundleOf(0.4);
    bundle.plan.pours = [{ ...bundle.plan.pours[0]!, water_g: 700, rate: { by: 'flow', flow_g_s: 40 } }];
    bundle.plan.actions = [{ id: 's', what: 'stir', start_s: 10, duration_s: 10 }];
    const { closure, cup } = simulate(bundle, {
      resolution: 'draft',
      parameters: { ...defaultParameters(), flowUnevenness: 0.95 },
    });
    expect(cup.spilled_g).toBeGreaterThan(10);
    expect(Math.max(closure.water, closure.enthalpy, ...closure.solutes.map((s) => s.relative))).toBeLessThan(
      1e-10,
    );
  });
});

describe('an uneven bed', () => {
  it('is one path, and as before, unless it is asked for', () => {
    const plain = simulate(bundleOf(), { resolution: 'draft' });
    expect(plain.evenness.paths).toHaveLength(1);
    expect(plain.evenness.paths[0]).toMatchObject({ grounds_pct: 100, water_pct: 100 });
    expect(plain.remarks.map((r) => r.code)).not.toContain('uneven_paths');
  });

  it('yields less than an even one at a fine grind, the more so the finer (in kind: Lee, Smith & Arshad 2023)', () => {
    const change = [1.4, 0.8, 0.5].map((f) => brew(0.9, f).cup.yield_pct / brew(0, f).cup.yield_pct - 1);
    for (let i = 1; i < change.length; i++) expect(change[i]).toBeLessThan(change[i - 1]!);
    expect(change[2]).toBeLessThan(-0.02);
  });

  it('sends more water through its faster half the more uneven it is and the finer it is ground', () => {
    const share = (u: number, f: number) => brew(u, f).evenness.paths[0]!.water_pct;
    const byUnevenness = [0.2, 0.5, 0.8].map((u) => share(u, 1));
    const byGrind = [1.4, 0.7, 0.35].map((f) => share(0.5, f));
    for (const shares of [byUnevenness, byGrind]) {
      expect(shares[0]).toBeGreaterThan(50);
      expect(shares[1]).toBeGreaterThan(shares[0]! + 1);
      expect(shares[2]).toBeGreaterThan(shares[1]! + 1);
    }
  });

  it('gives less from the half that sees less water, and says so', () => {
    const { evenness, remarks } = brew(0.8);
    const [fast, slow] = evenness.paths;
    expect(slow!.yield_pct).toBeLessThan(fast!.yield_pct);
    const said = remarks.find((r) => r.code === 'uneven_paths');
    expect(said?.values.fast).toBe(Math.round(fast!.water_pct));
    expect(said?.sentence).not.toMatch(/[{}]/);
  });
});
