import { Differences, type Sparse, SparseFactor, sparseOf } from './sparse.ts';

const MOST = 5;
const ITERATIONS = 4;
const KAPPA = [0, -0.185, -1 / 9, -0.0823, -0.0415, 0];
/** Σ 1/k up to the order. */
const GAMMA = [0, 1, 1.5, 11 / 6, 25 / 12, 137 / 60];
const ALPHA = GAMMA.map((g, k) => (1 - KAPPA[k]!) * g);
const ERROR = GAMMA.map((g, k) => KAPPA[k]! * g + 1 / (k + 1));
const SHORTEST = 1e-13;

export interface Problem {
  slope: (t: number, y: Float64Array, out: Float64Array) => void;
  /** Columns of each row of the Jacobian that may be other than 0. */
  pattern: readonly Int32Array[];
  /** What is large for each unknown. */
  scale: Float64Array;
}

export interface Counts {
  steps: number;
  rejected: number;
  jacobians: number;
  factors: number;
}

/**
 * A general stiff solver: backward differentiation in the numerical-difference form of Shampine and Reichelt (1997, The
 * MATLAB ODE suite), orders 1–5, quasi-constant steps, simplified Newton with a sparse Jacobian by differences that is kept
 * while Newton converges. It knows nothing of what it solves. Constants of the paper, from memory.
 */
export class BackwardDifferences {
  readonly counts: Counts = { steps: 0, rejected: 0, jacobians: 0, factors: 0 };
  readonly #p: Problem;
  readonly #rtol: number;
  readonly #differences: Differences;
  readonly #jacobian: Sparse;
  readonly #lu: SparseFactor;
  readonly #d: Float64Array[];
  readonly #rows: Float64Array[];
  readonly #y: Float64Array;
  readonly #predicted: Float64Array;
  readonly #psi: Float64Array;
  readonly #change: Float64Array;
  readonly #f: Float64Array;
  readonly #move: Float64Array;
  readonly #weight: Float64Array;

