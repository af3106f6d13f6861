/** Modes 1 and 2, well-mixed vessels, against known answers. */
import { describe, expect, it } from 'vitest';
import balance from '../../../../reference/brew-balance/check-values.json' with { type: 'json' };
import sphere from '../../../../reference/crank-sphere/sphere.json' with { type: 'json' };
import { runCase } from '../run.ts';
import { releasedShare } from './read.ts';
import { releasedIntoBath, releasedIntoSink } from './sphere.ts';
import { equilibriumVessel, sphereBath } from './well-mixed.ts';

const GRAIN = { diameter: 1e-3, diffusivity: 1e-9 };
const released = (alpha: number, tau: number): number => {
  const c = sphereBath({ ...GRAIN, alpha, tau });
  return releasedShare(c, runCase(c));
};
const bath = sphere.bath.flatMap((row) =>
  row.tau.map((tau, i) => ({ alpha: row.alpha, tau, expected: row.share[i]! })),
);

describe('the series of Crank 1975 are those of the table (reference/crank-sphere)', () => {
  it.each(sphere.sink)('sink, τ = $tau', ({ tau, released: expected }) => {
    expect(Math.abs(releasedIntoSink(tau) - expected)).toBeLessThan(1e-5);
  });
  it.each(bath)('bath, α = $alpha, τ = $tau', ({ alpha, tau, expected }) => {
    expect(Math.abs(releasedIntoBath(alpha, tau) - expected)).toBeLessThan(tau < 0.01 ? 1e-4 : 1e-5);
  });
});

describe('mode 1: diffusion out of a sphere (Crank 1975, series; reference/crank-sphere)', () => {
  it.each(sphere.sink.filter((row) => row.tau >= 0.01))(
    'into a bath that stays empty: τ = $tau gives $released within 0.002',
    ({ tau, released: expected }) => {
      expect(Math.abs(released(1e7, tau) - expected)).toBeLessThan(0.002);
    },
  );
  it.each(bath)('into a limited bath: α = $alpha, τ = $tau gives $expected within 0.003', (row) => {
    const final = row.alpha / (1 + row.alpha);
    expect(Math.abs(released(row.alpha, row.tau) / final - row.expected)).toBeLessThan(0.003);
  });
  it.each(sphere.bath)('comes to rest at the final share for α = $alpha', ({ alpha, final }) => {
    expect(Math.abs(released(alpha, 3) - final)).toBeLessThan(1e-4);
  });
});

describe('mode 2: equilibrium only (Liang et al. 2021; constants from memory, reference/brew-balance)', () => {
  const { K, E_max, rows } = balance.immersion;
  it.each(rows)('at $ratio : 1 the strength is $strength_pct % and the yield K E_max', (row) => {
    const c = equilibriumVessel({ ratio: row.ratio, dissolved: K, extractable: E_max });
    const solids = releasedShare(c, runCase(c)) * E_max * c.dose;
    expect(Math.abs((solids / (row.ratio * c.dose + solids)) * 100 - row.strength_pct)).toBeLessThan(0.001);
    expect(Math.abs(solids / c.dose - K * E_max)).toBeLessThan(1e-5);
  });
});
