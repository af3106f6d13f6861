import type { Draw } from '../../core/src/brew/spread.ts';
import drainRun from '../../reference/drain-run/run.json' with { type: 'json' };
import drained from '../../reference/drained-bed/held.json' with { type: 'json' };
import liang from '../../reference/liang-2021/reported.json' with { type: 'json' };
import suspension from '../../reference/moroney-2016/suspension.json' with { type: 'json' };
import mug from '../../reference/open-mug/mug.json' with { type: 'json' };
import { fourPours, immersionYield, mugLoss, plainBrew, releaseCurve, timedRun } from './rigs.ts';

/** A published figure and what the engine says of it. */
export interface Figure {
  name: string;
  unit: string;
  published: number;
  /** Half-width that counts as right: one residual is the miss over this. */
  tolerance: number;
  engine: number;
  /** Where the figure comes from, and how sure that is. */
  source: string;
}

const MOR16 = 'Moroney et al. 2016, second-hand';
const LIANG = 'Liang et al. 2021, abstract read';

/** The curve is second-hand and its grind rebuilt from two figures: a tenth of the final release is as near as it can be read. */
const CURVE_TOLERANCE = 0.1;

const curve = (index: number, draw: Draw): Figure[] => {
  const grind = suspension.grinds[index]!;
  const { moments, published, engine } = releaseCurve(grind, draw);
  return moments.map((t, i) => ({
    name: `stirred bath, ${grind.name}: given after ${t} s`,
    unit: 'of final',
    published: published[i]!,
    tolerance: CURVE_TOLERANCE,
    engine: engine[i]!,
    source: MOR16,
  }));
};

const yieldAt = (ratio: number, temperature_C: number, draw: Draw): Figure => ({
  name: `immersion ${ratio} : 1 at ${temperature_C} °C: yield`,
  unit: 'of dose',
  published: liang.yield,
  tolerance: liang.yield_tolerance,
  engine: immersionYield(ratio, temperature_C, draw),
  source: LIANG,
});

/** What the free constants are fitted to. */
export function fitted(draw: Draw): Figure[] {
  const run = timedRun(draw);
  return [
    ...curve(0, draw),
    yieldAt(15, 92, draw),
    {
      name: 'cone, drained: liquid held',
      unit: 'g/g',
      published: drained.held_g_g,
      tolerance: drained.tolerance_g_g,
      engine: run.held_g_g,
      source: 'teaching text, read; rule of thumb, common practice',
    },
    {
      name: 'timed run: all through',
      unit: 's',
      published: drainRun.all_through_s,
      tolerance: drainRun.tolerance_s,
      engine: run.over_s,
      source: 'one run in a trade text, read, weak; dripper and water ours',
    },
    {
      name: 'open mug near 90 °C: loss',
      unit: 'W',
      published: mug.loss_W,
      tolerance: mug.tolerance_W,
      engine: mugLoss(draw),
      source: 'informal experiment, read; width assumed',
    },
  ];
}

/** What is left out of the fit and only looked at. */
export function leftOut(draw: Draw): Figure[] {
  const four = fourPours(draw);
  const plain = plainBrew(draw);
  const range = (
    name: string,
    unit: string,
    low: number,
    high: number,
    engine: number,
    source: string,
  ): Figure => ({
    name,
    unit,
    published: (low + high) / 2,
    tolerance: (high - low) / 2,
    engine,
    source,
  });
  return [
    ...curve(1, draw),
    ...[10, 12, 18, 20].map((ratio) => yieldAt(ratio, 92, draw)),
    ...[80, 99].map((temperature) => yieldAt(15, temperature, draw)),
    range(
      'four pours, flat: surface on the bed after the last',
      's',
      20,
      60,
      four.after_last_s,
      'common practice',
    ),
    range('four pours, flat: liquid held', 'g/g', 2, 2.5, four.held_g_g, 'teaching text, read'),
    range(
      'plain cone brew 16.7 : 1: strength',
      '%',
      1.15,
      1.35,
      plain.strength_pct,
      'chart box, read; recipe from memory',
    ),
    range(
      'plain cone brew 16.7 : 1: yield',
      '%',
      18,
      22,
      plain.yield_pct,
      'chart box, read; recipe from memory',
    ),
    range('plain cone brew: total time', 's', 150, 240, plain.end_s, 'usual target, from memory'),
    range('plain cone brew: caffeine', 'g/L', 0.55, 0.7, plain.caffeine_g_L, 'composition, from memory'),
  ];
}

/** Misses in tolerances; a figure that does not exist counts as ten. */
export const residual = ({ engine, published, tolerance }: Figure): number =>
  Number.isFinite(engine) ? (engine - published) / tolerance : 10;

/** Root mean square of the residuals: 1 is right to the tolerance on the whole. */
export const misfit = (figures: readonly Figure[]): number =>
  Math.sqrt(figures.reduce((sum, figure) => sum + residual(figure) ** 2, 0) / figures.length);
