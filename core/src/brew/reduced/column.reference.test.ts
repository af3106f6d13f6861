/** Modes 3 and 5, saturated columns at constant flow, against exact answers and published equations. */
import { beforeAll, describe, expect, it } from 'vitest';
import { runCase } from '../run.ts';
import { SPHERE_COLUMN, sphereColumn } from './chromatography.ts';
import { type Outflow, outflowOf, poreTime } from './column.ts';
import { closedSpread, columnOutflow, type LinearColumn, sphereGrains } from './column-theory.ts';
import { COARSE_RIG, FINE_RIG, publishedOutlet, RIG_FLOW, rigStart } from './double-porosity.ts';
import { packedBed, pressedBed, rigPermeability, rigPressureDrop } from './packed-bed.ts';
import { type Pulse, type PulseMoments, pulse, pulseMoments } from './pulse.ts';

/** Largest distance of an outflow from theory, over a scale. */
function worst(out: Outflow, theory: LinearColumn, scale: number): number {
  let largest = 0;
  for (let i = 0; i < out.time.length; i += 4)
    largest = Math.max(largest, Math.abs(out.concentration[i]! - columnOutflow(theory, out.time[i]!)));
  return largest / scale;
}

describe('theory of the linear column', () => {
  const grains = sphereGrains({ porosity: 0.4, partition: 1.5, diffusivity: 3e-10, radius: 150e-6 });
  const column = { poreTime: 12, start: 1, grains };
  it('comes to plug flow as dispersion goes', () => {
    const plug = { ...column, peclet: Number.POSITIVE_INFINITY };
    const distance = (peclet: number, t: number) =>
      Math.abs(columnOutflow({ ...column, peclet }, t) - columnOutflow(plug, t));
    for (const t of [20, 40, 80]) {
      expect(distance(1_000, t)).toBeLessThan(5e-3);
      expect(distance(10_000, t)).toBeLessThan(distance(1_000, t) / 8);
    }
  });
  it.each([50, Number.POSITIVE_INFINITY])('gives back all that was there, Pe = %d', (peclet) => {
    const dt = 0.5;
    let area = 0;
    for (let t = dt / 2; t < 400; t += dt) area += columnOutflow({ ...column, peclet }, t) * dt;
    expect(area / (12 * (1 + (0.6 / 0.4) * 1.5))).toBeCloseTo(1, 4);
  });
});

describe('mode 3a: the packed bed of Moroney et al. 2015 (constants from memory and second hand)', () => {
  it.each([
    { rig: FINE_RIG, drop: 2.315e5, measured: 0.05 },
    { rig: COARSE_RIG, drop: 0.673e5, measured: 0.07 },
  ])('drives 250 mL/min through the $rig.name bed at its pressure, 1 % of the formula', (row) => {
    expect(rigPressureDrop(row.rig) / row.drop).toBeCloseTo(1, 2);
    expect(Math.abs(rigPressureDrop(row.rig) / row.rig.pressureDrop - 1)).toBeLessThan(row.measured);
    const trace = runCase(pressedBed(row.rig, rigPressureDrop(row.rig))).recorder.finish();
    const flow = trace.drip_g_s.at(-1)! / 1e3 / 965.31;
    expect(flow / RIG_FLOW).toBeCloseTo(1, 2);
  });
  it('has an espresso bed between 1e-14 and 1e-13 m² (Corrochano et al. 2015)', () => {
    expect(rigPermeability(FINE_RIG)).toBeGreaterThan(1e-14);
    expect(rigPermeability(FINE_RIG)).toBeLessThan(1e-13);
  });
  it.each([
    { rig: FINE_RIG, millilitres: 22.1, seconds: 5.3 },
    { rig: COARSE_RIG, millilitres: 36.0, seconds: 8.6 },
  ])(
    'passes a pore volume of $millilitres mL in $seconds s (geometry, 1 %)',
    ({ rig, millilitres, seconds }) => {
      const time = poreTime({ ...rig, flow: RIG_FLOW });
      expect(Math.abs((time * RIG_FLOW * 1e6) / millilitres - 1)).toBeLessThan(0.01);
      expect(Math.abs(time / seconds - 1)).toBeLessThan(0.01);
    },
  );
  it('the integrator of the published equations keeps to their linear answer where surfaces are bare', () => {
    const start = { ...rigStart(FINE_RIG, 1), surface: 0 };
    const theory = packedBed(FINE_RIG, 'rested', 1).theory;
    const linear: LinearColumn = {
      ...theory,
      peclet: Number.POSITIVE_INFINITY,
      start: start.pores,
      grains: { ...theory.grains, given: (s) => theoryGiven(theory, start.inside, s) },
    };
    const times = [2, 4, 8, 20, 60, 150];
    const found = publishedOutlet(FINE_RIG, start, times);
    for (const [i, t] of times.entries())
      expect(Math.abs(found[i]! - columnOutflow(linear, t))).toBeLessThan(0.2);
  });
  it.each([
    { rig: FINE_RIG, filling: 'rested' as const },
    { rig: COARSE_RIG, filling: 'clean' as const },
  ])(
    '$rig.name, $filling: the engine keeps to the exact linear column within 2.5 % of its peak',
    ({ rig, filling }) => {
      const bed = packedBed(rig, filling, 60, 60, 1 / 32);
      const out = outflowOf(runCase(bed.case).recorder.finish(), bed.rest);
      expect(worst(out, bed.theory, Math.max(...out.concentration))).toBeLessThan(0.025);
    },
  );
});

