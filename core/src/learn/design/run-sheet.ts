import type { Finding } from '../../panel/findings.ts';
import { type Chance, chanceFrom } from '../../panel/random.ts';
import { correlation, realLevel } from './analyse-design.ts';
import { orderOf, termAt, termsOf } from './model.ts';
import { designFinding as finding } from './sentences.ts';
import type { Design, DesignFactor, RunSheet, SheetOptions, SheetRun } from './types.ts';

/** Random orders and divisions that are tried. */
const TRIES = 400;
/** A term that shares less than this with days or drift is clear of them for every purpose here; our choice. */
const LITTLE = 0.2;

/**
 * A sheet to brew from: runs divided over days so that days and effects share least, in an order drawn by chance within each day; when
 * asked for, that one of many drawn orders in which a steady drift shares least with the effects. The same seed gives the same sheet.
 */
export function makeRunSheet(
  design: Design,
  factors: readonly DesignFactor[],
  options: SheetOptions,
): RunSheet {
  const { seed, per_day, dose_g, against_drift } = options;
  const chance = chanceFrom(seed);
  const mixture = options.model.startsWith('mixture');
  const n = design.points.length;
  const blocks = per_day === null ? 1 : Math.ceil(n / Math.max(1, per_day));
  const columns = columnsOf(design, options);
  const sizes = Array.from({ length: blocks }, (_, b) => Math.floor(n / blocks) + Number(b < n % blocks));
  const days = divide(n, sizes, columns, chance);
  const order = orderWithin(days, columns, against_drift ? TRIES : 1, chance);
  const runs = order.flatMap((points, block) =>
    points.map((point): Omit<SheetRun, 'run'> => {
      const coded = design.points[point]!;
      const levels = mixture
        ? settableShares(factors, coded)
        : coded.map((v, i) => settable(factors[i]!, realLevel(factors[i]!, v)));
      return { block: block + 1, point, coded, levels };
    }),
  );
  const sheet = {
    runs: runs.map((run, i) => ({ run: i + 1, ...run })),
    blocks,
    grams: dose_g === null ? null : n * dose_g,
    drift_correlation: driftShare(order, columns),
    block_correlation: blockShare(days, columns),
    seed,
  };
  return { ...sheet, findings: say(sheet, design, factors, options) };
}

/** Columns of the model's terms over the points, the constant left out. */
const columnsOf = (design: Design, { model }: SheetOptions): number[][] =>
  termsOf(model, design.factors)
    .filter((term) => orderOf(term) > 0)
    .map((term) => design.points.map((at) => termAt(term, at)));

/** A level as it can be set. */
export const settable = ({ step }: Pick<DesignFactor, 'step'>, level: number): number =>
  step === null ? level : Number((Math.round(level / step) * step).toFixed(9));

/** Shares as they can be weighed; the largest takes what rounding leaves, so that they still sum to 1. */
function settableShares(factors: readonly DesignFactor[], shares: readonly number[]): number[] {
  const rounded = shares.map((v, i) => settable(factors[i]!, v));
  const largest = rounded.indexOf(Math.max(...rounded));
  const rest = 1 - rounded.reduce((t, v) => t + v, 0);
  return rounded.map((v, i) => (i === largest ? Number((v + rest).toFixed(9)) : v));
}

/** Divides points over days: many random divisions, each bettered by swapping while days and terms share less. */
function divide(
  n: number,
  sizes: readonly number[],
  columns: readonly (readonly number[])[],
  chance: Chance,
): number[][] {
  const all = Array.from({ length: n }, (_, i) => i);
  if (sizes.length === 1) return [all];
  let best: { days: number[][]; cost: number } | null = null;
  for (let start = 0; start < 12; start++) {
    const shuffled = chance.shuffle([...all]);
    const from = sizes.map((_, d) => sizes.slice(0, d).reduce((t, size) => t + size, 0));
    const days = sizes.map((size, d) => shuffled.slice(from[d]!, from[d]! + size));
    const cost = swapDays(days, columns);
    if (best === null || cost < best.cost - 1e-12) best = { days, cost };
    if (best.cost < 1e-12) break;
  }
  return best!.days;
}

function swapDays(days: number[][], columns: readonly (readonly number[])[]): number {
  let cost = unevenness(days, columns);
  for (let gained = true, turns = 0; gained && turns < 20; turns++) {
    gained = false;
    for (let a = 0; a < days.length; a++)
      for (let b = a + 1; b < days.length; b++)
        for (let i = 0; i < days[a]!.length; i++)
          for (let j = 0; j < days[b]!.length; j++) {
            [days[a]![i], days[b]![j]] = [days[b]![j]!, days[a]![i]!];
            const now = unevenness(days, columns);
            if (now < cost - 1e-12) [cost, gained] = [now, true];
            else [days[a]![i], days[b]![j]] = [days[b]![j]!, days[a]![i]!];
          }
  }
  return cost;
}

