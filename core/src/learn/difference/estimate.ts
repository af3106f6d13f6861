import { normalCdf, normalQuantile, tAbove, tQuantile } from '../../panel/distributions.ts';
import { fitMixed } from '../../panel/mixed-model.ts';
import { explainedBy, leastSquares } from '../design/least-squares.ts';
import type { LabelledGroup } from './label-permutations.ts';
import type { ComparedBrew, DifferenceQuestion, MeanTest } from './types.ts';

/** Of a column's variation explained by others, from here on it cannot be told apart from them in practice; our choice. */
const TOO_ALIKE = 0.95;
/** Ages closer than this are one age [d]. */
const ONE_AGE = 0.75;
/** Degrees of freedom that must be left before one is spent on age. */
const SPARE_DF = 3;
/** Sittings of each plan from which their own scatter can stand for what a sitting does. */
const ENOUGH_SITTINGS = 2;

/** The difference by a linear model, with what could and could not be taken out of it. */
export interface Estimated {
  difference: number;
  /** Variance of the difference over the variance of one brew. */
  factor: number;
  /** Variance of one brew about the model, and its degrees of freedom. */
  variance: number;
  df: number;
  /** What an uncertain drift adds to the variance of the difference. */
  drift_variance: number;
  mixed: (MeanTest & { session_sd: number; difference: number }) | null;
  /** The sittings are the units: plan and sitting go together, but there are several of each. */
  by_sitting: boolean;
  confounded: ('age' | 'session')[];
  /** Mean age of b less that of a [d]; null when ages are not known. */
  older_d: number | null;
  /** What labels may be handed out among, age taken out where it was. */
  groups: LabelledGroup[];
  age_fitted: boolean;
  blocked: boolean;
}

const meanOf = (values: readonly number[]) => values.reduce((t, v) => t + v, 0) / values.length;
const isB = ({ plan }: ComparedBrew) => plan === 'b';

/** Columns of sittings beside a constant, and their numbers. */
function sittingsOf(brews: readonly ComparedBrew[]): { group: number[]; count: number; columns: number[][] } {
  const names = [...new Set(brews.map(({ session }) => session ?? ''))];
  const group = brews.map(({ session }) => names.indexOf(session ?? ''));
  const columns = names.slice(1).map((_, k) => group.map((g) => Number(g === k + 1)));
  return { group, count: names.length, columns };
}

/** Fits the model that these brews can carry. Both plans must have at least one brew. */
export function fitDifference(question: DifferenceQuestion): Estimated {
  const { brews, drift } = question;
  const constant = brews.map(() => 1);
  const plan = brews.map((brew) => Number(isB(brew)));
  const { group, count, columns } = sittingsOf(brews);
  const ages = brews.map(({ age_d }) => age_d);
  const known = ages.every((age): age is number => age !== null) ? (ages as number[]) : null;
  const older = known && meanOf(known.filter((_, i) => plan[i])) - meanOf(known.filter((_, i) => !plan[i]));
  const within = explainedBy(plan, [constant, ...columns]) < TOO_ALIKE;
  const blocked = count > 1 && within;
  const bySitting = count > 1 && !within && sittingsEach(plan, group) >= ENOUGH_SITTINGS;
  const confounded: Estimated['confounded'] = [];
  if (count > 1 && !within && !bySitting) confounded.push('session');
  const base = [constant, ...(blocked ? columns : [])];
  let values = brews.map(({ value }) => value);
  let ageColumn: number[] | null = null;
  if (known && drift) values = values.map((v, i) => v - drift.per_d * (known[i]! - known[0]!));
  else if (known && Math.max(...known) - Math.min(...known) >= ONE_AGE) {
    const alike = explainedBy(plan, [...base, known]);
    const spare = brews.length - base.length - 2 >= SPARE_DF && !bySitting;
    if (explainedBy(known, base) > 1 - 1e-9) ageColumn = null;
    else if (alike < TOO_ALIKE && spare) ageColumn = known.map((age) => age - meanOf(known));
    else if (Math.abs(older!) >= ONE_AGE) confounded.push('age');
  }
  const x = brews.map((_, i) => [
    plan[i]!,
    ...base.map((column) => column[i]!),
    ...(ageColumn ? [ageColumn[i]!] : []),
  ]);
  const fit = leastSquares(x, values)!;
  const slope = ageColumn ? fit.beta.at(-1)! : 0;
  const freed = values.map((v, i) => v - slope * (ageColumn?.[i] ?? 0));
  // An uncertain drift moves all of one age together: by as much as ages differ as the fit weights them.
  const driftLever = known && drift ? leastSquares(x, known)!.beta[0]! : 0;
  return {
    difference: fit.beta[0]!,
    factor: fit.inverse[0]![0]!,
    variance: fit.df > 0 ? fit.rss / fit.df : Number.NaN,
    df: fit.df,
    drift_variance: drift ? (drift.sd * driftLever) ** 2 : 0,
    mixed: mixedTest(values, plan, group, count, ageColumn),
    by_sitting: bySitting,
    confounded,
    older_d: older,
    groups: groupsOf(freed, plan, group, blocked, bySitting),
    age_fitted: ageColumn !== null,
    blocked,
  };
}

