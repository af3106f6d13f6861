import { randomOf, sortedQuantile } from './bootstrap.ts';
import { curveAt, type GrindBand, type GrinderCurve } from './grinder-curve.ts';
import { figureOf, type GrindRemark, grindRemark } from './remarks.ts';
import { type SettingAnswer, type SettingOptions, settingFor } from './setting-for.ts';

/**
 * The setting of a second grinder that gives the sizes of a setting of the first, from the measured curves of both. The band holds
 * the doubt of both curves.
 */
export function transferBySizes(
  from: GrinderCurve,
  dial: number,
  to: GrinderCurve,
  options: SettingOptions = {},
): SettingAnswer {
  const there = curveAt(from, { dial });
  return settingFor(to, { by: 'table', table: there.table }, { ...options, target_doubt: there.doubt });
}

/** A brew on the grinder that is to be set, all else as in the brew to be matched. */
export interface TransferBrew {
  dial: number;
  drawdown_s: number | null;
  yield_pct: number | null;
}

export interface BrewTransferOrder {
  /** What the first grinder gives: means over `brews` brews of it. Null for what is not to be matched. */
  wanted: { drawdown_s: number | null; yield_pct: number | null; brews: number };
  /** Brews of the second grinder, 1 or more; 2–4 at different settings are best. */
  brews: readonly TransferBrew[];
  /** Dial reading at which the second grinder's burrs touch; 0 by default. */
  touch_dial?: number;
  /** How drawdown strays from brew to brew [%], standard deviation; 6 by default (assumed for a trained hand). */
  drawdown_repeat_pct?: number;
  /** How yield strays from brew to brew [% points]; 0.35 by default: the reading of strength alone gives about 0.15–0.4. */
  yield_repeat_pct?: number;
  draws?: number;
  seed?: number;
}

export interface BrewTransfer {
  /** The setting, by both figures together. */
  dial: GrindBand;
  /** By each figure alone; null when it was not given. */
  by_drawdown: GrindBand | null;
  by_yield: GrindBand | null;
  /** Where one more brew narrows it most. */
  next_dial: number;
  remarks: GrindRemark[];
}

const REPEATS = { drawdown: 0.06, yield: 0.35 };
/**
 * Slopes against the logarithm of the position that are leaned on until brews say better: ln(drawdown) falls by about 1.6 ± 0.8 (the
 * bed's permeability goes with the square of the size, the paper's not at all), yield by 4 ± 3 % points (assumed).
 */
const SLOPES = { drawdown: { mean: -1.6, sd: 0.8 }, yield: { mean: -4, sd: 3 } };
const DRAWS = 2_000;
const SEED = 20_260_403;

/** A straight line through brews: level and slope at the mean setting, as their exact normal posterior. */
interface Line {
  /** What is wanted, and how it scatters. */
  wanted: number;
  wantedDoubt: number;
  repeat: number;
  centre: number;
  level: number;
  levelDoubt: number;
  slope: number;
  slopeDoubt: number;
  /** Standard deviation of the slope before any brew. */
  priorDoubt: number;
}

/**
 * The setting of a second grinder that gives the drawdown and the yield of the first, from brews of both. Each figure is a straight
 * line over the dial near the brews; scatter from brew to brew is taken as known, slopes start from what is usual. The posterior is
 * exact and drawn from; slopes that rise are drawn again, since coarser is faster and weaker. Null when there is nothing to match.
 */
export function transferByBrews(order: BrewTransferOrder): BrewTransfer | null {
  const drawdown = lineOf(order, 'drawdown');
  const yielded = lineOf(order, 'yield');
  const lines = [drawdown, yielded].filter((line) => line !== null);
  if (lines.length === 0) return null;
  const { draws = DRAWS, seed = SEED } = order;
  const together = settingsOf(lines, draws, seed);
  const alone = (line: Line | null) => (line ? bandOf(settingsOf([line], draws, seed + 1)) : null);
  const dial = bandOf(together);
  const by_drawdown = alone(drawdown);
  const by_yield = alone(yielded);
  const remarks: GrindRemark[] = [];
  if (by_drawdown && by_yield) sayDisagreement(by_drawdown, by_yield, remarks);
  const tried = order.brews.map((brew) => brew.dial);
  const [low, high] = [Math.min(...tried), Math.max(...tried)];
  const next_dial = dial.mid;
  if (dial.mid < low || dial.mid > high)
    remarks.push(
      grindRemark('caution', 'transfer_far', {
        low: figureOf(low),
        high: figureOf(high),
        dial: figureOf(next_dial),
      }),
    );
  if (lines.some((line) => line.slopeDoubt > 0.8 * line.priorDoubt))
    remarks.push(grindRemark('caution', 'slope_assumed'));
  remarks.push(whatWidens(lines, dial, draws, seed, next_dial));
  return { dial, by_drawdown, by_yield, next_dial, remarks };
}

