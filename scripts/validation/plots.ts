/** The curves of the report: published or exact, and the engine's. */
import {
  COARSE_RIG,
  columnOutflow,
  coolingCurve,
  coolingVessel,
  type Drain,
  drainHead,
  drainingBed,
  FINE_RIG,
  type Outflow,
  outflowOf,
  packedBed,
  publishedOutlet,
  pulse,
  type Rig,
  type RigFilling,
  releasedIntoBath,
  releasedIntoSink,
  releasedShare,
  rigStart,
  sphereBath,
  sphereColumn,
} from '../../core/src/brew/reduced/index.ts';
import { runCase } from '../../core/src/brew/run.ts';
import { halfMinutes, immersion, suspension } from './brew-plots.ts';
import { rigOutflow } from './checks/columns.ts';
import { curve, grid, type NamedPlot, type Points, thinned } from './curves.ts';
import type { Series } from './svg.ts';

const outflowPoints = (out: Outflow, n: number): Points => thinned(out.time, out.concentration, n);

/** All plots but the one of convergence. */
export function plots(): NamedPlot[] {
  return [
    spheres(),
    washedColumn(),
    rig(FINE_RIG, 'rested'),
    rig(COARSE_RIG, 'clean'),
    suspension(),
    immersion(),
    drains(),
    cooling(),
    pulses(),
    halfMinutes(),
  ];
}

function spheres(): NamedPlot {
  const taus = Array.from({ length: 61 }, (_, i) => 10 ** (-3 + (i * 3) / 60));
  const measured = taus.filter((_, i) => i % 6 === 0 && i > 0);
  const engine = (alpha: number): Points =>
    measured.map((tau) => {
      const c = sphereBath({ diameter: 1e-3, diffusivity: 1e-9, alpha, tau }, 200);
      return [tau, (releasedShare(c, runCase(c)) * (1 + alpha)) / alpha];
    });
  const pair = (name: string, colour: number, alpha: number, exact: (tau: number) => number): Series[] => [
    { name: `${name}, exact`, style: 'line', colour, points: curve(taus, exact) },
    { name: 'engine', style: 'dots', colour, points: engine(alpha) },
  ];
  return {
    name: 'spheres',
    checks: 'C6, C7',
    plot: {
      title: 'Diffusion out of a sphere (Crank 1975)',
      description: 'Share of the final release against dimensionless time, exact series and engine.',
      x: { label: 'τ = D t / R²', from: 1e-3, to: 1, log: true },
      y: { label: 'released, share of the final', from: 0, to: 1 },
      series: [
        ...pair('empty bath', 0, 1e7, releasedIntoSink),
        ...pair('bath α = 1', 1, 1, (tau) => releasedIntoBath(1, tau)),
      ],
    },
  };
}

function washedColumn(): NamedPlot {
  const column = sphereColumn();
  const out = outflowOf(runCase(column.case).recorder.finish(), column.rest);
  const { start } = column.theory;
  return {
    name: 'washed-column',
    checks: 'M3b',
    plot: {
      title: 'A washed column of equal spheres',
      description: 'Concentration that leaves over that at the start, exact and engine.',
      x: { label: 'time since the wash began [s]; a pore volume passes in 12 s', from: 0, to: 84 },
      y: { label: 'c / c₀', from: 0, to: 1.1 },
      series: [
        {
          name: 'exact (Laplace, Talbot)',
          style: 'line',
          colour: 0,
          points: curve(grid(0.5, 84, 160), (t) => columnOutflow(column.theory, t) / start),
        },
        {
          name: 'engine',
          style: 'dots',
          colour: 1,
          points: outflowPoints(out, 40).map(([t, c]) => [t, c / start]),
        },
      ],
    },
  };
}

