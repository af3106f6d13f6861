import type { OvertimePenalty } from '../../documents/index.ts';

/** What running over by so many seconds costs. */
export interface Overtime {
  points: number;
  disqualified: boolean;
}

/** Steps after which the sum of an expectation stops; with a cap or a hard stop it ends long before. */
const MOST_STEPS = 20_000;

/** Penalty for `over` [s] past the limit; nothing for a run that is in time. */
export function penaltyFor(rule: OvertimePenalty, over: number): Overtime {
  if (!(over > 0)) return { points: 0, disqualified: false };
  const steps = (over - rule.grace_s) / rule.every_s;
  const counted = steps <= 0 ? 0 : roundedSteps(rule.counts, steps);
  return {
    points: Math.min(counted * rule.points, rule.cap_points ?? Number.POSITIVE_INFINITY),
    disqualified: rule.hard_stop_s !== null && over > rule.hard_stop_s,
  };
}

function roundedSteps(counts: OvertimePenalty['counts'], steps: number): number {
  // Seconds are sums of measured ones; a crumb of rounding must not begin a step.
  if (counts === 'begun') return Math.ceil(steps - 1e-9);
  return counts === 'whole' ? Math.floor(steps + 1e-9) : steps;
}

/** What is to be expected of a run whose length is not certain. */
export interface ExpectedOvertime {
  /** Expected points lost, a disqualified run counted with the points it had at the hard stop. */
  points: number;
  chanceOver: number;
  chanceDisqualified: number;
}

/**
 * Expected penalty when the chance of running over by more than x [s] is `above(x)`. Exact for steps: each step is its points times the
 * chance of reaching it; in proportion by Simpson's rule on that chance.
 */
export function expectedPenalty(rule: OvertimePenalty, above: (over: number) => number): ExpectedOvertime {
  const last = rule.hard_stop_s ?? Number.POSITIVE_INFINITY;
  const most =
    rule.points > 0 && rule.cap_points !== null ? rule.cap_points / rule.points : Number.POSITIVE_INFINITY;
  const points =
    rule.points === 0
      ? 0
      : rule.points *
        (rule.counts === 'in_proportion'
          ? proportionalSteps(rule, above, most, last)
          : wholeSteps(rule, above, most, last));
  return { points, chanceOver: above(0), chanceDisqualified: Number.isFinite(last) ? above(last) : 0 };
}

function wholeSteps(
  rule: OvertimePenalty,
  above: (over: number) => number,
  most: number,
  last: number,
): number {
  const first = rule.counts === 'begun' ? 0 : 1;
  let sum = 0;
  for (let step = 0; step < Math.min(most, MOST_STEPS); step++) {
    const at = rule.grace_s + (step + first) * rule.every_s;
    if (at >= last) break;
    const chance = above(at);
    sum += Math.min(1, most - step) * chance;
    if (chance < 1e-12) break;
  }
  return sum;
}

function proportionalSteps(
  rule: OvertimePenalty,
  above: (over: number) => number,
  most: number,
  last: number,
): number {
  const end = Math.min(last, rule.grace_s + most * rule.every_s, rule.grace_s + 3_600);
  const width = end - rule.grace_s;
  if (width <= 0) return 0;
  const pieces = 2_000;
  let sum = 0;
  for (let i = 0; i <= pieces; i++) {
    const factor = i === 0 || i === pieces ? 1 : i % 2 === 1 ? 4 : 2;
    sum += factor * above(rule.grace_s + (i / pieces) * width);
  }
  return (sum * width) / (3 * pieces) / rule.every_s;
}
