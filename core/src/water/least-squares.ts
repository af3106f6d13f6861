/**
 * Least squares over x ≥ 0 by the method of Lawson & Hanson 1974 in the form of Bro & de Jong 1997 (J. Chemometrics 11, 393),
 * which works on AᵀA and Aᵀb: many subsets of one problem are solved, and those two are made once.
 */
export interface Gram {
  /** Number of unknowns. */
  n: number;
  /** AᵀA, row by row [n × n]. */
  ata: Float64Array;
  /** Aᵀb [n]. */
  atb: Float64Array;
  /** bᵀb. */
  btb: number;
  /**
   * Unknowns from this one on are slacks, each in one row alone. The search starts with them, so that a row which they
   * can fill moves nothing else: an unknown that no other row asks for stays 0 instead of filling it.
   */
  slacksFrom: number;
}

/** One row of a problem: Σ a x ≈ b, as a sparse list. */
export interface Row {
  a: Float64Array;
  b: number;
}

/** Adds up AᵀA and Aᵀb. Every row of `a` has n entries. */
export function gramOf(n: number, rows: readonly Row[], slacksFrom = n): Gram {
  const ata = new Float64Array(n * n);
  const atb = new Float64Array(n);
  let btb = 0;
  for (const { a, b } of rows) {
    btb += b * b;
    for (let i = 0; i < n; i++) {
      const ai = a[i]!;
      if (ai === 0) continue;
      atb[i]! += ai * b;
      for (let j = 0; j < n; j++) ata[i * n + j]! += ai * a[j]!;
    }
  }
  return { n, ata, atb, btb, slacksFrom };
}

/** A solver for one size of problem, with its own arrays; give it problems one after another. */
export interface NonNegative {
  /**
   * Least squares over the unknowns that `free` marks (1), the others held at `fixed` [n]. Writes the answer into `x` [n] and
   * returns the sum of squares. Unknowns that are not free keep their fixed value, whatever its sign.
   */
  solve(gram: Gram, free: Uint8Array, fixed: Float64Array, x: Float64Array): number;
  /** Solves so far. */
  count: number;
}

/** Pivots below this share of their diagonal are taken as none: the column is a copy of others. */
const DEPENDENT = 1e-11;

export function makeNonNegative(n: number): NonNegative {
  const passive = new Int32Array(n);
  const inPassive = new Uint8Array(n);
  const L = new Float64Array(n * n);
  const s = new Float64Array(n);
  const rest = new Float64Array(n);
  const self: NonNegative = { solve, count: 0 };

  /** Solves the passive part by Cholesky into `s`; returns the number of the first dependent column, or -1. */
  function cholesky(ata: Float64Array, size: number): number {
    for (let i = 0; i < size; i++) {
      const row = passive[i]! * n;
      for (let j = 0; j <= i; j++) {
        let sum = ata[row + passive[j]!]!;
        for (let k = 0; k < j; k++) sum -= L[i * n + k]! * L[j * n + k]!;
        if (i === j) {
          if (!(sum > DEPENDENT * ata[row + passive[i]!]!)) return i;
          L[i * n + i] = Math.sqrt(sum);
        } else L[i * n + j] = sum / L[j * n + j]!;
      }
    }
    for (let i = 0; i < size; i++) {
      let sum = rest[passive[i]!]!;
      for (let k = 0; k < i; k++) sum -= L[i * n + k]! * s[k]!;
      s[i] = sum / L[i * n + i]!;
    }
    for (let i = size - 1; i >= 0; i--) {
      let sum = s[i]!;
      for (let k = i + 1; k < size; k++) sum -= L[k * n + i]! * s[k]!;
      s[i] = sum / L[i * n + i]!;
    }
    return -1;
  }

  function solve(
    { ata, atb, btb, slacksFrom }: Gram,
    free: Uint8Array,
    fixed: Float64Array,
    x: Float64Array,
  ): number {
    self.count++;
    let scale = 0;
    // Move what is fixed to the right-hand side.
    for (let i = 0; i < n; i++) {
      let sum = atb[i]!;
      for (let j = 0; j < n; j++) if (!free[j] && fixed[j] !== 0) sum -= ata[i * n + j]! * fixed[j]!;
      rest[i] = sum;
      x[i] = free[i] ? 0 : fixed[i]!;
      inPassive[i] = 0;
      if (free[i]) scale = Math.max(scale, Math.abs(sum) / Math.sqrt(ata[i * n + i]! || 1));
    }
    let size = 0;
    for (let i = slacksFrom; i < n; i++) {
      if (!free[i] || !(rest[i]! > 0)) continue;
      x[i] = rest[i]! / ata[i * n + i]!;
      passive[size++] = i;
      inPassive[i] = 1;
    }
    for (let round = 0; round < 6 * n + 20; round++) {
      // The steepest descent among those at zero, per unit length of its column.
      let best = -1;
      let steepest = 1e-11 * scale;
      for (let i = 0; i < n; i++) {
        if (!free[i] || inPassive[i]) continue;
        let w = rest[i]!;
        for (let k = 0; k < size; k++) w -= ata[i * n + passive[k]!]! * x[passive[k]!]!;
        const diagonal = ata[i * n + i]!;
        if (diagonal === 0) continue;
        w /= Math.sqrt(diagonal);
        if (w > steepest) {
          steepest = w;
          best = i;
        }
      }
      if (best < 0) break;
      passive[size++] = best;
      inPassive[best] = 1;
      for (;;) {
        const dependent = cholesky(ata, size);
        if (dependent >= 0) {
          drop(dependent);
          if (size === 0) break;
          continue;
        }
        let step = 1;
        let at = -1;
        for (let k = 0; k < size; k++) {
          if (s[k]! > 0) continue;
          const xk = x[passive[k]!]!;
          const share = xk / (xk - s[k]!);
          if (at < 0 || share < step) {
            step = share;
            at = k;
          }
        }
        if (at < 0) {
          for (let k = 0; k < size; k++) x[passive[k]!] = s[k]!;
          break;
        }
        for (let k = 0; k < size; k++) {
          const i = passive[k]!;
          x[i]! += step * (s[k]! - x[i]!);
        }
        drop(at);
        if (size === 0) break;
      }
    }
    let cost = btb;
    for (let i = 0; i < n; i++) {
      if (x[i] === 0) continue;
      cost -= 2 * x[i]! * atb[i]!;
      for (let j = 0; j < n; j++) if (x[j] !== 0) cost += x[i]! * ata[i * n + j]! * x[j]!;
    }
    return Math.max(0, cost);

    function drop(k: number): void {
      const i = passive[k]!;
      inPassive[i] = 0;
      x[i] = 0;
      size--;
      for (let m = k; m < size; m++) passive[m] = passive[m + 1]!;
    }
  }
  return self;
}
