/** The solver against problems with known answers: parts switched off, the same code. */
import { describe, expect, it } from 'vitest';
import retention from '../../../reference/bed-retention/retention.json' with { type: 'json' };
import balance from '../../../reference/brew-balance/check-values.json' with { type: 'json' };
import sphere from '../../../reference/crank-sphere/sphere.json' with { type: 'json' };
import drain from '../../../reference/darcy-drain/drain.json' with { type: 'json' };
import type { BrewCase } from './case.ts';
import { LIQUID_DENSITY } from './flow.ts';
import { runCase } from './run.ts';
import { blankCase } from './testing/blank-case.ts';

/** Diameter, diffusivity and the moment that make τ = D t/R². */
const DIAMETER = 1e-3;
const DIFFUSIVITY = 1e-9;
const timeAt = (tau: number): number => (tau * (DIAMETER / 2) ** 2) / DIFFUSIVITY;

/** One size in a stirred vessel with a closed outlet; `alpha` = bath over partition times grain volume. */
function stirredVessel(alpha: number, tau: number): BrewCase {
  const dose = 1e-3;
  const envelope = 616;
  const grainVolume = dose / envelope;
  const blank = blankCase();
  const bath = 0.2;
  const partition = bath / LIQUID_DENSITY / (alpha * grainVolume);
  const pores = (grainVolume / (1 - blank.bed.porosity)) * blank.bed.porosity * LIQUID_DENSITY;
  return blankCase({
    dose,
    dryMass: dose,
    sizes: [{ diameter: Float64Array.of(DIAMETER), share: Float64Array.of(1) }],
    grains: { ...blank.grains, envelopeDensity: envelope },
    outletOpens: Number.POSITIVE_INFINITY,
    actions: [{ start: 0, end: 1e6, depthShare: 1, rate: 50 }],
    initial: { saturation: 1, absorbed: 1, head: bath - pores, temperature: 363.15 },
    solutes: [
      { key: 'one', extractable: 1e-4, diffusivity: DIFFUSIVITY, activation: 0, partition, surfaceRate: 0 },
    ],
    horizon: timeAt(tau),
    numerics: {
      cells: 1,
      bins: 40,
      longestStep: timeAt(tau) / 400,
      firstStep: timeAt(tau) / 400,
      courant: 1e9,
      outputStep: timeAt(tau),
    },
  });
}

/** Share of the solute that has left the grains. */
const released = (c: BrewCase): number => runCase(c).state.totals.cellReleased[0]! / 1e-4;

describe('diffusion out of a sphere (Crank 1975, series; reference/crank-sphere)', () => {
  it.each(sphere.sink.filter((row) => row.tau >= 0.01))(
    'into a bath that stays empty: τ = $tau gives $released',
    ({ tau, released: expected }) => {
      expect(Math.abs(released(stirredVessel(1e7, tau)) - expected)).toBeLessThan(0.002);
    },
  );
  it.each(sphere.bath.flatMap((row) => row.tau.map((tau, i) => ({ ...row, tau, expected: row.share[i]! }))))(
    'into a limited bath: α = $alpha, τ = $tau gives $expected of the final share',
    ({ alpha, tau, expected }) => {
      const final = alpha / (1 + alpha);
      expect(Math.abs(released(stirredVessel(alpha, tau)) / final - expected)).toBeLessThan(0.003);
    },
  );
  it.each(sphere.bath)('comes to rest at the final share for α = $alpha', ({ alpha, final }) => {
    expect(Math.abs(released(stirredVessel(alpha, 3)) - final)).toBeLessThan(1e-4);
  });
});

describe('a saturated bed draining (Darcy, exact; reference/darcy-drain)', () => {
  it.each(drain.rows)(
    'at $temperature_C °C the surface reaches the bed after $surface_reaches_bed_s s',
    (row) => {
      const blank = blankCase();
      const area = Math.PI * blank.vessel.r0 ** 2;
      const solid = area * drain.bed_depth_m * (1 - blank.bed.porosity);
      const mass = solid * blank.grains.envelopeDensity;
      const run = runCase(
        blankCase({
          dose: mass,
          dryMass: mass,
          bed: { ...blank.bed, permeability: drain.permeability_m2 },
          initial: {
            saturation: 1,
            absorbed: 1,
            head: area * drain.head_m * LIQUID_DENSITY,
            temperature: row.temperature_C + 273.15,
          },
          server: { ...blank.server, temperature: row.temperature_C + 273.15 },
          numerics: { ...blank.numerics, longestStep: 0.05, outputStep: 1 },
        }),
      );
      expect(Math.abs(run.headGone! / row.surface_reaches_bed_s - 1)).toBeLessThan(drain.tolerance);
    },
  );
});

describe('a saturated bed holds what its pores take (geometry; reference/bed-retention)', () => {
  it('holds 1.92 g per g after draining when no gap empties', () => {
    const phi = retention.grain_porosity;
    const envelope = 1400 * (1 - phi);
    const blank = blankCase();
    const run = runCase(
      blankCase({
        grains: { ...blank.grains, envelopeDensity: envelope, poreVolume: phi / envelope },
        bed: {
          ...blank.bed,
          porosity: retention.bed_porosity,
          residualSaturation: 0.99,
        },
        pours: [{ id: 'a', start: 0, end: 20, flow: 0.01, temperature: 363.15, mixingDepth: 0, power: 0 }],
      }),
    );
    const s = run.state;
    let held = 0;
    for (let i = 0; i < s.nodes; i++) held += s.water[i]! + s.absorbed[i]!;
    expect(run.headGone).not.toBeNull();
    expect(Math.abs(held / 0.02 / retention.held_g_g - 1)).toBeLessThan(retention.tolerance);
  });
});

describe('hot water on cool grounds, nothing lost (energy balance; reference/brew-balance)', () => {
  const { coffee, tolerance, rows } = balance.mixing;
  it.each(rows)('$coffee_g g with $water_g g at $water_C °C come to $mixed_C °C', (row) => {
    const blank = blankCase();
    const dose = row.coffee_g * 1e-3;
    const run = runCase(
      blankCase({
        dose,
        dryMass: dose,
        grains: { ...blank.grains, temperature: coffee.t + 273.15, heatCapacity: coffee.heatCapacity },
        outletOpens: Number.POSITIVE_INFINITY,
        pours: [
          {
            id: 'a',
            start: 0,
            end: 5,
            flow: (row.water_g * 1e-3) / 5,
            temperature: row.water_C + 273.15,
            mixingDepth: 0,
            power: 0,
          },
        ],
        actions: [{ start: 0, end: 60, depthShare: 1, rate: 5 }],
        horizon: 60,
      }),
    );
    const s = run.state;
    for (let i = 0; i < s.nodes; i++)
      expect(Math.abs(s.temperature[i]! - row.mixed_C)).toBeLessThanOrEqual(tolerance);
  });
});