/** Fewest sittings of either plan. */
function sittingsEach(plan: readonly number[], group: readonly number[]): number {
  const of = (which: number) => new Set(group.filter((_, i) => plan[i] === which)).size;
  return Math.min(of(0), of(1));
}

function groupsOf(
  values: readonly number[],
  plan: readonly number[],
  group: readonly number[],
  blocked: boolean,
  bySitting: boolean,
): LabelledGroup[] {
  const pick = (which: number, g: number | null) =>
    values.filter((_, i) => plan[i] === which && (g === null || group[i] === g));
  const numbers = [...new Set(group)];
  if (blocked) return numbers.map((g) => ({ a: pick(0, g), b: pick(1, g) }));
  if (!bySitting) return [{ a: pick(0, null), b: pick(1, null) }];
  const means = (which: number) =>
    numbers
      .map((g) => pick(which, g))
      .filter((v) => v.length > 0)
      .map(meanOf);
  return [{ a: means(0), b: means(1) }];
}

/** Sittings as random effects, where there are at least three and brews to spare. */
function mixedTest(
  y: readonly number[],
  plan: readonly number[],
  group: readonly number[],
  count: number,
  age: readonly number[] | null,
): Estimated['mixed'] {
  const p = age ? 3 : 2;
  if (count < 3 || y.length < count + p) return null;
  const fit = fitMixed({
    y,
    x: y.map((_, i) => [1, plan[i]!, ...(age ? [age[i]!] : [])]),
    random: [{ name: 'sitting', group }],
  });
  const { f, df2, p: chance } = fit.test([[0, 1, ...(age ? [0] : [])]]);
  const se = Math.sqrt(fit.covariance[1]![1]!);
  const t = Math.sign(fit.beta[1]!) * Math.sqrt(f);
  if (!Number.isFinite(t)) return null;
  return {
    se,
    df: df2,
    t,
    p: chance,
    session_sd: Math.sqrt(fit.variances[0]!.variance),
    difference: fit.beta[1]!,
  };
}

/** Two-sided test of a difference against its standard error; `df` null takes the error as exact. */
export function meanTest(difference: number, se: number, df: number | null): MeanTest {
  const t =
    se > 0 ? difference / se : difference === 0 ? 0 : Math.sign(difference) * Number.POSITIVE_INFINITY;
  const p = 2 * upperTail(Math.abs(t), df);
  return { se, df, t, p };
}

/** P(T > t), normal for `df` null. */
export const upperTail = (t: number, df: number | null): number =>
  t === Number.POSITIVE_INFINITY
    ? 0
    : t === Number.NEGATIVE_INFINITY
      ? 1
      : df === null
        ? normalCdf(-t)
        : tAbove(t, df);

/** Quantile of t, normal for `df` null. */
export const tOf = (p: number, df: number | null): number =>
  df === null ? normalQuantile(p) : tQuantile(p, df);
