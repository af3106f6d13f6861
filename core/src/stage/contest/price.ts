import type { Contest } from '../../documents/index.ts';
import { type Checked, type Problem, problem } from '../../documents/problem.ts';
import { normalCdf } from '../../panel/distributions.ts';
import { markPrices } from './marks.ts';
import { type ExpectedOvertime, expectedPenalty } from './overtime.ts';

/** A choice and what it is thought to change. */
export interface Choice {
  name: string;
  marks: readonly {
    category_id: string;
    /** How much the mark is expected to move, and its standard uncertainty. */
    by: number;
    sd: number;
    /** How many of those who give it; null: all. */
    judges: number | null;
  }[];
  /** Length of the run with this choice [s]; null when it does not matter. */
  run: { mean_s: number; sd_s: number } | null;
}

/** A choice in points of the total. */
export interface PricedChoice {
  name: string;
  /** Expected points, and their spread when all judges move together. */
  points: number;
  sd: number;
  from_marks: number;
  from_time: number;
  overtime: ExpectedOvertime | null;
  /** Chance that the choice is worth more than nothing. */
  chance_better: number;
}

/**
 * Points of choices, dearest first. Marks of one choice are taken to move together (halo), so their spreads add up: independent ones would
 * understate it. The length of a run is taken as normal.
 */
export function priceChoices(contest: Contest, choices: readonly Choice[]): Checked<PricedChoice[]> {
  const prices = markPrices(contest);
  if (!prices.ok) return prices;
  const problems: Problem[] = [];
  const known = new Map(prices.value.map((price) => [price.category.id, price]));
  choices.forEach((choice, c) => {
    choice.marks.forEach(({ category_id }, m) => {
      if (!known.has(category_id))
        problems.push(
          problem(['choices', c, 'marks', m, 'category_id'], 'unknown_category', {
            value: JSON.stringify(category_id),
            allowed: [...known.keys()].join(', '),
          }),
        );
    });
    if (choice.run && contest.timers.run_s === null)
      problems.push(problem(['timers', 'run_s'], 'missing', { expected: 'the seconds of a run' }));
    if (choice.run && contest.penalty === null)
      problems.push(problem(['penalty'], 'missing', { expected: 'what running over costs' }));
  });
  if (problems.length > 0) return { ok: false, problems };
  const value = choices.map((choice) => {
    let marks = 0;
    let sd = 0;
    for (const { category_id, by, sd: spread, judges } of choice.marks) {
      const { one, all } = known.get(category_id)!;
      const price = judges === null ? all : one * judges;
      marks += price * by;
      sd += Math.abs(price) * spread;
    }
    return pricedOf(contest, choice, marks, sd);
  });
  return { ok: true, value: value.sort((a, b) => b.points - a.points) };
}

function pricedOf(contest: Contest, choice: Choice, marks: number, sd: number): PricedChoice {
  const { run, name } = choice;
  const overtime =
    run &&
    expectedPenalty(contest.penalty!, (over) => {
      const limit = contest.timers.run_s! + over;
      return run.sd_s > 0 ? normalCdf((run.mean_s - limit) / run.sd_s) : run.mean_s > limit ? 1 : 0;
    });
  const points = marks - (overtime?.points ?? 0);
  return {
    name,
    points,
    sd,
    from_marks: marks,
    from_time: overtime ? -overtime.points : 0,
    overtime,
    chance_better: sd > 0 ? normalCdf(points / sd) : points > 0 ? 1 : 0,
  };
}
