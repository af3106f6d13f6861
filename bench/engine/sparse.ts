/** A square matrix by the columns of each row that may be other than 0. */
export interface Sparse {
  readonly rows: readonly Int32Array[];
  readonly values: readonly Float64Array[];
}

export const sparseOf = (rows: readonly Int32Array[]): Sparse => ({
  rows,
  values: rows.map((columns) => new Float64Array(columns.length)),
});

type Slope = (t: number, y: Float64Array, out: Float64Array) => void;

/**
 * Jacobians by differences: columns that share no row are moved together (Curtis, Powell and Reid 1974), so a Jacobian costs
 * as many right-hand sides as there are groups.
 */
export class Differences {
  /** Columns of each group, and its entries as row, place in the row, column. */
  readonly #columns: Int32Array[];
  readonly #entries: Int32Array[];
  readonly #moved: Float64Array;
  readonly #step: Float64Array;
  readonly #slope: Float64Array;

  constructor(rows: readonly Int32Array[]) {
    const n = rows.length;
    const group = groupColumns(rows);
    const groups = 1 + Math.max(...group);
    const columns = Array.from({ length: groups }, (): number[] => []);
    const entries = Array.from({ length: groups }, (): number[] => []);
    group.forEach((g, j) => {
      columns[g]!.push(j);
    });
    rows.forEach((own, i) => {
      own.forEach((j, k) => {
        entries[group[j]!]!.push(i, k, j);
      });
    });
    this.#columns = columns.map((list) => Int32Array.from(list));
    this.#entries = entries.map((list) => Int32Array.from(list));
    this.#moved = new Float64Array(n);
    this.#step = new Float64Array(n);
    this.#slope = new Float64Array(n);
  }

  get groups(): number {
    return this.#columns.length;
  }

  /** Fills `out` with ∂f/∂y at `y`, where f is `at` already; `scale` says what is large for each unknown. */
  fill(f: Slope, t: number, y: Float64Array, at: Float64Array, scale: Float64Array, out: Sparse): void {
    const moved = this.#moved;
    const step = this.#step;
    const slope = this.#slope;
    for (let j = 0; j < y.length; j++) step[j] = 1e-7 * Math.max(Math.abs(y[j]!), 0.01 * scale[j]!);
    moved.set(y);
    this.#columns.forEach((columns, g) => {
      for (const j of columns) moved[j]! += step[j]!;
      f(t, moved, slope);
      for (const j of columns) moved[j] = y[j]!;
      const entries = this.#entries[g]!;
      for (let k = 0; k < entries.length; k += 3) {
        const i = entries[k]!;
        out.values[i]![entries[k + 1]!] = (slope[i]! - at[i]!) / step[entries[k + 2]!]!;
      }
    });
  }
}

/** A group for each column, as few as a first fit finds, fullest columns first. */
function groupColumns(rows: readonly Int32Array[]): Int32Array {
  const n = rows.length;
  const rowsOf = Array.from({ length: n }, (): number[] => []);
  rows.forEach((columns, i) => {
    for (const j of columns) rowsOf[j]!.push(i);
  });
  const group = new Int32Array(n);
  const taken: Uint8Array[] = [];
  const order = Array.from({ length: n }, (_, j) => j).sort((a, b) => rowsOf[b]!.length - rowsOf[a]!.length);
  for (const j of order) {
    let g = taken.findIndex((rowsTaken) => rowsOf[j]!.every((i) => rowsTaken[i] === 0));
    if (g < 0) g = taken.push(new Uint8Array(n)) - 1;
    for (const i of rowsOf[j]!) taken[g]![i] = 1;
    group[j] = g;
  }
  return group;
}

/**
 * L·U of I − c·J for a pattern that is known beforehand: where fill arises is worked out once, numbers row by row. In the order
 * given and without pivoting; the rows of a balance are dominant.
 */
export class SparseFactor {
  /** Columns of each row with fill, rising, all rows after each other; where each row begins and has its diagonal. */
  readonly #columns: Int32Array;
  readonly #begin: Int32Array;
  readonly #middle: Int32Array;
  readonly #values: Float64Array;
  readonly #pivot: Float64Array;
  readonly #work: Float64Array;

  constructor(rows: readonly Int32Array[]) {
    const n = rows.length;
    const filled = withFill(rows);
    this.#begin = new Int32Array(n + 1);
    this.#middle = new Int32Array(n);
    filled.forEach((columns, i) => {
      this.#begin[i + 1] = this.#begin[i]! + columns.length;
      this.#middle[i] = this.#begin[i]! + columns.indexOf(i);
    });
    this.#columns = Int32Array.from(filled.flat());
    this.#values = new Float64Array(this.#columns.length);
    this.#pivot = new Float64Array(n);
    this.#work = new Float64Array(n);
  }

  /** Numbers kept in the factor. */
  get stored(): number {
    return this.#values.length;
  }

  factor(c: number, { rows, values }: Sparse): void {
    const columns = this.#columns;
    const begin = this.#begin;
    const middle = this.#middle;
    const kept = this.#values;
    const pivot = this.#pivot;
    const work = this.#work;
    for (let i = 0; i < rows.length; i++) {
      const own = rows[i]!;
      const entries = values[i]!;
      for (let k = 0; k < own.length; k++) work[own[k]!] = -c * entries[k]!;
      work[i]! += 1;
      for (let k = begin[i]!; k < middle[i]!; k++) {
        const j = columns[k]!;
        const times = work[j]! * pivot[j]!;
        kept[k] = times;
        work[j] = 0;
        if (times === 0) continue;
        const end = begin[j + 1]!;
        for (let m = middle[j]! + 1; m < end; m++) work[columns[m]!]! -= times * kept[m]!;
      }
      const end = begin[i + 1]!;
      for (let k = middle[i]!; k < end; k++) {
        const j = columns[k]!;
        kept[k] = work[j]!;
        work[j] = 0;
      }
      pivot[i] = 1 / kept[middle[i]!]!;
    }
  }

  /** Solves in place. */
  solve(x: Float64Array): void {
    const columns = this.#columns;
    const begin = this.#begin;
    const middle = this.#middle;
    const kept = this.#values;
    const n = x.length;
    for (let i = 0; i < n; i++) {
      let sum = x[i]!;
      const end = middle[i]!;
      for (let k = begin[i]!; k < end; k++) sum -= kept[k]! * x[columns[k]!]!;
      x[i] = sum;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = x[i]!;
      const end = begin[i + 1]!;
      for (let k = middle[i]! + 1; k < end; k++) sum -= kept[k]! * x[columns[k]!]!;
      x[i] = sum * this.#pivot[i]!;
    }
  }
}

/** The pattern of L and U together: elimination of a column adds what stands right of its diagonal to every row below. */
function withFill(rows: readonly Int32Array[]): number[][] {
  const filled: number[][] = [];
  rows.forEach((own, i) => {
    const columns = new Set<number>([i, ...own]);
    const waiting = [...columns].filter((j) => j < i).sort((a, b) => b - a);
    while (waiting.length > 0) {
      const j = waiting.pop()!;
      for (const m of filled[j]!) {
        if (m <= j || columns.has(m)) continue;
        columns.add(m);
        if (m < i) {
          const at = waiting.findIndex((other) => other < m);
          waiting.splice(at < 0 ? waiting.length : at, 0, m);
        }
      }
    }
    filled.push([...columns].sort((a, b) => a - b));
  });
  return filled;
}
