import type { Difference } from './d-prime.ts';
import {
  type Answers,
  criticalDifference,
  criticalSimilarity,
  differenceP,
  fewestAnswers,
  type Sides,
  similarityP,
} from './difference-test.ts';
import { binomialAtMost } from './distributions.ts';
import { chanceWords, type Finding, finding, MAYBE, percent, rounded, writtenP } from './findings.ts';
import {
  type AssumedEffect,
  MOST_ANSWERS,
  moreAnswers,
  sampleSize,
  type TestPlan,
  testPower,
} from './power.ts';
import { guessOf, PROTOCOLS } from './protocols.ts';

/** Chance of finding a difference that is called enough; common practice. */
const WANTED = 0.8;

const effectWords = (effect: AssumedEffect): string =>
  'd_prime' in effect
    ? `d′ ${rounded(effect.d_prime)}`
    : `${percent(effect.discriminators)} % of tasters who can tell`;

/**
 * What a test can show, before anything is poured: whether its level can be reached at all, what counts, with what chance a difference of
 * the assumed size is found, and how many answers would do.
 */
export function sayPlan(plan: TestPlan, total: number, effect: AssumedEffect): Finding[] {
  const findings = plan.aim === 'difference' ? differenceReach(plan, total) : similarityReach(plan, total);
  findings.push(finding('note', 'sips', { sips: PROTOCOLS[plan.protocol].served }));
  if (findings[0]!.firmness === 'cannot') return findings;
  const similar = plan.aim === 'similarity';
  const power = testPower(plan, total, effect);
  const words = effectWords(effect);
  findings.push(
    finding('note', similar ? 'similarity_power' : 'power_of', { effect: words, power: percent(power) }),
  );
  if (power >= WANTED) return findings;
  const size = sampleSize(plan, effect, WANTED);
  const values = { effect: words, missed: percent(1 - power), wanted: percent(WANTED) };
  findings.push(
    size === null
      ? finding('caution', similar ? 'similarity_never' : 'power_never', { ...values, most: MOST_ANSWERS })
      : finding('caution', similar ? 'similarity_size' : 'power_low', { ...values, ...size }),
  );
  return findings;
}

function differenceReach(plan: Extract<TestPlan, { aim: 'difference' }>, total: number): Finding[] {
  const { protocol, alpha, sides = 'one' } = plan;
  const least = criticalDifference(protocol, total, alpha, sides);
  if (least !== null) return [finding('note', 'difference_reach', { least, total, alpha })];
  const chance = chanceWords(differenceP({ protocol, correct: total, total }, sides));
  return [
    finding('cannot', 'difference_cannot_reach', {
      total,
      alpha,
      chance,
      fewest: fewestAnswers(protocol, alpha, sides),
    }),
  ];
}

function similarityReach(plan: Extract<TestPlan, { aim: 'similarity' }>, total: number): Finding[] {
  const { protocol, alpha } = plan;
  const limit = percent(plan.limit);
  const most = criticalSimilarity(protocol, total, plan.limit, alpha);
  if (most === null) return [finding('cannot', 'similarity_cannot_reach', { total, alpha, limit })];
  const findings = [finding('note', 'similarity_reach', { most, total, limit, alpha })];
  const guessed = total * guessOf(protocol);
  // Even cups that nobody can tell apart would mostly fail.
  if (binomialAtMost(most, total, guessOf(protocol)) < 0.5)
    findings.push(
      finding('caution', 'similarity_expects_below_guessing', { guessed: rounded(guessed, 1), total, most }),
    );
  return findings;
}

/** What the answers of a difference test mean. Two-sided is meant for preferences. */
export function sayDifference(
  answers: Answers,
  alpha: number,
  size: Difference,
  sides: Sides = 'one',
): Finding[] {
  const { protocol, correct, total } = answers;
  const p = differenceP(answers, sides);
  if (criticalDifference(protocol, total, alpha, sides) === null)
    return [
      finding('cannot', 'difference_level_unreachable', {
        total,
        alpha,
        fewest: fewestAnswers(protocol, alpha, sides),
      }),
    ];
  const firmness = p <= alpha ? 'clear' : p <= MAYBE ? 'maybe' : 'not_shown';
  const values = { total, alpha, chance: chanceWords(p), p: writtenP(p) };
  const main =
    sides === 'two'
      ? finding(firmness, `preference_${firmness}`, { ...values, most: Math.max(correct, total - correct) })
      : finding(firmness, `difference_${firmness}`, {
          ...values,
          correct,
          high: percent(size.interval.discriminators.high),
        });
  return sides === 'two' ? [main] : [main, saySize(size)];
}

function saySize({ d_prime, interval }: Difference): Finding {
  const values = {
    level: percent(interval.level),
    low: rounded(interval.d_prime.low),
    kind: interval.kind.replace('_', ' '),
  };
  return Number.isFinite(d_prime.value)
    ? finding('note', 'size', { ...values, d: rounded(d_prime.value), high: rounded(interval.d_prime.high) })
    : finding('note', 'size_open', values);
}

/** How many more cups would decide a test that did not. */
export function sayMore(
  plan: Extract<TestPlan, { aim: 'difference' }>,
  so_far: { correct: number; total: number },
  effect: AssumedEffect,
): Finding {
  const found = moreAnswers(plan, so_far, effect, WANTED);
  const words = effectWords(effect);
  if (found === null) return finding('note', 'more_cups_never', { effect: words, most: MOST_ANSWERS });
  if (found.more === 0) return finding('note', 'decided');
  return finding('note', 'more_cups', {
    more: found.more,
    needed: found.needed,
    effect: words,
    chance: percent(found.chance),
    alarm: percent(found.false_alarm),
  });
}

/** What the answers of a similarity test mean. */
export function saySimilarity(answers: Answers, limit: number, alpha: number): Finding {
  const { protocol, correct, total } = answers;
  if (criticalSimilarity(protocol, total, limit, alpha) === null)
    return finding('cannot', 'similarity_cannot_reach', { total, alpha, limit: percent(limit) });
  const p = similarityP(answers, limit);
  const firmness = p <= alpha ? 'clear' : p <= MAYBE ? 'maybe' : 'not_shown';
  return finding(firmness, `similarity_${firmness}`, {
    correct,
    total,
    alpha,
    limit: percent(limit),
    chance: chanceWords(p),
    p: writtenP(p),
  });
}
