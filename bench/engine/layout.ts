import type { BrewCase } from '../../core/src/brew/case.ts';
import { poolsOf, type State } from '../../core/src/brew/state.ts';

/**
 * Where the unknowns of a brew stand in one vector. First what only receives (solutes and temperature of the server), then
 * the cells from the bottom up, each with its pools before its own levels, then the head, the wall and the water served.
 * So almost every unknown touches near neighbours only, and the few that touch all stand last: little fill in a factor.
 */
export interface Layout {
  readonly size: number;
  readonly cells: number;
  readonly solutes: number;
  readonly pools: number;
  /** Solutes in the server, [solute]; then its temperature. */
  readonly served: number;
  readonly server: number;
  /** Water, temperature and dissolved solutes ([solute]) of the head. */
  readonly head: number;
  readonly wall: number;
  readonly servedWater: number;
}

/** Places within a cell, after its pools ([solute][pool]): water, absorbed, gas, temperature, dissolved ([solute]). */
export const WATER = 0;
export const ABSORBED = 1;
export const GAS = 2;
export const HEAT = 3;
export const DISSOLVED = 4;
/** Places within the head. */
export const HEAD_WATER = 0;
export const HEAD_HEAT = 1;
export const HEAD_DISSOLVED = 2;

/** The layout of a case of one path. @throws RangeError for more paths */
export function layoutOf(c: BrewCase): Layout {
  if (c.bed.paths.length !== 1) throw new RangeError('layoutOf: the general form knows one path only');
  const solutes = c.solutes.length;
  const pools = c.numerics.bins + 1;
  const { cells } = c.numerics;
  const head = solutes + 1 + cells * (solutes * pools + DISSOLVED + solutes);
  return {
    size: head + HEAD_DISSOLVED + solutes + 2,
    cells,
    solutes,
    pools,
    served: 0,
    server: solutes,
    head,
    wall: head + HEAD_DISSOLVED + solutes,
    servedWater: head + HEAD_DISSOLVED + solutes + 1,
  };
}

/** First pool of cell i, 1 at the top. */
export const poolsAt = (l: Layout, i: number): number =>
  l.solutes + 1 + (l.cells - i) * (l.solutes * l.pools + DISSOLVED + l.solutes);

/** Own levels of cell i, 1 at the top. */
export const cellAt = (l: Layout, i: number): number => poolsAt(l, i) + l.solutes * l.pools;

/** The vector at the start of a run. */
export function startVector(l: Layout, s: State, wall: number, server: number): Float64Array {
  const y = new Float64Array(l.size);
  const { now, levels } = s;
  for (let i = 1; i <= l.cells; i++) {
    const at = cellAt(l, i);
    y[at + WATER] = now.water[i]!;
    y[at + ABSORBED] = now.absorbed[i]!;
    y[at + GAS] = now.gas[i]!;
    y[at + HEAT] = levels.temperature[i]!;
    for (let q = 0; q < l.solutes; q++) {
      const pools = poolsOf(s, q, i);
      y.set(now.pool.subarray(pools, pools + l.pools), poolsAt(l, i) + q * l.pools);
    }
  }
  y[l.head + HEAD_WATER] = now.water[0]!;
  y[l.head + HEAD_HEAT] = levels.temperature[0]!;
  y[l.wall] = wall;
  y[l.server] = server;
  return y;
}