/** What a single store holding `content` [kg/m³ of grain liquid] would give, from what it takes up. */
function theoryGiven(
  theory: LinearColumn,
  content: number,
  s: Parameters<LinearColumn['grains']['uptake']>[0],
) {
  const uptake = theory.grains.uptake(s);
  return { re: uptake.re * content, im: uptake.im * content };
}

describe('mode 3b: a washed column of equal spheres (linear chromatography, Rosen 1952; inverted after Talbot)', () => {
  it('keeps to the exact outflow within 0.5 % of the start', () => {
    const column = sphereColumn({ ...SPHERE_COLUMN, poreVolumes: 4 });
    const out = outflowOf(runCase(column.case).recorder.finish(), column.rest);
    expect(out.concentration[0]! / column.theory.start).toBeCloseTo(1, 3);
    expect(worst(out, column.theory, column.theory.start)).toBeLessThan(0.005);
  });
});

describe('mode 5: a pulse through one pore volume', () => {
  const CASES = [
    { cells: 25, dispersivity: 1.2e-3 },
    { cells: 50, dispersivity: 0.6e-3 },
    { cells: 50, dispersivity: 0 },
  ];
  let found: { p: Pulse; m: PulseMoments }[] = [];
  beforeAll(() => {
    found = CASES.map(({ cells, dispersivity }) => {
      const p = pulse(cells, dispersivity);
      return { p, m: pulseMoments(p, runCase(p.case).recorder.finish()) };
    });
  });

  it('comes out whole, and in the mean after head and one pore volume (0.1 %)', () => {
    for (const { p, m } of found) {
      expect(m.recovered).toBeCloseTo(1, 3);
      expect(Math.abs(m.mean / (p.headTime + p.poreTime) - 1)).toBeLessThan(1e-3);
    }
  });
  it('spreads by its dispersivity (van der Laan 1958, closed ends; 4 %)', () => {
    for (const [k, { p, m }] of found.entries()) {
      const { dispersivity } = CASES[k]!;
      if (dispersivity === 0) continue;
      const predicted = closedSpread(0.03 / dispersivity) * p.poreTime ** 2 + p.headTime ** 2;
      expect(Math.abs(m.variance / predicted - 1)).toBeLessThan(0.04);
    }
  });
  it('without dispersivity spreads by no more than that many stirred tanks, 1/N (10 %)', () => {
    const { p, m } = found[2]!;
    expect(m.variance).toBeLessThan(1.1 * (p.poreTime ** 2 / 50 + p.headTime ** 2));
    expect(m.variance).toBeGreaterThan(0);
  });
});
