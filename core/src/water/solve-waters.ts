import type { Progress } from '../brew/bands.ts';
import { usableOrder } from './check-order.ts';
import { chooseItems, MOST_ITEMS, solveSubset } from './choose.ts';
import type { Composition } from './composition.ts';
import { type WaterFigures, waterFigures } from './figures.ts';
import { makeNonNegative } from './least-squares.ts';
import type { WantedWater, WaterOrder } from './order.ts';
import {
  distance,
  isCurved,
  madeOf,
  type Table,
  tableOf,
  type WaterProblem,
  waterProblem,
} from './problem-rows.ts';
import type { WaterRemark } from './remarks.ts';
import { mixWaters } from './speciate.ts';
import { type Dose, sheetOf, type WeighSheet } from './weigh-sheet.ts';
import { wholeSteps } from './whole-steps.ts';

export interface SolvedWaters {
  sheets: WeighSheet[];
  /** Everything that any of the waters takes. */
  used: { item_id: string; name: string; kind: Dose['kind']; waters: string[] }[];
  /** What all pours of one brew make together; null when no water says how much is poured. */
  composite: { poured_g: number; composition: Composition; figures: WaterFigures } | null;
  /** About the order as a whole: what had to be put right. */
  remarks: WaterRemark[];
  stats: { solved: number; proven: boolean; stopped: boolean };
}

export interface SolveOptions {
  /** What one more salt or bottle must be worth, in squared tolerances. 0.05 is a miss of about 1 %. */
  perItem?: number;
  /** Leave doses exact instead of in whole steps. */
  exact?: boolean;
  /** Temperature that scale is judged at [°C]. */
  hot_C?: number;
  progress?: Progress;
}

/** How often a problem that is not straight is taken again at its own answer. */
const ROUNDS = 6;
/** Default of {@link SolveOptions.perItem}. */
const PER_ITEM = 0.05;

/**
 * Finds how to make several waters from one shelf: the fewest salts, concentrates and waters that come as near the targets as
 * any do (weights, ranges, hard limits), the same few for all of them, in whole steps of the instruments. Targets are met in
 * least squares of misses measured in tolerances. What cannot be meant or met is said in remarks; the nearest is always
 * given. Never throws for data.
 */
export function solveWaters(given: WaterOrder, options: SolveOptions = {}): SolvedWaters {
  const { order, remarks } = usableOrder(given);
  const table = tableOf(order);
  const n = table.items.length;
  const everything = new Uint8Array(n).fill(1);
  const price = (x: Float64Array): number =>
    table.items.reduce((sum, { price_per_g }, i) => sum + (price_per_g ?? 0) * x[i]!, 0);
  // What is curved is first seen from the answer with everything on the table, then from its own answer.
  const start: Settled = {
    problems: order.waters.map((water) => waterProblem(table, water, table.main.of)),
    near: order.waters.map(() => table.main.of),
    grams: null,
    solved: 0,
  };
  const seen = settle(order, table, start, everything);
  const choice = chooseItems(seen.problems, n, price, options.perItem ?? PER_ITEM, options.progress);
  const settled = settle(order, table, { ...seen, grams: choice.grams }, choice.use);
  let solved = settled.solved + choice.solved;
  let proven = n <= MOST_ITEMS;
  const sheets = order.waters.map((water, w) => {
    const exact = (settled.grams ?? choice.grams)[w]!;
    if (options.exact) return sheetOf(order, table, water, exact, exact, options.hot_C);
    const perStep = Float64Array.from(table.items, ({ step_g }) => (1000 * step_g) / water.batch_g);
    const own = choice.use.map((u, i) => (u && exact[i]! > 0 ? 1 : 0));
    const whole = wholeSteps(settled.problems[w]!.gram, n, own, perStep);
    solved += whole.solved;
    proven &&= whole.proven;
    const rounded = perStep.map((step, i) => whole.steps[i]! * step);
    return sheetOf(order, table, water, exact, rounded, options.hot_C);
  });
  return {
    sheets,
    used: usedIn(sheets),
    composite: compositeOf(order.waters, sheets, options.hot_C),
    remarks,
    stats: { solved, proven, stopped: choice.stopped },
  };
}

/** Problems of all waters, the compositions they were made at, and their answers. */
interface Settled {
  problems: WaterProblem[];
  near: Composition[];
  /** Grams of each item per kilogram, by water; null before anything was solved. */
  grams: Float64Array[] | null;
  solved: number;
}

/**
 * Takes problems that are not straight (conductivity, ratios) again at their own answers, with the same items in use, until
 * the waters stand still. Straight ones are left as they are.
 */
function settle(order: WaterOrder, table: Table, from: Settled, use: Uint8Array): Settled {
  if (!order.waters.some(isCurved)) return from;
  let { problems, near, grams, solved } = from;
  for (let round = 0; round < ROUNDS; round++) {
    grams ??= solveAll(problems, use);
    const next = grams.map((x) => madeOf(table, x));
    const moved = Math.max(0, ...next.map((c, w) => distance(c, near[w]!)));
    near = next;
    if (moved < 1e-7) break;
    problems = order.waters.map((water, w) => waterProblem(table, water, near[w]!));
    grams = solveAll(problems, use);
    solved += grams.length;
  }
  return { problems, near, grams, solved };
}

const solveAll = (problems: readonly WaterProblem[], use: Uint8Array): Float64Array[] =>
  problems.map(({ gram }) => {
    const x = new Float64Array(gram.n);
    solveSubset(makeNonNegative(gram.n), gram, use, x);
    return x.slice(0, use.length);
  });

function usedIn(sheets: readonly WeighSheet[]): SolvedWaters['used'] {
  const used = new Map<string, SolvedWaters['used'][number]>();
  for (const sheet of sheets)
    for (const { item_id, name, kind } of sheet.doses) {
      const entry = used.get(item_id) ?? { item_id, name, kind, waters: [] };
      entry.waters.push(sheet.water_id);
      used.set(item_id, entry);
    }
  return [...used.values()];
}

function compositeOf(
  waters: readonly WantedWater[],
  sheets: readonly WeighSheet[],
  hot_C?: number,
): SolvedWaters['composite'] {
  const parts = waters.flatMap(({ poured_g }, w) =>
    poured_g !== null && poured_g > 0
      ? [{ of: sheets[w]!.composition, mass: poured_g, sheet: sheets[w]! }]
      : [],
  );
  if (parts.length === 0) return null;
  const poured_g = parts.reduce((sum, { mass }) => sum + mass, 0);
  const composition = mixWaters(parts);
  const deviations = parts.flatMap(({ sheet, mass }) =>
    sheet.deviations.map(({ by, ...of }) => ({
      ...of,
      water: sheet.name,
      by: Object.fromEntries(
        Object.entries(by).map(([name, x]) => [name, (x * mass) / poured_g]),
      ) as unknown as Composition,
    })),
  );
  return { poured_g, composition, figures: waterFigures(composition, deviations, hot_C) };
}
