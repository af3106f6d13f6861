import { fAbove, tAbove } from '../../panel/distributions.ts';
import { independent, type LeastSquares, leastSquares } from './least-squares.ts';
import { modelMatrix, orderOf, termAt, termName } from './model.ts';
import { oneWay } from './one-way.ts';
import type { Coefficient, FitTable, ModelTerm } from './types.ts';

/** Levels closer than this, coded, are the same setting. */
const SAME_LEVEL = 1e-6;

/** A model fitted to coded runs. */
export interface FittedDesign {
  terms: ModelTerm[];
  fit: LeastSquares;
  coefficients: Coefficient[];
  table: FitTable;
  /** Terms that were left out because others in the model are the same thing in these runs. */
  dropped: ModelTerm[];
}

export interface CodedRun {
  at: readonly number[];
  value: number;
  block: string | number | null;
}

/** Columns of blocks that sum to zero, so that the constant stays the mean. */
function blockColumns(runs: readonly CodedRun[]): number[][] {
  const names = [...new Set(runs.map(({ block }) => block))];
  return names
    .slice(1)
    .map((name) => runs.map(({ block }) => (block === name ? 1 : block === names[0] ? -1 : 0)));
}

/**
 * Fits terms to runs by least squares, days or sittings taken out as blocks. Terms that are the same as earlier ones in these runs are
 * dropped. null when there are fewer runs than terms that can be told apart.
 */
export function fitDesign(
  runs: readonly CodedRun[],
  asked: readonly ModelTerm[],
  names: readonly string[],
): FittedDesign | null {
  const blocks = blockColumns(runs);
  const columns = asked.map((term) => runs.map(({ at }) => termAt(term, at)));
  // Blocks after the main effects, so that a block that is a product of factors costs that product.
  const main = columns.filter((_, t) => orderOf(asked[t]!) <= 1);
  const rest = columns.filter((_, t) => orderOf(asked[t]!) > 1);
  const kept = new Set(independent([...main, ...blocks, ...rest]));
  const terms = asked.filter((_, t) => kept.has(columns[t]!));
  const held = blocks.filter((column) => kept.has(column));
  if (terms.length + held.length > runs.length) return null;
  const y = runs.map(({ value }) => value);
  const matrix = modelMatrix(
    terms,
    runs.map(({ at }) => at),
  ).map((row, r) => [...row, ...held.map((column) => column[r]!)]);
  const fit = leastSquares(matrix, y);
  if (!fit) return null;
  const s2 = fit.df > 0 ? fit.rss / fit.df : null;
  return {
    terms,
    fit,
    coefficients: terms.map((term, t) =>
      coefficient(term, fit.beta[t]!, fit.inverse[t]![t]!, s2, fit.df, names),
    ),
    table: tableOf(runs, fit, terms, held.length),
    dropped: asked.filter((_, t) => !kept.has(columns[t]!)),
  };
}

function coefficient(
  term: ModelTerm,
  value: number,
  inverse: number,
  s2: number | null,
  df: number,
  names: readonly string[],
): Coefficient {
  const se = s2 === null ? null : Math.sqrt(s2 * inverse);
  const t = se === null ? null : se > 0 ? value / se : Number.POSITIVE_INFINITY;
  return {
    term,
    name: termName(term, names),
    value,
    se,
    t,
    p: t === null ? null : 2 * tAbove(Math.abs(t), df),
  };
}

/** Sums of squares about the mean, with what repeats of the same settings leave. */
function tableOf(
  runs: readonly CodedRun[],
  fit: LeastSquares,
  terms: readonly ModelTerm[],
  blocks: number,
): FitTable {
  const n = runs.length;
  const mean = runs.reduce((t, { value }) => t + value, 0) / n;
  const total = { ss: runs.reduce((t, { value }) => t + (value - mean) ** 2, 0), df: n - 1 };
  const residual = { ss: fit.rss, df: fit.df };
  const regression = { ss: total.ss - fit.rss, df: terms.length - 1 + blocks };
  const f = fit.df > 0 && regression.df > 0 ? regression.ss / regression.df / (fit.rss / fit.df) : null;
  const r2 = total.ss > 0 ? 1 - fit.rss / total.ss : 0;
  const pure = pureError(runs);
  return {
    regression,
    residual,
    total,
    s: fit.df > 0 ? Math.sqrt(fit.rss / fit.df) : null,
    r2,
    adjusted_r2: fit.df > 0 && total.ss > 0 ? 1 - fit.rss / fit.df / (total.ss / total.df) : null,
    f: f === null ? null : { f, df1: regression.df, df2: fit.df, p: fAbove(f, regression.df, fit.df) },
    pure,
    lack_of_fit: lackOfFit(residual, pure),
  };
}

function lackOfFit(residual: { ss: number; df: number }, pure: FitTable['pure']): FitTable['lack_of_fit'] {
  if (!pure || residual.df - pure.df <= 0) return null;
  const [ss, df] = [Math.max(0, residual.ss - pure.ss), residual.df - pure.df];
  const f = ss / df / (pure.ss / pure.df);
  return { ss, df, f, p: fAbove(f, df, pure.df) };
}

/** Scatter of runs at the same settings on the same day. */
function pureError(runs: readonly CodedRun[]): FitTable['pure'] {
  const groups: CodedRun[][] = [];
  for (const run of runs) {
    const same = groups.find(
      ([first]) =>
        first!.block === run.block && first!.at.every((v, i) => Math.abs(v - run.at[i]!) < SAME_LEVEL),
    );
    if (same) same.push(run);
    else groups.push([run]);
  }
  const { within } = oneWay(groups.map((group) => group.map(({ value }) => value)));
  return within.df > 0 ? within : null;
}
