import type { Chance } from './random.ts';

/** One taster's order of cups, as positions from 0. */
export type Order = readonly number[];

/**
 * Williams' design: every cup once in each row, equally often in each place, and every cup equally often right after every other
 * (once for even numbers, twice for odd). Base row 1, 2, n, 3, n−1, …; the others add 1; for odd n the mirror images follow. Williams
 * 1949; as printed by MRC CBU, StatsWiki, "Counterbalancing".
 * @returns [n or 2n][n]
 */
export function williams(cups: number): number[][] {
  const base = [0];
  for (let k = 1; base.length < cups; k++) {
    base.push(k % cups);
    if (base.length < cups) base.push((cups - k) % cups);
  }
  const rows = Array.from({ length: cups }, (_, shift) => base.map((v) => (v + shift) % cups));
  return cups % 2 === 0 ? rows : [...rows, ...rows.map((row) => [...row].reverse())];
}

/** What is not balanced about a set of orders. */
export type BalanceFault =
  /** A row leaves out a cup or serves it twice. */
  | { code: 'not_each_once'; row: number }
  /** A cup stands more often in one place than in another by more than allowed. */
  | { code: 'places_uneven'; cup: number; place: number; times: number; fewest: number }
  /** One cup follows another more often than other pairs follow each other. */
  | { code: 'neighbours_uneven'; before: number; after: number; times: number; fewest: number };

/** What was counted of a set of orders. */
export interface Balance {
  /** How often each cup stands in each place: [cup][place]. */
  places: number[][];
  /** How often one cup comes right after another: [before][after]. */
  neighbours: number[][];
  /** True when both are even within `allowed`. */
  balanced: boolean;
  faults: BalanceFault[];
}

/**
 * Counts how even a set of orders is. `allowed` is the largest difference of counts that passes: 0 for whole sets, 1 when some rows
 * are missing. A Latin square such as ABCD, BADC, CDAB, DCBA has even places and very uneven neighbours, and is refused.
 * @param orders [rows][cups]
 */
export function checkBalance(orders: readonly Order[], allowed = 0): Balance {
  const cups = orders[0]?.length ?? 0;
  const grid = () => Array.from({ length: cups }, () => new Array<number>(cups).fill(0));
  const places = grid();
  const neighbours = grid();
  const faults: BalanceFault[] = [];
  orders.forEach((row, r) => {
    const whole = row.length === cups && new Set(row).size === cups && row.every((c) => c >= 0 && c < cups);
    if (!whole) {
      faults.push({ code: 'not_each_once', row: r });
      return;
    }
    row.forEach((cup, place) => {
      places[cup]![place]! += 1;
      if (place > 0) neighbours[row[place - 1]!]![cup]! += 1;
    });
  });
  const fewestPlace = Math.min(...places.flat());
  const pairs = neighbours.flatMap((row, before) => row.filter((_, after) => after !== before));
  const fewestPair = Math.min(...pairs);
  places.forEach((row, cup) => {
    row.forEach((times, place) => {
      if (times - fewestPlace > allowed)
        faults.push({ code: 'places_uneven', cup, place, times, fewest: fewestPlace });
    });
  });
  neighbours.forEach((row, before) => {
    row.forEach((times, after) => {
      if (times - fewestPair > allowed)
        faults.push({ code: 'neighbours_uneven', before, after, times, fewest: fewestPair });
    });
  });
  return { places, neighbours, balanced: faults.length === 0, faults };
}

/** How often the rows beyond whole sets are chosen anew; the most even choice is kept. */
const TRIES = 30;

/**
 * Orders for any number of tasters: whole Williams sets as far as they go, then single rows of a set chosen one by one so that neighbours
 * come out as even as possible, and places after that. Which cup has which number, and who gets which row, is left to chance.
 * @returns [tasters][cups]
 */
export function servingOrders(tasters: number, cups: number, chance: Chance): number[][] {
  const set = williams(cups);
  const whole = Array.from({ length: Math.floor(tasters / set.length) }, () => set).flat();
  const missing = tasters - whole.length;
  let best = { rows: whole, cost: Number.POSITIVE_INFINITY };
  for (let attempt = 0; attempt < (missing > 0 ? TRIES : 1); attempt++) {
    const rows = [...whole, ...chosenRows(set, missing, chance)];
    const cost = unevenness(rows, cups);
    if (cost < best.cost) best = { rows, cost };
  }
  const label = chance.shuffle([...Array(cups).keys()]);
  return chance.shuffle(best.rows.map((row) => row.map((c) => label[c]!)));
}

/** Rows of a set, one by one, each the one that leaves things most even; the first and ties by chance. */
function chosenRows(set: readonly number[][], count: number, chance: Chance): number[][] {
  const left = [...set];
  const rows: number[][] = [];
  while (rows.length < count) {
    const scored = left.map((row) => ({ row, cost: unevenness([...rows, row], row.length) }));
    const least = Math.min(...scored.map(({ cost }) => cost));
    const ties = scored.filter(({ cost }) => cost === least);
    const { row } = ties[chance.whole(0, ties.length - 1)]!;
    left.splice(left.indexOf(row), 1);
    rows.push(row);
  }
  return rows;
}

/** Weight of neighbours against places: taste carries over to the next cup more than the place in a row matters. */
const NEIGHBOUR_WEIGHT = 100;

/** Squares of how often pairs are neighbours and cups stand in one place: smaller is more even. */
function unevenness(rows: readonly Order[], cups: number): number {
  const places = new Int32Array(cups * cups);
  const neighbours = new Int32Array(cups * cups);
  for (const row of rows)
    row.forEach((cup, place) => {
      places[cup * cups + place]! += 1;
      if (place > 0) neighbours[row[place - 1]! * cups + cup]! += 1;
    });
  const squares = (of: Int32Array) => of.reduce((t, n) => t + n * n, 0);
  return NEIGHBOUR_WEIGHT * squares(neighbours) + squares(places);
}

/**
 * Partial orders: each taster tastes only `perTaster` of the cups, every cup is tasted as often as any other within one, and cups that
 * were together seldom so far are put together. Order within a taster is by chance. For sets too large for one palate.
 * @returns [tasters][perTaster]
 */
export function partialOrders(tasters: number, cups: number, perTaster: number, chance: Chance): number[][] {
  const served = new Array<number>(cups).fill(0);
  const together = Array.from({ length: cups }, () => new Array<number>(cups).fill(0));
  return Array.from({ length: tasters }, () => {
    const row: number[] = [];
    while (row.length < perTaster) {
      const cost = (c: number) => 1000 * served[c]! + row.reduce((t, other) => t + together[c]![other]!, 0);
      const open = [...Array(cups).keys()].filter((c) => !row.includes(c));
      const least = Math.min(...open.map(cost));
      const best = open.filter((c) => cost(c) === least);
      const chosen = best[chance.whole(0, best.length - 1)]!;
      for (const other of row) {
        together[chosen]![other]! += 1;
        together[other]![chosen]! += 1;
      }
      served[chosen]! += 1;
      row.push(chosen);
    }
    return chance.shuffle(row);
  });
}