/** What counts as large for each unknown: absolute tolerances are shares of it. */
export function scales(l: Layout, c: BrewCase, s: State): Float64Array {
  const y = new Float64Array(l.size).fill(1);
  const KELVINS = 40;
  const liquid = 0.1;
  const cell = s.full[1]!;
  for (let i = 1; i <= l.cells; i++) {
    const at = cellAt(l, i);
    y[at + WATER] = cell;
    y[at + ABSORBED] = s.absorbMax[i]!;
    y[at + GAS] = Math.max(1e-9, c.gas.content * s.dry[i]!);
    y[at + HEAT] = KELVINS;
    for (let q = 0; q < l.solutes; q++) {
      const stock = (c.solutes[q]!.extractable * s.dry[i]!) / c.dryMass;
      y[at + DISSOLVED + q] = stock;
      for (let e = 0; e < l.pools; e++) y[poolsAt(l, i) + q * l.pools + e] = stock / l.pools;
    }
  }
  y[l.head + HEAD_WATER] = cell;
  y[l.head + HEAD_HEAT] = KELVINS;
  for (let q = 0; q < l.solutes; q++) {
    const stock = c.solutes[q]!.extractable;
    y[l.head + HEAD_DISSOLVED + q] = stock / l.cells;
    y[l.served + q] = stock;
  }
  y[l.wall] = KELVINS;
  y[l.server] = KELVINS;
  y[l.servedWater] = liquid;
  return y;
}

/**
 * For each row of the Jacobian the columns that may be other than 0, rising. The wall's own row is left out but for its
 * diagonal: it follows the bed slowly, so Newton does without, and as it touches every cell it would keep columns from being
 * moved together, at three times the price of a Jacobian.
 */
export function couplings(l: Layout): Int32Array[] {
  const rows = Array.from({ length: l.size }, (_, k) => new Set<number>([k]));
  const add = (row: number, columns: readonly number[]) => {
    for (const column of columns) rows[row]!.add(column);
  };
  /** Place of a level of node i, 0 for the head; nothing beyond the bed or for what the head does not have. */
  const level = (i: number, what: number): number[] => {
    if (i > l.cells || i < 0) return [];
    if (i > 0) return [cellAt(l, i) + what];
    if (what === ABSORBED || what === GAS) return [];
    return [l.head + (what === WATER ? HEAD_WATER : what === HEAT ? HEAD_HEAT : what - 2)];
  };
  const near = (i: number): number[] => [
    ...[i - 2, i - 1, i, i + 1].flatMap((k) => level(k, WATER)),
    ...[i - 1, i, i + 1].flatMap((k) => [...level(k, ABSORBED), ...level(k, GAS), ...level(k, HEAT)]),
    ...level(0, WATER),
    // The free surface is that of the head or, while it is bare, of the top cell.
    ...(i <= 1 ? [...level(0, HEAT), ...level(1, HEAT), ...level(1, WATER)] : []),
  ];
  const bottom = [...near(l.cells), ...level(0, HEAT), l.servedWater];
  for (let i = 0; i <= l.cells; i++) {
    const around = near(i);
    const outlet = i === l.cells ? [l.servedWater] : [];
    add(level(i, WATER)[0]!, [...around, ...outlet]);
    add(level(i, HEAT)[0]!, [...around, l.wall]);
    for (let q = 0; q < l.solutes; q++) {
      const own = level(i, DISSOLVED + q)[0]!;
      add(own, [...around, ...outlet, ...[i - 1, i + 1].flatMap((k) => level(k, DISSOLVED + q))]);
      if (i > 0)
        for (let e = 0; e < l.pools; e++) {
          const pool = poolsAt(l, i) + q * l.pools + e;
          add(own, [pool]);
          add(pool, [own, ...[WATER, ABSORBED, GAS, HEAT].flatMap((what) => level(i, what))]);
        }
    }
    if (i > 0) {
      add(level(i, ABSORBED)[0]!, [...level(i, WATER), ...level(i, GAS)]);
      add(level(i, GAS)[0]!, level(i, ABSORBED));
    }
  }
  add(l.servedWater, bottom);
  add(l.server, bottom);
  for (let q = 0; q < l.solutes; q++)
    add(l.served + q, [...bottom, ...level(l.cells, DISSOLVED + q), ...level(0, DISSOLVED + q)]);
  return rows.map((set) => Int32Array.from([...set].sort((a, b) => a - b)));
}
