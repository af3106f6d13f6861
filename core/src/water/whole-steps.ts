import { type Gram, makeNonNegative } from './least-squares.ts';

/** Doses in whole steps of the instruments. */
export interface WholeSteps {
  /** Steps of each item; 0 for items not in use. */
  steps: number[];
  /** Sum of squared misses in tolerances with these steps. */
  cost: number;
  /** Problems solved on the way, and whether the best is proven (to within {@link GAP}). */
  solved: number;
  proven: boolean;
}

/** A gain of the sum of squares not worth looking for: a miss of 1 % of a tolerance. */
export const GAP = 1e-4;
const MOST_SOLVES = 4000;

/**
 * The best doses in whole steps: branch and bound. One item after another is fixed at a number of steps, nearest to what the
 * rest of the problem wants first; a branch is left when even with the remaining items free it cannot be better.
 * `stepGrams`: one step of each item, in grams per kilogram.
 */
export function wholeSteps(gram: Gram, items: number, use: Uint8Array, stepGrams: Float64Array): WholeSteps {
  const solver = makeNonNegative(gram.n);
  const free = new Uint8Array(gram.n).fill(1);
  free.set(use);
  const fixed = new Float64Array(gram.n);
  const order = [...Array(items).keys()].filter((i) => use[i]);
  let bestCost = Number.POSITIVE_INFINITY;
  let best: Float64Array = new Float64Array(items);
  let proven = true;

  const relaxed = (): { cost: number; x: Float64Array } => {
    const x = new Float64Array(gram.n);
    return { cost: solver.solve(gram, free, fixed, x), x };
  };

  const visit = (here: { cost: number; x: Float64Array }, left: readonly number[]): void => {
    if (here.cost >= bestCost - GAP) return;
    if (left.length === 0) {
      bestCost = here.cost;
      best = fixed.slice(0, items);
      return;
    }
    if (solver.count > MOST_SOLVES) {
      proven = false;
      return;
    }
    // The item with the coarsest step has the most to say; it goes first.
    const at = left.reduce((worst, i) => (coarse(i) > coarse(worst) ? i : worst));
    const rest = left.filter((i) => i !== at);
    const step = stepGrams[at]!;
    const wanted = here.x[at]! / step;
    free[at] = 0;
    // Outwards from the wanted number on both sides; each side ends when its bound is no better.
    const sides: { next: number; by: 1 | -1; open: boolean }[] = [
      { next: Math.floor(wanted), by: -1, open: true },
      { next: Math.floor(wanted) + 1, by: 1, open: true },
    ];
    while (sides.some(({ open }) => open)) {
      const [down, up] = sides as [(typeof sides)[0], (typeof sides)[0]];
      const nearer = !up.open || (down.open && wanted - down.next <= up.next - wanted) ? down : up;
      if (nearer.next < 0) {
        nearer.open = false;
        continue;
      }
      fixed[at] = nearer.next * step;
      const child = relaxed();
      if (child.cost >= bestCost - GAP || solver.count > MOST_SOLVES) nearer.open = false;
      if (solver.count > MOST_SOLVES && bestCost < Number.POSITIVE_INFINITY) proven = false;
      visit(child, rest);
      nearer.next += nearer.by;
    }
    fixed[at] = 0;
    free[at] = 1;
  };
  const coarse = (i: number): number => stepGrams[i]! * Math.sqrt(gram.ata[i * gram.n + i]!);

  visit(relaxed(), order);
  return {
    steps: Array.from({ length: items }, (_, i) => (use[i] ? Math.round(best[i]! / stepGrams[i]!) : 0)),
    cost: bestCost,
    solved: solver.count,
    proven,
  };
}
