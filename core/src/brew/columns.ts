/**
 * The shape of every linear system of the engine: one head (node 0) that touches the top cell of each path, and below
 * it paths of `cells` cells each, coupled to their neighbours only. Path p holds nodes p·cells + 1 … (p + 1)·cells from
 * top to bottom. Row i ≥ 1 reads `above[i]·x(node above) + own[i]·x[i] + below[i]·x[i+1]`; row 0 reads
 * `own[0]·x[0] + Σ headTo[p]·x(top of p)`. `below` of a path's last cell is not read.
 */
export interface Columns {
  readonly paths: number;
  readonly cells: number;
  readonly above: Float64Array;
  readonly own: Float64Array;
  readonly below: Float64Array;
  readonly headTo: Float64Array;
  /** Reciprocal pivots. */
  readonly pivot: Float64Array;
}

/** An empty system of `paths` paths with `cells` cells each. */
export function columnsOf(paths: number, cells: number): Columns {
  const row = () => new Float64Array(paths * cells + 1);
  return {
    paths,
    cells,
    above: row(),
    own: row(),
    below: row(),
    headTo: new Float64Array(paths),
    pivot: row(),
  };
}

/**
 * Eliminates from the bottom up, so that the head comes last and several paths cost no fill. Stable for the dominant
 * rows of a balance; no pivoting. One factor serves many right sides. `last` names the lowest node of each path that takes
 * part, when it is not the bottom; one above the top leaves the path out.
 */
export function factorColumns(m: Columns, last?: Int32Array): void {
  const { above, own, below, pivot, cells } = m;
  let head = own[0]!;
  for (let p = 0; p < m.paths; p++) {
    const top = p * cells + 1;
    const bottom = last ? last[p]! : top + cells - 1;
    if (bottom < top) continue;
    let w = 1 / own[bottom]!;
    pivot[bottom] = w;
    for (let i = bottom - 1; i >= top; i--) {
      w = 1 / (own[i]! - below[i]! * w * above[i + 1]!);
      pivot[i] = w;
    }
    head -= m.headTo[p]! * w * above[top]!;
  }
  pivot[0] = 1 / head;
}

/** Solves for one right side, in place, with the pivots of {@link factorColumns} for the same nodes; others stay as they are. */
export function solveColumns(m: Columns, x: Float64Array, last?: Int32Array): void {
  const { above, below, pivot, cells } = m;
  let head = x[0]!;
  for (let p = 0; p < m.paths; p++) {
    const top = p * cells + 1;
    const bottom = last ? last[p]! : top + cells - 1;
    if (bottom < top) continue;
    let lower = x[bottom]! * pivot[bottom]!;
    x[bottom] = lower;
    for (let i = bottom - 1; i >= top; i--) {
      lower = (x[i]! - below[i]! * lower) * pivot[i]!;
      x[i] = lower;
    }
    head -= m.headTo[p]! * lower;
  }
  head *= pivot[0]!;
  x[0] = head;
  for (let p = 0; p < m.paths; p++) {
    const top = p * cells + 1;
    const bottom = last ? last[p]! : top + cells - 1;
    let upper = head;
    for (let i = top; i <= bottom; i++) {
      upper = x[i]! - above[i]! * pivot[i]! * upper;
      x[i] = upper;
    }
  }
}
