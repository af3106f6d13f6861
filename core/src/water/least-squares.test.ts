import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseItems } from './choose.ts';
import { type Gram, gramOf, makeNonNegative, type Row } from './least-squares.ts';
import { GAP, wholeSteps } from './whole-steps.ts';

const entry = fc.integer({ min: -9, max: 9 });
const problem = (n: number, m: number): fc.Arbitrary<Row[]> =>
  fc.array(
    fc.record({
      a: fc.array(entry, { minLength: n, maxLength: n }).map((v) => Float64Array.from(v)),
      b: fc.integer({ min: -50, max: 50 }),
    }),
    { minLength: m, maxLength: m },
  );

const costOf = (rows: readonly Row[], x: ArrayLike<number>): number =>
  rows.reduce((sum, { a, b }) => sum + (a.reduce((t, ai, i) => t + ai * x[i]!, 0) - b) ** 2, 0);

const costIn = (gram: Gram, x: ArrayLike<number>): number => {
  let cost = gram.btb;
  for (let i = 0; i < gram.n; i++) {
    cost -= 2 * x[i]! * gram.atb[i]!;
    for (let j = 0; j < gram.n; j++) cost += x[i]! * gram.ata[i * gram.n + j]! * x[j]!;
  }
  return cost;
};

const solve = (gram: Gram): { cost: number; x: Float64Array } => {
  const x = new Float64Array(gram.n);
  const cost = makeNonNegative(gram.n).solve(
    gram,
    new Uint8Array(gram.n).fill(1),
    new Float64Array(gram.n),
    x,
  );
  return { cost, x };
};

describe('least squares over what is not negative', () => {
  it('meets the conditions of Karush, Kuhn and Tucker, also where columns repeat', () => {
    fc.assert(
      fc.property(problem(5, 7), fc.boolean(), (rows, twins) => {
        if (twins) for (const row of rows) row.a[4] = row.a[1]!;
        const gram = gramOf(5, rows);
        const { x, cost } = solve(gram);
        expect(Math.abs(cost - costOf(rows, x))).toBeLessThan(1e-6);
        for (let i = 0; i < 5; i++) {
          let w = gram.atb[i]!;
          for (let j = 0; j < 5; j++) w -= gram.ata[i * 5 + j]! * x[j]!;
          expect(x[i]!).toBeGreaterThanOrEqual(0);
          expect(w).toBeLessThan(1e-5);
          expect(Math.abs(w * x[i]!)).toBeLessThan(1e-4);
        }
      }),
      { seed: 20_261_125, numRuns: 500 },
    );
  });
  it('is never above any point of a grid', () => {
    fc.assert(
      fc.property(problem(3, 4), (rows) => {
        const { cost } = solve(gramOf(3, rows));
        for (let i = 0; i < 6; i++)
          for (let j = 0; j < 6; j++)
            for (let k = 0; k < 6; k++) expect(cost).toBeLessThanOrEqual(costOf(rows, [i, j, k]) + 1e-6);
      }),
      { seed: 7, numRuns: 100 },
    );
  });
  it('leaves what is fixed where it is', () => {
    const gram = gramOf(2, [{ a: Float64Array.of(1, 1), b: 10 }]);
    const x = new Float64Array(2);
    const cost = makeNonNegative(2).solve(gram, Uint8Array.of(0, 1), Float64Array.of(4, 0), x);
    expect([...x]).toEqual([4, 6]);
    expect(cost).toBeCloseTo(0, 9);
  });
});

describe('whole steps', () => {
  it('are as good as trying every combination', () => {
    fc.assert(
      fc.property(problem(3, 4), fc.constantFrom(0.5, 1, 2), (rows, step) => {
        // A small pull to zero keeps the best combination inside the grid that is tried.
        const pulled = [
          ...rows,
          ...[0, 1, 2].map((i) => ({ a: Float64Array.from([0, 1, 2], (j) => (i === j ? 4 : 0)), b: 0 })),
        ];
        const gram = gramOf(3, pulled);
        const found = wholeSteps(gram, 3, Uint8Array.of(1, 1, 1), new Float64Array(3).fill(step));
        let best = Number.POSITIVE_INFINITY;
        const top = Math.ceil(13 / step);
        for (let i = 0; i <= top; i++)
          for (let j = 0; j <= top; j++)
            for (let k = 0; k <= top; k++)
              best = Math.min(best, costIn(gram, [i * step, j * step, k * step]));
        expect(found.proven).toBe(true);
        expect(found.cost).toBeLessThanOrEqual(best + GAP + 1e-6);
        expect(
          Math.abs(
            costIn(
              gram,
              found.steps.map((s) => s * step),
            ) - found.cost,
          ),
        ).toBeLessThan(1e-6);
      }),
      { seed: 20_261_125, numRuns: 60 },
    );
  });
});

describe('the fewest items', () => {
  it('are those that trying every subset finds', () => {
    fc.assert(
      fc.property(problem(5, 6), problem(5, 6), fc.constantFrom(0, 5, 200), (one, two, perItem) => {
        const problems = [one, two].map((rows) => ({ gram: gramOf(5, rows), slacks: 0 }));
        const found = chooseItems(problems, 5, () => 0, perItem);
        let best = Number.POSITIVE_INFINITY;
        for (let set = 0; set < 32; set++) {
          const use = Uint8Array.from({ length: 5 }, (_, i) => (set >> i) & 1);
          const count = use.reduce((n, u) => n + u, 0);
          const costs = problems.map(({ gram }) =>
            makeNonNegative(5).solve(gram, use, new Float64Array(5), new Float64Array(5)),
          );
          best = Math.min(best, costs[0]! + costs[1]! + perItem * count);
        }
        const score = found.cost[0]! + found.cost[1]! + perItem * found.use.reduce((n, u) => n + u, 0);
        expect(score).toBeLessThanOrEqual(best + 1e-5 * (1 + best));
      }),
      { seed: 3, numRuns: 60 },
    );
  });
  it('stops when told, and keeps what it has', () => {
    const rows = [{ a: Float64Array.of(1, 1, 1), b: 10 }];
    const found = chooseItems(
      [{ gram: gramOf(3, rows), slacks: 0 }],
      3,
      () => 0,
      1e-3,
      () => false,
    );
    expect(found.stopped).toBe(true);
    expect(found.use).toHaveLength(3);
  });
});
