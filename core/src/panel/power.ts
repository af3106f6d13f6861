import { criticalDifference, criticalSimilarity, type Sides } from './difference-test.ts';
import { binomialAtLeast, binomialAtMost, binomialMass } from './distributions.ts';
import { correctFrom, guessOf, type Protocol } from './protocols.ts';
import { shareCorrect } from './psychometric.ts';

/** How large a difference is assumed: d′, or the share of tasters who tell the cups apart. */
export type AssumedEffect = { d_prime: number } | { discriminators: number };

/** Share of right answers at an assumed effect. */
export const correctAt = (effect: AssumedEffect, protocol: Protocol): number =>
  'd_prime' in effect ? shareCorrect(effect.d_prime, protocol) : correctFrom(effect.discriminators, protocol);

/** A test that is planned: what it is to show, and at which level. */
export type TestPlan =
  | { aim: 'difference'; protocol: Protocol; alpha: number; sides?: Sides }
  /** To show that fewer than a share `limit` of tasters tells the cups apart; `alpha` is then the consumer's risk, often called β. */
  | { aim: 'similarity'; protocol: Protocol; alpha: number; limit: number };

/**
 * Chance that `total` answers show what is planned, when the true effect is `effect`. Exact; 0 when the level cannot be reached with
 * that many answers.
 */
export function testPower(plan: TestPlan, total: number, effect: AssumedEffect): number {
  const critical =
    plan.aim === 'similarity'
      ? criticalSimilarity(plan.protocol, total, plan.limit, plan.alpha)
      : criticalDifference(plan.protocol, total, plan.alpha, plan.sides);
  return critical === null ? 0 : powerAt(plan, total, critical, correctAt(effect, plan.protocol));
}

/** Chance to pass a critical number when the true share of right answers is `pc`. */
function powerAt(plan: TestPlan, total: number, critical: number, pc: number): number {
  if (plan.aim === 'similarity') return binomialAtMost(critical, total, pc);
  const other = plan.sides === 'two' ? binomialAtMost(total - critical, total, pc) : 0;
  return binomialAtLeast(critical, total, pc) + other;
}

/** How many answers a test needs. */
export interface SampleSize {
  /** Smallest number that reaches the power; because power is saw-toothed, a larger one may fall below again. */
  first: number;
  /** Smallest number from which every larger one reaches it too. */
  stable: number;
}

/** Largest number of answers that is looked at. */
export const MOST_ANSWERS = 5000;

/**
 * Answers needed so that a test shows what is planned with a chance of at least `wanted`; null when `MOST_ANSWERS` are not enough.
 * The stable number is the last that falls short, plus one: teeth shrink with more answers, so looking half as far again and 60
 * more is enough.
 */
export function sampleSize(plan: TestPlan, effect: AssumedEffect, wanted: number): SampleSize | null {
  const rough = roughly((n) => testPower(plan, n, effect) >= wanted);
  if (rough === null) return null;
  const pc = correctAt(effect, plan.protocol);
  let first: number | null = null;
  let lastShort = 0;
  let critical: number | null = null;
  for (let n = Math.max(1, rough.start); n <= rough.end; n++) {
    critical = nextCritical(plan, n, critical);
    if (critical !== null && powerAt(plan, n, critical, pc) >= wanted) first ??= n;
    else lastShort = n;
  }
  return first === null ? null : { first, stable: Math.max(first, lastShort + 1) };
}

/** Critical number for n answers from that for n − 1: it is the same or one more. */
function nextCritical(plan: TestPlan, n: number, before: number | null): number | null {
  if (plan.aim === 'similarity') {
    if (before === null) return criticalSimilarity(plan.protocol, n, plan.limit, plan.alpha);
    const more = binomialAtMost(before + 1, n, correctFrom(plan.limit, plan.protocol)) <= plan.alpha;
    return more ? before + 1 : before;
  }
  if (before === null) return criticalDifference(plan.protocol, n, plan.alpha, plan.sides);
  const level = plan.sides === 'two' ? plan.alpha / 2 : plan.alpha;
  return binomialAtLeast(before, n, guessOf(plan.protocol)) <= level ? before : before + 1;
}

/** Where to look closely: from half of a number that is enough, to half as far again. */
function roughly(reached: (n: number) => boolean): { start: number; end: number } | null {
  for (let n = 1; n <= MOST_ANSWERS; n = Math.max(n + 1, Math.floor(n * 1.02)))
    if (reached(n)) return { start: Math.floor(n * 0.6) - 20, end: Math.ceil(n * 1.5) + 60 };
  return null;
}

/** More answers that would decide a test that has begun. */
export interface MoreAnswers {
  /** More answers needed; 0 when it is decided already. */
  more: number;
  /** Chance that they decide it, at the assumed effect. */
  chance: number;
  /** How many of the new ones must be right. */
  needed: number;
  /** Chance that guessing passes at the first look or at the second: more than the level, because two looks are taken. */
  false_alarm: number;
}

/**
 * How many more answers would decide a test of difference with a chance of at least `wanted`, when `correct` of `total` are right so
 * far and the true share is that of `effect`. The answers so far are kept; what that costs is in `false_alarm`. null when
 * `MOST_ANSWERS` more are not enough.
 */
export function moreAnswers(
  plan: Extract<TestPlan, { aim: 'difference' }>,
  so_far: { correct: number; total: number },
  effect: AssumedEffect,
  wanted = 0.8,
): MoreAnswers | null {
  const pc = correctAt(effect, plan.protocol);
  // A two-sided test is decided for the side that leads.
  const leading =
    plan.sides === 'two' ? Math.max(so_far.correct, so_far.total - so_far.correct) : so_far.correct;
  for (let more = 0; more <= MOST_ANSWERS; more++) {
    const least = criticalDifference(plan.protocol, so_far.total + more, plan.alpha, plan.sides);
    if (least === null) continue;
    const needed = Math.max(0, least - leading);
    const chance = binomialAtLeast(needed, more, pc);
    if (chance >= wanted)
      return { more, needed, chance, false_alarm: falseAlarm(plan, so_far.total, more, least) };
  }
  return null;
}

/** Chance that guessing reaches the critical count after `first` answers, or `least` after `more`. */
function falseAlarm(
  plan: Extract<TestPlan, { aim: 'difference' }>,
  first: number,
  more: number,
  least: number,
): number {
  const guess = guessOf(plan.protocol);
  const early = criticalDifference(plan.protocol, first, plan.alpha, plan.sides) ?? first + 1;
  let sum = 0;
  for (let x = 0; x <= first; x++)
    sum += binomialMass(x, first, guess) * (x >= early ? 1 : binomialAtLeast(least - x, more, guess));
  // Both directions are alike under guessing, and cannot both be reached.
  return plan.sides === 'two' ? Math.min(1, 2 * sum) : sum;
}
