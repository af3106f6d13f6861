/** Curves of brews and of the engine's own error. */
import bath from '../../reference/moroney-2016/suspension.json' with { type: 'json' };
import { immersionYieldAt } from './brews.ts';
import { fractions } from './checks/brewing.ts';
import { RIG_GRINDS, stirredSuspension, suspensionRise } from './checks/immersion.ts';
import type { ConvergenceTable } from './convergence.ts';
import { curve, type NamedPlot, type Points, thinned } from './curves.ts';
import type { Series } from './svg.ts';

type Grind = (typeof bath.grinds)[number];

export function suspension(): NamedPlot {
  const [FINE, COARSE] = bath.grinds as [Grind, Grind];
  const published = (g: Grind) => (t: number) =>
    1 - (1 - g.inside_share) * Math.exp(-t / g.fast_s) - g.inside_share * Math.exp(-t / g.slow_s);
  const engine = (grind: keyof typeof RIG_GRINDS): Points => {
    const { time, rise } = suspensionRise(stirredSuspension(RIG_GRINDS[grind], 90, 1_024, 0.5));
    return thinned(Float64Array.from(time), Float64Array.from(rise), 500).filter(([t]) => t >= 1);
  };
  const times = Array.from({ length: 91 }, (_, i) => 10 ** (i / 30));
  return {
    name: 'suspension',
    checks: 'C8',
    plot: {
      title: 'Stirred suspension, 60 g in half a litre at 90 °C',
      description:
        'Release as a share of the final against time: published time constants and engine, fine and coarse.',
      x: { label: 'time [s]', from: 1, to: 1_000, log: true },
      y: { label: 'released, share of the final', from: 0, to: 1.05 },
      series: [
        {
          name: 'fine, published',
          style: 'line',
          colour: 0,
          points: curve(times, published(FINE)),
        },
        { name: 'engine', style: 'dashed', colour: 0, points: engine('fine') },
        {
          name: 'coarse, published',
          style: 'line',
          colour: 1,
          points: curve(times, published(COARSE)),
        },
        { name: 'engine', style: 'dashed', colour: 1, points: engine('coarse') },
      ],
    },
  };
}

export function immersion(): NamedPlot {
  const ratios = [10, 12, 15, 18, 20];
  const at = (celsius: number): Points =>
    ratios.map((ratio) => [ratio, immersionYieldAt(ratio, celsius) * 100]);
  return {
    name: 'immersion',
    checks: 'C3, C5',
    plot: {
      title: 'Long immersion: yield against brew ratio',
      description:
        'Yield of half an hour of immersion at three temperatures; published: about 21 % at any ratio.',
      x: { label: 'water over coffee', from: 9, to: 21 },
      y: { label: 'yield [%]', from: 14, to: 26 },
      band: { from: 20, to: 22, name: 'published, 21 ± 1 %' },
      series: [
        { name: 'engine, 80 °C', style: 'dots', colour: 0, points: at(80) },
        { name: '92 °C', style: 'line', colour: 2, points: at(92) },
        { name: '99 °C', style: 'dots', colour: 1, points: at(99) },
      ],
    },
  };
}

export function halfMinutes(): NamedPlot {
  const means = fractions();
  return {
    name: 'fractions',
    checks: 'C18',
    plot: {
      title: 'Strength of each half minute of a steady drip',
      description: 'Mean strength of eight half minutes, 30 g under 2 g/s at 93 °C.',
      x: { label: 'half minute of the drip, in order', from: 0.5, to: 8.5 },
      y: { label: 'strength [%]', from: 0, to: Math.ceil(Math.max(...means)) },
      series: [{ name: 'engine', style: 'line', colour: 0, points: means.map((m, i) => [i + 1, m]) }],
    },
  };
}

/** What each halving of the step still changes, of all quantities over their first. */
export function convergencePlot(tables: readonly ConvergenceTable[]): NamedPlot {
  const steps = tables.filter((t) => t.what === 'step');
  const relative = (t: ConvergenceTable): Points =>
    t.rows.map((row, i) => [2 ** i, row.change / t.rows[0]!.change]);
  return {
    name: 'order',
    checks: 'order in time',
    plot: {
      title: 'What each halving of the step still changes',
      description: 'Change over the first change against refinement; a line of second order for comparison.',
      x: { label: 'refinement of the step', from: 1, to: 10, log: true },
      y: { label: 'change over the first', from: 1e-3, to: 1.5, log: true },
      series: [
        ...steps.map((t, k): Series => ({ name: t.id, style: 'line', colour: k, points: relative(t) })),
        {
          name: 'second order',
          style: 'dashed',
          colour: 5,
          points: [
            [1, 1],
            [8, 1 / 64],
          ],
        },
      ],
    },
  };
}
