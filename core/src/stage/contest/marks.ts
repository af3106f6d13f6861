import type { Category, Contest } from '../../documents/index.ts';
import { type Checked, type Problem, problem } from '../../documents/problem.ts';

/** Marks by category id: one for each judge who gives it. */
export type Marks = Readonly<Record<string, readonly number[]>>;

/** Points of the total for one mark more in a category. */
export interface MarkPrice {
  category: Category;
  /** … from one judge. */
  one: number;
  /** … from everyone who gives it. */
  all: number;
}

/** What has to be known before marks can be turned into points. */
export function unpriceable(contest: Contest): Problem[] {
  const problems: Problem[] = [];
  if (contest.categories.length === 0)
    problems.push(problem(['categories'], 'too_few', { value: 0, limit: 1 }));
  if (contest.combination === null)
    problems.push(problem(['combination'], 'missing', { expected: 'how marks become a total' }));
  if (contest.judges === null && contest.categories.some(({ by }) => by === 'each_judge'))
    problems.push(problem(['judges'], 'missing', { expected: 'the number of sensory judges' }));
  return problems;
}

/** How many people give a category; the contest must be priceable. */
const givers = (contest: Contest, { by }: Category): number => (by === 'head_judge' ? 1 : contest.judges!);

/** Points of the total for every mark, category by category. The formula is linear, so the price is the same everywhere. */
export function markPrices(contest: Contest): Checked<MarkPrice[]> {
  const problems = unpriceable(contest);
  if (problems.length > 0) return { ok: false, problems };
  const { parts, divide_by } = contest.combination!;
  return {
    ok: true,
    value: contest.categories.map((category) => {
      const people = givers(contest, category);
      let all = 0;
      for (const { category_ids, over_judges, factor } of parts)
        for (const id of category_ids)
          if (id === category.id) all += factor * category.weight * (over_judges === 'sum' ? people : 1);
      all /= divide_by;
      return { category, all, one: all / people };
    }),
  };
}

/** Total of a score sheet; a mark off the scale, off its steps or missing is a problem. */
export function totalOfMarks(contest: Contest, marks: Marks): Checked<number> {
  const prices = markPrices(contest);
  if (!prices.ok) return prices;
  const problems = prices.value.flatMap(({ category }) =>
    badMarks(category, marks[category.id], givers(contest, category)),
  );
  if (problems.length > 0) return { ok: false, problems };
  const total = prices.value.reduce(
    (sum, { category, one }) => sum + one * marks[category.id]!.reduce((a, b) => a + b, 0),
    0,
  );
  return { ok: true, value: total };
}

function badMarks(category: Category, given: readonly number[] | undefined, people: number): Problem[] {
  const path = ['marks', category.name];
  if (!given || given.length < people)
    return [problem(path, 'too_few', { value: given?.length ?? 0, limit: people })];
  if (given.length > people) return [problem(path, 'too_many', { value: given.length, limit: people })];
  return given.flatMap((mark, i) => {
    if (!(mark >= category.min))
      return [problem([...path, i], 'too_small', { value: mark, limit: category.min })];
    if (mark > category.max) return [problem([...path, i], 'too_big', { value: mark, limit: category.max })];
    const steps = (mark - category.min) / category.step;
    return Math.abs(steps - Math.round(steps)) > 1e-6
      ? [problem([...path, i], 'off_step', { value: mark, limit: category.step, from: category.min })]
      : [];
  });
}
