import { differenceP } from '../../panel/difference-test.ts';
import { chiSquaredAbove, fAbove } from '../../panel/distributions.ts';
import { MAYBE } from '../../panel/findings.ts';
import { type Estimated, fitDifference, meanTest, tOf, upperTail } from './estimate.ts';
import { labelPermutations, leastP } from './label-permutations.ts';
import { repeatBrews } from './repeat.ts';
import { sayDifferenceOfBrews } from './say-difference.ts';
import type {
  BrewDifference,
  DifferenceQuestion,
  DifferenceVerdict,
  Equivalence,
  MeanTest,
} from './types.ts';

/** A scatter from earlier work settles a difference by itself only at a part of the level, because it was not seen here; our choice. */
const HISTORY_PART = 5;
/** … and only when so many brews stand behind it. */
const HISTORY_BREWS = 10;

/** What the verdict and the sentences are made from. */
export interface Judged extends Omit<BrewDifference, 'findings'> {
  estimated: Estimated;
  /** p that the scatter here and the trusted one are alike; null when either is missing. */
  history_fits: number | null;
  /** Scatter as it was seen, before the measurement was counted. */
  seen_sd: number;
}

/**
 * Is a figure of plan b different from that of plan a? A linear model takes out sittings (as blocks, or as random effects where plan and
 * sitting go together) and age where the brews can tell it from the plan; what cannot be told apart is said, and then nothing is ever
 * called clear. Three p stand side by side: Student's t, all ways to hand the labels out, and a normal or t test with a trusted scatter.
 * A difference is clear when the exact test reaches the level, or when a well-known scatter reaches a fifth of it; the same, when two
 * one-sided tests put it within the limit.
 * @throws Error unless there is at least one brew of each plan.
 */
export function compareBrews(question: DifferenceQuestion): BrewDifference {
  const judged = judge(question);
  const { estimated: _, history_fits: __, seen_sd: ___, ...figures } = judged;
  return { ...figures, findings: sayDifferenceOfBrews(judged, question) };
}

function judge(question: DifferenceQuestion): Judged {
  const { brews, history, alpha } = question;
  const counts = [count(question, 'a'), count(question, 'b')] as const;
  if (counts[0] === 0 || counts[1] === 0)
    throw new Error('compareBrews: at least one brew of each plan is needed');
  const estimated = fitDifference(question);
  const doubt = Math.sqrt(brews.reduce((t, { doubt: u }) => t + u * u, 0) / brews.length);
  const seen_sd = Math.sqrt(estimated.variance);
  // A scatter below that of the measurement is luck.
  const sd = Math.max(seen_sd, doubt);
  const main = mainTest(estimated, sd);
  const difference =
    estimated.by_sitting && estimated.mixed ? estimated.mixed.difference : estimated.difference;
  const byHistory = history && historyTest(estimated, difference, history);
  const exact = {
    ...labelPermutations(estimated.groups, question.seed),
    least: leastP(estimated.groups.map((g) => ({ a: g.a.length, b: g.b.length }))),
  };
  const fits = history && estimated.df > 0 ? scatterFits(estimated, history.sd, history.brews) : null;
  const leaned = byHistory && (fits === null || fits > alpha) ? byHistory : main;
  const half = leaned ? tOf(1 - alpha / 2, leaned.df) * leaned.se : Number.POSITIVE_INFINITY;
  const same =
    question.limit === null || !leaned ? null : equivalence(difference, leaned, question.limit, alpha);
  const { mixed } = estimated;
  const partial = {
    difference,
    low: difference - half,
    high: difference + half,
    means: [meanOf(question, 'a'), meanOf(question, 'b')] as const,
    counts,
    sd,
    doubt,
    alone: main,
    exact,
    history: byHistory,
    mixed: mixed && { se: mixed.se, df: mixed.df, t: mixed.t, p: mixed.p, session_sd: mixed.session_sd },
    same,
    confounded: estimated.confounded,
    drift_needed_per_d: driftNeeded(question, estimated, difference),
    panel: panelOf(question),
    estimated,
    history_fits: fits,
    seen_sd,
  };
  const verdict = verdictOf(partial, question);
  const settled = (verdict === 'clear' || verdict === 'same') && partial.confounded.length === 0;
  const repeat = settled
    ? null
    : repeatBrews(
        estimated.groups.map((g) => ({ a: g.a.length, b: g.b.length })),
        difference,
        history?.sd ?? sd,
        alpha,
        question.dose_g,
      );
  return { ...partial, verdict, repeat };
}