function lineOf(order: BrewTransferOrder, which: 'drawdown' | 'yield'): Line | null {
  const value = (brew: { drawdown_s: number | null; yield_pct: number | null }) => {
    if (which === 'yield') return brew.yield_pct;
    return brew.drawdown_s !== null && brew.drawdown_s > 0 ? Math.log(brew.drawdown_s) : null;
  };
  const wanted = value(order.wanted);
  const points = order.brews.flatMap((brew) => {
    const y = value(brew);
    return y === null ? [] : [{ x: brew.dial, y }];
  });
  if (wanted === null || points.length === 0) return null;
  const repeat =
    which === 'drawdown'
      ? (order.drawdown_repeat_pct ?? 100 * REPEATS.drawdown) / 100
      : (order.yield_repeat_pct ?? REPEATS.yield);
  const n = points.length;
  const centre = points.reduce((sum, p) => sum + p.x, 0) / n;
  const level = points.reduce((sum, p) => sum + p.y, 0) / n;
  const position = Math.max(1e-6, Math.abs(centre - (order.touch_dial ?? 0)));
  const prior = { mean: SLOPES[which].mean / position, sd: SLOPES[which].sd / position };
  const spread = points.reduce((sum, p) => sum + (p.x - centre) ** 2, 0) / repeat ** 2;
  const pull = points.reduce((sum, p) => sum + (p.x - centre) * (p.y - level), 0) / repeat ** 2;
  const precision = spread + 1 / prior.sd ** 2;
  return {
    wanted,
    wantedDoubt: repeat / Math.sqrt(Math.max(1, order.wanted.brews)),
    repeat,
    centre,
    level,
    levelDoubt: repeat / Math.sqrt(n),
    slope: (pull + prior.mean / prior.sd ** 2) / precision,
    slopeDoubt: 1 / Math.sqrt(precision),
    priorDoubt: prior.sd,
  };
}

/** Settings that the brews allow, `draws` of them: for several figures the best compromise, each weighed by its scatter. */
function settingsOf(lines: readonly Line[], draws: number, seed: number, slopesKnown = false): number[] {
  const random = randomOf(seed);
  return Array.from({ length: draws }, () => {
    let above = 0;
    let below = 0;
    for (const line of lines) {
      let slope = line.slope + (slopesKnown ? 0 : line.slopeDoubt * random.normal());
      for (let again = 0; slope > -1e-9 && again < 200; again++)
        slope = line.slope + line.slopeDoubt * random.normal();
      if (slope > -1e-9) slope = -line.slopeDoubt / 10;
      const level = line.level + line.levelDoubt * random.normal();
      const wanted = line.wanted + line.wantedDoubt * random.normal();
      above += (slope * (wanted - level + slope * line.centre)) / line.repeat ** 2;
      below += (slope / line.repeat) ** 2;
    }
    return above / below;
  }).sort((a, b) => a - b);
}

const bandOf = (sorted: readonly number[]): GrindBand => ({
  low: sortedQuantile(sorted, 0.05),
  mid: sortedQuantile(sorted, 0.5),
  high: sortedQuantile(sorted, 0.95),
});

const halfWidth = ({ low, high }: GrindBand): number => (high - low) / 2;

function sayDisagreement(a: GrindBand, b: GrindBand, remarks: GrindRemark[]): void {
  if (Math.abs(a.mid - b.mid) <= Math.hypot(halfWidth(a), halfWidth(b))) return;
  remarks.push(
    grindRemark('caution', 'answers_disagree', { drawdown: figureOf(a.mid), yield: figureOf(b.mid) }),
  );
}

function whatWidens(
  lines: readonly Line[],
  dial: GrindBand,
  draws: number,
  seed: number,
  next: number,
): GrindRemark {
  const known = bandOf(settingsOf(lines, draws, seed, true));
  return grindRemark(
    'note',
    'transfer_wide',
    { width: figureOf(halfWidth(dial), 2), dial: figureOf(next) },
    { cause: halfWidth(known) < 0.7 * halfWidth(dial) ? 'the_slope' : 'the_brews' },
  );
}