function rig(rig: Rig, filling: RigFilling): NamedPlot {
  const times = grid(0.25, 120, 480);
  const bed = packedBed(rig, filling, 120);
  const published = publishedOutlet(rig, bed.start, times, 200);
  const papers = publishedOutlet(rig, rigStart(rig, 1), times, 200);
  const series: Series[] = [
    {
      name: 'published equations',
      style: 'line',
      colour: 0,
      points: times.map((t, i) => [t, published[i]!]),
    },
    { name: 'engine', style: 'dots', colour: 1, points: outflowPoints(rigOutflow(rig, filling, 120), 60) },
    {
      name: 'exact linear bed',
      style: 'dashed',
      colour: 2,
      points: curve(grid(0.5, 120, 240), (t) => columnOutflow(bed.theory, t)),
    },
  ];
  if (filling === 'clean')
    series.push({
      name: 'equations, pores saturated',
      style: 'dashed',
      colour: 5,
      points: times.map((t, i) => [t, papers[i]!]),
    });
  return {
    name: `rig-${rig.name}`,
    checks: 'M3a, M3a-published, C10',
    plot: {
      title: `Outlet of the ${rig.name} packed bed, 250 mL/min at 90 °C`,
      description:
        'Outlet concentration against time: published equations, their linear form, engine. Measured points could not be had.',
      x: { label: 'time [s]', from: 0, to: 120 },
      y: { label: 'outlet concentration [kg/m³]', from: 0, to: filling === 'clean' ? 220 : 250 },
      series,
    },
  };
}

function drains(): NamedPlot {
  const bed = (celsius: number): Drain => ({
    permeability: 2e-11,
    depth: 0.03,
    head: 0.04,
    temperature: celsius + 273.15,
  });
  const pair = (celsius: number, colour: number): Series[] => {
    const { time_s, head_mm } = runCase(drainingBed(bed(celsius))).recorder.finish();
    return [
      {
        name: `${celsius} °C, exact`,
        style: 'line',
        colour,
        points: curve(grid(0, 140, 140), (t) => drainHead(bed(celsius), t) * 1e3),
      },
      {
        name: 'engine',
        style: 'dots',
        colour,
        points: thinned(time_s, head_mm, 24).filter(([, h]) => h > 0.05),
      },
    ];
  };
  return {
    name: 'drain',
    checks: 'C13',
    plot: {
      title: 'A saturated flat bed draining',
      description: 'Head over the bed against time at two temperatures, exact and engine.',
      x: { label: 'time [s]', from: 0, to: 140 },
      y: { label: 'head [mm]', from: 0, to: 42 },
      series: [...pair(90, 1), ...pair(20, 0)],
    },
  };
}

function cooling(): NamedPlot {
  const vessel = coolingVessel();
  const { time_s, bed_middle_C, wall_C } = runCase(vessel.case).recorder.finish();
  return {
    name: 'cooling',
    checks: 'M4',
    plot: {
      title: 'A closed vessel that warms its wall and the air',
      description: 'Temperature of contents and wall against time, exact and engine.',
      x: { label: 'time [s]', from: 0, to: 900 },
      y: { label: 'temperature [°C]', from: 20, to: 100 },
      series: [
        {
          name: 'contents, exact',
          style: 'line',
          colour: 1,
          points: curve(grid(0, 900, 180), (t) => coolingCurve(vessel, t)),
        },
        { name: 'contents, engine', style: 'dots', colour: 0, points: thinned(time_s, bed_middle_C, 30) },
        { name: 'wall, engine', style: 'dashed', colour: 5, points: thinned(time_s, wall_C, 200) },
      ],
    },
  };
}

function pulses(): NamedPlot {
  const one = (cells: number, dispersivity: number): Points => {
    const p = pulse(cells, dispersivity);
    const { time_s, drip_C } = runCase(p.case).recorder.finish();
    return thinned(time_s, drip_C, 800).map(([t, T]) => [t - p.enters, (T - 90) * 1e3]);
  };
  return {
    name: 'pulse',
    checks: 'M5',
    plot: {
      title: 'A warm second in a steady flow',
      description: 'Warmth of the drip against time since the pulse entered, for two dispersivities.',
      x: { label: 'time since the pulse entered [s]; head and pore volume take 12.9 s', from: 0, to: 30 },
      y: { label: 'drip over the rest [mK] of 100', from: 0, to: 25 },
      series: [
        { name: '50 cells, no dispersivity', style: 'line', colour: 0, points: one(50, 0) },
        { name: '50 cells, 0.6 mm', style: 'dashed', colour: 2, points: one(50, 0.6e-3) },
        { name: '25 cells, 1.2 mm', style: 'line', colour: 1, points: one(25, 1.2e-3) },
      ],
    },
  };
}
