/** Nodes and weights of Gauss–Legendre quadrature on [−1, 1]. */
export interface Rule {
  nodes: Float64Array;
  weights: Float64Array;
}

/**
 * Gauss–Legendre rule with n points by Newton's method on the Legendre polynomial; started from Abramowitz & Stegun
 * 22.16.6 (from memory). Exact for polynomials up to degree 2n − 1.
 */
export function gaussLegendre(n: number): Rule {
  const nodes = new Float64Array(n);
  const weights = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let step = 0; step < 100; step++) {
      const { value, derivative } = legendre(n, x);
      slope = derivative;
      const change = value / derivative;
      x -= change;
      if (Math.abs(change) < 1e-16) break;
    }
    slope = legendre(n, x).derivative;
    nodes[i] = x;
    weights[i] = 2 / ((1 - x * x) * slope * slope);
  }
  return { nodes, weights };
}

function legendre(n: number, x: number): { value: number; derivative: number } {
  let before = 1;
  let value = x;
  for (let k = 2; k <= n; k++) [before, value] = [value, ((2 * k - 1) * x * value - (k - 1) * before) / k];
  return { value, derivative: (n * (x * value - before)) / (x * x - 1) };
}

/** Points of one part of the interval; smooth integrands of a few standard deviations per part come out to 1e-15. */
const POINTS = 32;
let rule: Rule | undefined;

/** ∫ f over [from, to], in `parts` equal parts of 32 Gauss–Legendre points each. */
export function integrate(f: (x: number) => number, from: number, to: number, parts: number): number {
  rule ??= gaussLegendre(POINTS);
  const { nodes, weights } = rule;
  const half = (to - from) / (2 * parts);
  let sum = 0;
  for (let part = 0; part < parts; part++) {
    const middle = from + (2 * part + 1) * half;
    for (let i = 0; i < POINTS; i++) sum += weights[i]! * f(middle + half * nodes[i]!);
  }
  return sum * half;
}