/** Squares of how far each term's mean of a day lies from its mean over all, lines weighing more than products. */
function unevenness(days: readonly (readonly number[])[], columns: readonly (readonly number[])[]): number {
  let cost = 0;
  for (const column of columns) {
    const mean = column.reduce((t, v) => t + v, 0) / column.length;
    for (const day of days) {
      let sum = 0;
      for (const point of day) sum += column[point]! - mean;
      cost += sum * sum;
    }
  }
  return cost;
}

function orderWithin(
  days: readonly (readonly number[])[],
  columns: readonly (readonly number[])[],
  tries: number,
  chance: Chance,
): number[][] {
  let best: { order: number[][]; share: number } | null = null;
  for (let k = 0; k < tries; k++) {
    const order = days.map((day) => chance.shuffle([...day]));
    const share = tries === 1 ? 0 : driftShare(order, columns);
    if (best === null || share < best.share - 1e-12) best = { order, share };
  }
  return best!.order;
}

/** Largest correlation of a term with the order within the days. */
function driftShare(order: readonly (readonly number[])[], columns: readonly (readonly number[])[]): number {
  const places = order.flatMap((day) => day.map((_, i) => i - (day.length - 1) / 2));
  return columns.reduce((most, column) => {
    const within = order.flatMap((day) => {
      const mean = day.reduce((t, point) => t + column[point]!, 0) / day.length;
      return day.map((point) => column[point]! - mean);
    });
    return Math.max(most, Math.abs(correlation(within, places)));
  }, 0);
}

/** Largest correlation of a term with the days: root of the share of its variation that lies between them. */
function blockShare(days: readonly (readonly number[])[], columns: readonly (readonly number[])[]): number {
  if (days.length === 1) return 0;
  return columns.reduce((most, column) => {
    const mean = column.reduce((t, v) => t + v, 0) / column.length;
    const total = column.reduce((t, v) => t + (v - mean) ** 2, 0);
    const between = days.reduce((t, day) => {
      const own = day.reduce((s, point) => s + column[point]!, 0) / day.length;
      return t + day.length * (own - mean) ** 2;
    }, 0);
    return total < 1e-18 ? most : Math.max(most, Math.sqrt(between / total));
  }, 0);
}

function say(
  sheet: Omit<RunSheet, 'findings'>,
  design: Design,
  factors: readonly DesignFactor[],
  { against_drift }: SheetOptions,
): Finding[] {
  const percentOf = (share: number) => Math.round(100 * share);
  const said = [finding('note', 'order_drawn', { seed: sheet.seed })];
  const drift = { correlation: percentOf(sheet.drift_correlation) };
  if (sheet.drift_correlation <= LITTLE && against_drift)
    said.push(finding('note', 'order_against_drift', drift));
  else if (sheet.drift_correlation > LITTLE) said.push(finding('caution', 'order_with_drift', drift));
  if (sheet.blocks > 1) {
    const values = { blocks: sheet.blocks, correlation: percentOf(sheet.block_correlation) };
    said.push(
      sheet.block_correlation <= LITTLE
        ? finding('note', 'blocks_clear', values)
        : finding('caution', 'blocks_confounded', values),
    );
  }
  if (sheet.grams !== null)
    said.push(
      finding('note', 'sheet_cost', { runs: sheet.runs.length, grams: Number(sheet.grams.toFixed(1)) }),
    );
  return [...said, ...sayDesign(design, factors), ...saySteps(sheet, factors)];
}

/** What the design itself can and cannot tell. */
export function sayDesign(design: Design, factors: readonly Pick<DesignFactor, 'name'>[]): Finding[] {
  const names = factors.map(({ name }) => name);
  const example =
    design.aliases[0]?.map((of) => of.map((i) => names[i] ?? `${i + 1}`).join(' × ')).join(' = ') ?? '';
  const curved =
    design.kind !== 'full_factorial' &&
    design.kind !== 'fractional_factorial' &&
    design.kind !== 'screening_12';
  const said: Finding[] = [];
  if (design.kind === 'screening_12') said.push(finding('caution', 'design_leaks'));
  else if (design.resolution === 3) said.push(finding('caution', 'design_resolution_3', { example }));
  else if (design.resolution === 4) said.push(finding('note', 'design_resolution_4', { example }));
  else if (design.kind === 'full_factorial' || design.kind === 'fractional_factorial')
    said.push(finding('note', 'design_clear'));
  if (
    design.kind === 'central_composite' ||
    design.kind === 'box_behnken' ||
    design.kind === 'definitive_screening'
  )
    said.push(finding('note', 'design_curved'));
  else if (!curved) said.push(finding('note', 'design_only_lines'));
  return said;
}

/** Levels that the factor's step makes one. */
function saySteps({ runs }: Pick<RunSheet, 'runs'>, factors: readonly DesignFactor[]): Finding[] {
  return factors.flatMap((factor, i) => {
    if (factor.step === null) return [];
    const asked = new Set(runs.map(({ coded }) => coded[i]!.toFixed(6))).size;
    const set = new Set(runs.map(({ levels }) => levels[i]!.toFixed(6))).size;
    const { name, low, high, unit, step } = factor;
    return set < asked
      ? [finding('caution', 'step_too_coarse', { factor: name, low, high, unit, step, levels: asked })]
      : [];
  });
}
