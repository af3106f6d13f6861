import type { Distribution } from '../documents/index.ts';
import { normalCdf } from './special.ts';

/** Particle sizes as a table: mass shares over rising diameters. Both arrays have length P. */
export interface SizeTable {
  /** [m] */
  diameter: Float64Array;
  /** Mass share; sums to 1. */
  share: Float64Array;
}

const MICRON = 1e-6;
/** Bins of the fine grid that log-normal modes are laid on: 1 µm to 5 mm. */
const BINS = 240;
const SMALLEST = 1 * MICRON;
const LARGEST = 5_000 * MICRON;

/** Lays one distribution on a table: modes by their exact bin masses, measured classes as they are. */
export function tableOf(distribution: Distribution): SizeTable {
  if (distribution.by === 'classes') {
    const rows = distribution.classes.filter((row) => row.share > 0);
    return normalised(
      rows.map((row) => row.diameter_um * MICRON),
      rows.map((row) => row.share),
    );
  }
  const step = Math.log(LARGEST / SMALLEST) / BINS;
  const share = new Array<number>(BINS).fill(0);
  for (const mode of distribution.modes) {
    const centre = Math.log(mode.median_um * MICRON);
    const width = Math.log(mode.gsd);
    let below = 0;
    for (let k = 0; k < BINS; k++) {
      const edge = k === BINS - 1 ? 1 : normalCdf((Math.log(SMALLEST) + (k + 1) * step - centre) / width);
      share[k]! += mode.share * (edge - below);
      below = edge;
    }
  }
  const diameter = share.map((_, k) => SMALLEST * Math.exp((k + 0.5) * step));
  const kept = diameter.map((_, k) => k).filter((k) => share[k]! > 1e-9);
  return normalised(
    kept.map((k) => diameter[k]!),
    kept.map((k) => share[k]!),
  );
}

/** Mixes tables by mass. */
export function mixTables(parts: readonly { share: number; table: SizeTable }[]): SizeTable {
  const masses = new Map<number, number>();
  for (const { share, table } of parts)
    table.diameter.forEach((d, k) => {
      masses.set(d, (masses.get(d) ?? 0) + share * table.share[k]!);
    });
  const diameters = [...masses.keys()].sort((a, b) => a - b);
  return normalised(
    diameters,
    diameters.map((d) => masses.get(d)!),
  );
}

/**
 * Cuts a table into at most `count` classes (a table that is that small gives one class a row): everything below
 * `finesLimit` [m] is one class, the rest is cut into classes of equal mass. Each class is a table of its own, with the
 * shares it has of the whole: over all classes they sum to 1.
 */
export function cutTable(table: SizeTable, count: number, finesLimit: number): SizeTable[] {
  const rows = table.diameter.length;
  if (rows <= count) return Array.from(table.diameter, (d, k) => part([d], [table.share[k]!]));
  const classes: SizeTable[] = [];
  let diameters: number[] = [];
  let shares: number[] = [];
  const close = () => {
    if (diameters.length > 0) classes.push(part(diameters, shares));
    diameters = [];
    shares = [];
  };
  let k = 0;
  for (; k < rows && table.diameter[k]! < finesLimit; k++) {
    diameters.push(table.diameter[k]!);
    shares.push(table.share[k]!);
  }
  const coarse = 1 - shares.reduce((sum, x) => sum + x, 0);
  close();
  const target = coarse / Math.max(1, count - 1);
  let mass = 0;
  for (; k < rows; k++) {
    let left = table.share[k]!;
    while (left > 1e-12) {
      const taken = Math.min(left, target - mass);
      diameters.push(table.diameter[k]!);
      shares.push(taken);
      mass += taken;
      left -= taken;
      if (target - mass > 1e-9) break;
      close();
      mass = 0;
    }
  }
  close();
  return classes;
}

/** Mass share of a class, and the diameter that keeps its surface (mass over Σ mass/d, the Sauter mean) [m]. */
export function classMean(table: SizeTable): { share: number; diameter: number } {
  const share = table.share.reduce((sum, x) => sum + x, 0);
  const surface = table.share.reduce((sum, x, k) => sum + x / table.diameter[k]!, 0);
  return { share, diameter: share / surface };
}

const part = (diameters: readonly number[], shares: readonly number[]): SizeTable => ({
  diameter: Float64Array.from(diameters),
  share: Float64Array.from(shares),
});

/** Surface per volume of solid, Σ 6 x/d [1/m], the share below `finesLimit` weighted by `finesWeight`. */
export function specificSurface(table: SizeTable, finesLimit: number, finesWeight: number): number {
  let sum = 0;
  for (let k = 0; k < table.diameter.length; k++) {
    const weight = table.diameter[k]! < finesLimit ? finesWeight : 1;
    sum += (6 * weight * table.share[k]!) / table.diameter[k]!;
  }
  return sum;
}

/** Mass share below a diameter [m]. */
export function shareBelow(table: SizeTable, limit: number): number {
  let sum = 0;
  for (let k = 0; k < table.diameter.length; k++) if (table.diameter[k]! < limit) sum += table.share[k]!;
  return sum;
}

function normalised(diameters: readonly number[], shares: readonly number[]): SizeTable {
  const total = shares.reduce((sum, x) => sum + x, 0);
  return {
    diameter: Float64Array.from(diameters),
    share: Float64Array.from(shares, (x) => x / total),
  };
}