  /** @param rtol relative tolerance; the absolute one is the same share of each unknown's scale */
  constructor(p: Problem, rtol: number) {
    const n = p.scale.length;
    const row = () => new Float64Array(n);
    this.#p = p;
    this.#rtol = rtol;
    this.#differences = new Differences(p.pattern);
    this.#jacobian = sparseOf(p.pattern);
    this.#lu = new SparseFactor(p.pattern);
    this.#d = Array.from({ length: MOST + 3 }, row);
    this.#rows = Array.from({ length: MOST + 1 }, row);
    [this.#y, this.#predicted, this.#psi] = [row(), row(), row()];
    [this.#change, this.#f, this.#move, this.#weight] = [row(), row(), row(), row()];
  }

  get groups(): number {
    return this.#differences.groups;
  }

  get stored(): number {
    return this.#lu.stored;
  }

  /** Carries `y` from one time to another, in place; f must be smooth between. @throws Error when steps vanish */
  advance(y: Float64Array, from: number, to: number): void {
    const d = this.#d;
    let t = from;
    let order = 1;
    let equal = 0;
    let factored = false;
    let h = this.#begin(y, from, to);
    this.#difference(t, y);
    while (t < to) {
      let fresh = false;
      let iterations = 0;
      let safety = 1;
      let next = t;
      for (;;) {
        if (h < SHORTEST * Math.max(1, t)) throw new Error(`advance: no step is short enough at ${t} s`);
        if (t + h > to * (1 - 1e-14)) {
          if (t + h > to) {
            this.#resize(order, (to - t) / h);
            h = to - t;
            equal = 0;
            factored = false;
          }
          next = to;
        } else next = t + h;
        this.#predict(order);
        const c = h / ALPHA[order]!;
        for (;;) {
          if (!factored) {
            this.#lu.factor(c, this.#jacobian);
            this.counts.factors++;
            factored = true;
          }
          iterations = this.#newton(next, c);
          if (iterations > 0 || fresh) break;
          this.#difference(next, this.#predicted);
          fresh = true;
          factored = false;
        }
        if (iterations === 0) {
          h *= 0.5;
          this.#resize(order, 0.5);
          equal = 0;
          factored = false;
          this.counts.rejected++;
          continue;
        }
        safety = (0.9 * (2 * ITERATIONS + 1)) / (2 * ITERATIONS + iterations);
        this.#weigh(this.#y);
        const error = ERROR[order]! * this.#norm(this.#change);
        if (error <= 1) break;
        const factor = Math.max(0.2, safety * error ** (-1 / (order + 1)));
        h *= factor;
        this.#resize(order, factor);
        equal = 0;
        factored = false;
        this.counts.rejected++;
      }
      equal++;
      this.counts.steps++;
      t = next;
      this.#keep(order);
      if (equal < order + 1 || t >= to) continue;
      const less = order > 1 ? ERROR[order - 1]! * this.#norm(d[order]!) : Number.POSITIVE_INFINITY;
      const same = ERROR[order]! * this.#norm(d[order + 1]!);
      const more = order < MOST ? ERROR[order + 1]! * this.#norm(d[order + 2]!) : Number.POSITIVE_INFINITY;
      const factors = [less, same, more].map((e, k) => (e === 0 ? 10 : e ** (-1 / (order + k))));
      const best = Math.max(...factors);
      order += factors.indexOf(best) - 1;
      const factor = Math.min(10, safety * best);
      h *= factor;
      this.#resize(order, factor);
      equal = 0;
      factored = false;
    }
    y.set(d[0]!);
  }

  /** First step and differences. The first step by the rule of Hairer, Nørsett and Wanner (II.4), for order 1. */
  #begin(y: Float64Array, from: number, to: number): number {
    const { slope } = this.#p;
    const d = this.#d;
    for (const row of d) row.fill(0);
    slope(from, y, this.#f);
    this.#weigh(y);
    const size = this.#norm(y);
    const speed = this.#norm(this.#f);
    const h0 = Math.min(to - from, size < 1e-5 || speed < 1e-5 ? 1e-6 : (0.01 * size) / speed);
    for (let j = 0; j < y.length; j++) this.#move[j] = y[j]! + h0 * this.#f[j]!;
    slope(from + h0, this.#move, this.#change);
    for (let j = 0; j < y.length; j++) this.#change[j]! -= this.#f[j]!;
    const bend = this.#norm(this.#change) / h0;
    const worst = Math.max(speed, bend);
    const h1 = worst <= 1e-15 ? Math.max(1e-6, h0 * 1e-3) : Math.sqrt(0.01 / worst);
    const h = Math.min(100 * h0, h1, to - from);
    d[0]!.set(y);
    for (let j = 0; j < y.length; j++) d[1]![j] = h * this.#f[j]!;
    return h;
  }

  #difference(t: number, y: Float64Array): void {
    this.#p.slope(t, y, this.#f);
    this.#differences.fill(this.#p.slope, t, y, this.#f, this.#p.scale, this.#jacobian);
    this.counts.jacobians++;
  }

  #predict(order: number): void {
    const d = this.#d;
    const n = this.#y.length;
    this.#predicted.set(d[0]!);
    this.#psi.fill(0);
    for (let k = 1; k <= order; k++) {
      const row = d[k]!;
      const part = GAMMA[k]! / ALPHA[order]!;
      for (let j = 0; j < n; j++) {
        this.#predicted[j]! += row[j]!;
        this.#psi[j]! += part * row[j]!;
      }
    }
    this.#weigh(this.#predicted);
  }

  /** Simplified Newton; iterations used, 0 when it does not converge. */
  #newton(t: number, c: number): number {
    const n = this.#y.length;
    const y = this.#y;
    const change = this.#change;
    const move = this.#move;
    const enough = Math.max((10 * Number.EPSILON) / this.#rtol, Math.min(0.03, Math.sqrt(this.#rtol)));
    let before = 0;
    change.fill(0);
    y.set(this.#predicted);
    for (let k = 0; k < ITERATIONS; k++) {
      this.#p.slope(t, y, this.#f);
      for (let j = 0; j < n; j++) move[j] = c * this.#f[j]! - this.#psi[j]! - change[j]!;
      this.#lu.solve(move);
      const size = this.#norm(move);
      if (!Number.isFinite(size)) return 0;
      const rate = k > 0 ? size / before : 0;
      if (k > 0 && (rate >= 1 || (rate ** (ITERATIONS - k) / (1 - rate)) * size > enough)) return 0;
      for (let j = 0; j < n; j++) {
        y[j]! += move[j]!;
        change[j]! += move[j]!;
      }
      if (size === 0 || (k > 0 && (rate / (1 - rate)) * size < enough)) return k + 1;
      before = size;
    }
    return 0;
  }

  /** Takes the step into the differences. */
  #keep(order: number): void {
    const d = this.#d;
    const n = this.#y.length;
    const change = this.#change;
    for (let j = 0; j < n; j++) {
      d[order + 2]![j] = change[j]! - d[order + 1]![j]!;
      d[order + 1]![j] = change[j]!;
    }
    for (let k = order; k >= 0; k--) for (let j = 0; j < n; j++) d[k]![j]! += d[k + 1]![j]!;
  }

  /** Differences for a step `factor` times as long. */
  #resize(order: number, factor: number): void {
    const a = interpolation(order, factor);
    const b = interpolation(order, 1);
    const n = this.#y.length;
    for (let i = 0; i <= order; i++) {
      const out = this.#rows[i]!.fill(0);
      for (let m = 0; m <= order; m++) {
        let weight = 0;
        for (let k = 0; k <= order; k++) weight += a[m]![k]! * b[k]![i]!;
        if (weight !== 0) for (let j = 0; j < n; j++) out[j]! += weight * this.#d[m]![j]!;
      }
    }
    for (let i = 0; i <= order; i++) this.#d[i]!.set(this.#rows[i]!);
  }

  #weigh(y: Float64Array): void {
    const { scale } = this.#p;
    for (let j = 0; j < y.length; j++) this.#weight[j] = 1 / (this.#rtol * (Math.abs(y[j]!) + scale[j]!));
  }

  /** Root mean square over the tolerances. */
  #norm(x: Float64Array): number {
    let sum = 0;
    for (let j = 0; j < x.length; j++) sum += (x[j]! * this.#weight[j]!) ** 2;
    return Math.sqrt(sum / x.length);
  }
}

function interpolation(order: number, factor: number): number[][] {
  const rows = [Array.from({ length: order + 1 }, () => 1)];
  for (let i = 1; i <= order; i++)
    rows.push(rows[i - 1]!.map((x, j) => (j === 0 ? 0 : (x * (i - 1 - factor * j)) / i)));
  return rows;
}
