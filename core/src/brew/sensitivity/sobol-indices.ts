import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { sobolPoints } from '../sampling/sobol.ts';
import { deviation, type Model, type ModelShape, mean } from './model.ts';

/** Shares of the variance of one output that one input explains. */
export interface Index {
  /** First-order index: alone. */
  first: number;
  /** Total index: alone and in all company. */
  total: number;
  /** Standard errors by bootstrap over the rows. */
  firstError: number;
  totalError: number;
}

export interface SobolOptions extends ModelShape {
  /** Rows of the design; powers of two fill the space best. */
  samples: number;
  seed: number;
  /** Told after each row; return false to stop and keep what the rows so far say. */
  progress?: (done: number) => boolean;
}

export interface SobolResult {
  /** `[output][input]` */
  indices: Index[][];
  mean: number[];
  /** Of each output, over all inputs. */
  variance: number[];
  /** Rows whose output existed at every point, of each output. */
  rows: number[];
  runs: number;
}

/** Resamples of the rows for the standard errors. */
const RESAMPLES = 60;

/**
 * Variance-based indices: design of A. Saltelli et al., Comput. Phys. Commun. 181, 259–270 (2010): two matrices A and B, and for
 * every input A with that one column from B, (inputs + 2) runs a row. First order by their estimator (b),
 * mean f(B)(f(A_B) − f(A)) over the variance; total by Jansen's, mean (f(A) − f(A_B))²/2 over the variance. A and B are the
 * halves of one scrambled Sobol sequence. Rows in which an output does not exist are left out for that output.
 */
export function sobolIndices(model: Model, options: SobolOptions): SobolResult {
  const { inputs, outputs, samples, seed, progress } = options;
  const points = sobolPoints(samples, 2 * inputs, seed);
  const width = inputs + 2;
  // [row][A, B, A with column i from B][output]
  const values = new Float64Array(samples * width * outputs);
  const u = new Float64Array(inputs);
  let rows = 0;
  while (rows < samples) {
    const a = points.subarray(rows * 2 * inputs, (rows * 2 + 1) * inputs);
    const b = points.subarray((rows * 2 + 1) * inputs, (rows + 1) * 2 * inputs);
    const at = (k: number) => values.subarray((rows * width + k) * outputs, (rows * width + k + 1) * outputs);
    u.set(a);
    model(u, at(0));
    u.set(b);
    model(u, at(1));
    for (let i = 0; i < inputs; i++) {
      u.set(a);
      u[i] = b[i]!;
      model(u, at(2 + i));
    }
    rows++;
    if (progress && !progress(rows / samples)) break;
  }
  const tables = Array.from({ length: outputs }, (_, q) => tableOf(values, rows, width, outputs, q));
  const described = tables.map((table) => describe(table, inputs, seed));
  return {
    indices: described.map((d) => d.indices),
    mean: described.map((d) => d.mean),
    variance: described.map((d) => d.variance),
    rows: tables.map((table) => table.length),
    runs: rows * width,
  };
}

/** Values of one output, `[row][A, B, …]`, only rows in which all exist. */
function tableOf(
  values: Float64Array,
  rows: number,
  width: number,
  outputs: number,
  output: number,
): Float64Array[] {
  const table: Float64Array[] = [];
  for (let r = 0; r < rows; r++) {
    const row = Float64Array.from({ length: width }, (_, k) => values[(r * width + k) * outputs + output]!);
    if (row.every(Number.isFinite)) table.push(row);
  }
  return table;
}

/** Indices of one output with their errors. */
function describe(
  table: readonly Float64Array[],
  inputs: number,
  seed: number,
): { indices: Index[]; mean: number; variance: number } {
  const random = xoroshiro128plus(seed);
  const whole = estimate(table, inputs);
  const again = Array.from({ length: table.length > 1 ? RESAMPLES : 0 }, () =>
    estimate(
      table.map(() => table[uniformInt(random, 0, table.length - 1)]!),
      inputs,
    ),
  );
  const indices = Array.from({ length: inputs }, (_, i) => ({
    first: whole.first[i]!,
    total: whole.total[i]!,
    firstError: deviation(again.map((e) => e.first[i]!)),
    totalError: deviation(again.map((e) => e.total[i]!)),
  }));
  return { indices, mean: whole.mean, variance: whole.variance };
}

interface Estimate {
  mean: number;
  variance: number;
  first: Float64Array;
  total: Float64Array;
}

/** The estimators on some rows. Values are counted from their mean, which leaves the indices as they are and their noise small. */
function estimate(table: readonly Float64Array[], inputs: number): Estimate {
  const both = table.flatMap((row) => [row[0]!, row[1]!]);
  const centre = mean(both);
  const variance = both.reduce((sum, x) => sum + (x - centre) ** 2, 0) / both.length;
  const first = new Float64Array(inputs);
  const total = new Float64Array(inputs);
  for (const row of table) {
    const a = row[0]!;
    const b = row[1]! - centre;
    for (let i = 0; i < inputs; i++) {
      const change = row[2 + i]! - a;
      first[i]! += b * change;
      total[i]! += change * change;
    }
  }
  const scale = variance > 0 ? 1 / (table.length * variance) : 0;
  for (let i = 0; i < inputs; i++) {
    first[i]! *= scale;
    total[i]! *= scale / 2;
  }
  return { mean: centre, variance, first, total };
}
