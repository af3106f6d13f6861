import { type FTest, fTest } from './panel-anova.ts';

/** What stands out about a taster. */
export type AssessorRemark =
  /** Cannot tell the cups apart: p of own F above 0.05 although the others can. */
  | 'does_not_tell_apart'
  /** Uses much less of the scale than the others, slope below 0.6. */
  | 'compresses_scale'
  /** Uses much more of the scale than the others, slope above 1.5. */
  | 'stretches_scale'
  /** Orders the cups otherwise than the others, correlation below 0.5. */
  | 'disagrees'
  /** Repeats less well than the others: own variance above three times the median. */
  | 'repeats_poorly';

/** One taster against the rest. Ideas of ISO 11132 (from memory). */
export interface Assessor {
  /** Position of the taster in the table. */
  taster: number;
  /** Own mean minus the mean of the rest. */
  offset: number;
  /** Discrimination: one-way F of the cups from own repeats; null without repeats. */
  discrimination: FTest | null;
  /** Repeatability: variance and standard deviation between own repeats; null without repeats. */
  repeat_variance: number | null;
  repeat_sd: number | null;
  /** Scale use: slope of own cup means on the rest's; null when the rest sees no difference at all. */
  slope: number | null;
  /** Agreement: correlation of own cup means with the rest's; null when one of both is flat. */
  correlation: number | null;
  remarks: AssessorRemark[];
}

/** Borders of the remarks; common practice, not a standard. */
const BORDERS = { p: 0.05, small_slope: 0.6, large_slope: 1.5, correlation: 0.5, variance: 3 } as const;

const meanOf = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;

/**
 * Performance of each taster of a balanced panel: discrimination, repeatability, scale use and agreement, each against the
 * mean of the other tasters.
 * @param table [tasters][cups][repeats]; at least 2 tasters and 2 cups
 */
export function assessors(table: readonly (readonly (readonly number[])[])[]): Assessor[] {
  const cells = table.map((row) => row.map(meanOf));
  const repeats = table[0]![0]!.length;
  const found = table.map((row, taster) => {
    const own = cells[taster]!;
    const rest = own.map((_, c) => meanOf(cells.filter((__, i) => i !== taster).map((r) => r[c]!)));
    const spread = repeats > 1 ? oneWay(row) : null;
    return {
      taster,
      offset: meanOf(own) - meanOf(rest),
      discrimination: spread?.test ?? null,
      repeat_variance: spread?.within ?? null,
      repeat_sd: spread && Math.sqrt(spread.within),
      ...lineThrough(rest, own),
      remarks: [],
    };
  });
  const variances = found.flatMap((a) => a.repeat_variance ?? []).sort((a, b) => a - b);
  const median = variances.length > 0 ? variances[Math.floor((variances.length - 1) / 2)]! : 0;
  return found.map((a) => ({ ...a, remarks: remarksOf(a, found, median) }));
}

function oneWay(row: readonly (readonly number[])[]): { test: FTest; within: number } {
  const means = row.map(meanOf);
  const grand = meanOf(means);
  const r = row[0]!.length;
  const ssBetween = r * means.reduce((t, m) => t + (m - grand) ** 2, 0);
  const ssWithin = row.reduce((t, cell, c) => t + cell.reduce((s, v) => s + (v - means[c]!) ** 2, 0), 0);
  const between = { ss: ssBetween, df: row.length - 1, ms: ssBetween / (row.length - 1) };
  const df = row.length * (r - 1);
  return { test: fTest(between, { ss: ssWithin, df, ms: ssWithin / df }), within: ssWithin / df };
}

/** Slope and correlation of y on x. */
function lineThrough(
  x: readonly number[],
  y: readonly number[],
): { slope: number | null; correlation: number | null } {
  const [mx, my] = [meanOf(x), meanOf(y)];
  const sxx = x.reduce((t, v) => t + (v - mx) ** 2, 0);
  const syy = y.reduce((t, v) => t + (v - my) ** 2, 0);
  const sxy = x.reduce((t, v, i) => t + (v - mx) * (y[i]! - my), 0);
  return {
    slope: sxx > 0 ? sxy / sxx : null,
    correlation: sxx > 0 && syy > 0 ? sxy / Math.sqrt(sxx * syy) : null,
  };
}

type Figures = Omit<Assessor, 'remarks'>;

function remarksOf(a: Figures, all: readonly Figures[], median: number): AssessorRemark[] {
  const remarks: AssessorRemark[] = [];
  const tells = (of: Figures) => of.discrimination !== null && of.discrimination.p <= BORDERS.p;
  const othersTell = all.filter((b) => b !== a && tells(b)).length * 2 >= all.length - 1;
  if (a.discrimination && !tells(a) && othersTell) remarks.push('does_not_tell_apart');
  if (a.slope !== null && a.slope < BORDERS.small_slope && (a.correlation ?? 0) >= BORDERS.correlation)
    remarks.push('compresses_scale');
  if (a.slope !== null && a.slope > BORDERS.large_slope) remarks.push('stretches_scale');
  if (a.correlation !== null && a.correlation < BORDERS.correlation) remarks.push('disagrees');
  if (a.repeat_variance !== null && median > 0 && a.repeat_variance > BORDERS.variance * median)
    remarks.push('repeats_poorly');
  return remarks;
}