const count = ({ brews }: DifferenceQuestion, which: 'a' | 'b') =>
  brews.filter(({ plan }) => plan === which).length;

function meanOf({ brews }: DifferenceQuestion, which: 'a' | 'b'): number {
  const of = brews.filter(({ plan }) => plan === which);
  return of.reduce((t, { value }) => t + value, 0) / of.length;
}

/** The test these brews give by themselves; null without degrees of freedom. */
function mainTest(estimated: Estimated, sd: number): MeanTest | null {
  const { mixed, by_sitting, df, factor, difference, drift_variance } = estimated;
  if (by_sitting) return mixed && { se: mixed.se, df: mixed.df, t: mixed.t, p: mixed.p };
  if (df <= 0) return null;
  return meanTest(difference, Math.sqrt(sd * sd * factor + drift_variance), df);
}

function historyTest(
  { factor, drift_variance, mixed, by_sitting }: Estimated,
  difference: number,
  { sd, brews }: NonNullable<DifferenceQuestion['history']>,
): MeanTest & { limit: number } {
  // The scatter between sittings is not in a trusted scatter from brew to brew: what the mixed model says of it comes on top.
  const between = by_sitting && mixed ? Math.max(0, mixed.se ** 2 - sd * sd * factor) : 0;
  const se = Math.sqrt(sd * sd * factor + drift_variance + between);
  const test = meanTest(difference, se, brews === null ? null : Math.max(1, brews - 1));
  return { ...test, limit: 2 * se };
}

/** Two-sided p that these brews scatter as the trusted spread says: χ² for one taken as exact, else F. */
function scatterFits({ variance, df }: Estimated, sd: number, brews: number | null): number {
  const ratio = variance / (sd * sd);
  const above = brews === null ? chiSquaredAbove(df * ratio, df) : fAbove(ratio, df, Math.max(1, brews - 1));
  return Math.min(1, 2 * Math.min(above, 1 - above));
}

/** Interval and p of two one-sided tests (Schuirmann 1987, from memory). */
function equivalence(difference: number, { se, df }: MeanTest, limit: number, alpha: number): Equivalence {
  const half = tOf(1 - alpha, df) * se;
  const p = Math.max(upperTail((limit - difference) / se, df), upperTail((limit + difference) / se, df));
  return { limit, p: Number.isNaN(p) ? 1 : p, low: difference - half, high: difference + half };
}

function driftNeeded(
  { drift }: DifferenceQuestion,
  { older_d, age_fitted }: Estimated,
  difference: number,
): number | null {
  return older_d === null || Math.abs(older_d) < 1e-9 || age_fitted || drift ? null : difference / older_d;
}

function panelOf({ panel }: DifferenceQuestion): BrewDifference['panel'] {
  if (!panel) return null;
  const p = differenceP({ protocol: panel.protocol, correct: panel.correct, total: panel.answers });
  return { p, correct: panel.correct, answers: panel.answers };
}

type ForVerdict = Pick<Judged, 'alone' | 'exact' | 'history' | 'same' | 'confounded' | 'history_fits'>;

function verdictOf(of: ForVerdict, { alpha, history }: DifferenceQuestion): DifferenceVerdict {
  const { exact, same, confounded } = of;
  const trusted = of.history && (of.history_fits === null || of.history_fits > alpha) ? of.history : null;
  const reachable = exact.least <= alpha;
  const known = history !== null && (history.brews === null || history.brews >= HISTORY_BREWS);
  const byExact = reachable && exact.p <= alpha;
  const byHistory = known && trusted !== null && trusted.p <= alpha / HISTORY_PART;
  if (confounded.length === 0) {
    // One-sided tests need half of what two-sided ones do.
    if (same && same.p <= alpha && (trusted || exact.least / 2 <= alpha)) return 'same';
    if (byExact || byHistory) return 'clear';
  }
  const hint = Math.min(
    trusted?.p ?? 1,
    reachable || trusted ? (of.alone?.p ?? 1) : 1,
    reachable ? exact.p : 1,
  );
  if (hint <= MAYBE) return 'maybe';
  return reachable || trusted ? 'not_shown' : 'cannot';
}
