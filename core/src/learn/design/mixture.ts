import { plainDesign } from './factorial.ts';
import type { Design } from './types.ts';

/** {q, m} simplex lattice: all mixtures of q parts in steps of 1/m; (q+m−1)!/(m!(q−1)!) of them (NIST-HB 5.5.4.2). */
export function mixtureLattice(q: number, m: number): Design {
  const points: number[][] = [];
  const grow = (sofar: readonly number[], left: number): void => {
    if (sofar.length === q - 1) {
      points.push([...sofar, left].map((v) => v / m));
      return;
    }
    for (let v = 0; v <= left; v++) grow([...sofar, v], left - v);
  };
  grow([], m);
  return plainDesign('mixture_lattice', points);
}

/** Simplex centroid: every part alone, every two and more in equal shares; 2^q − 1 runs. */
export function mixtureCentroid(q: number): Design {
  const points = Array.from({ length: 2 ** q - 1 }, (_, i) => {
    const mask = i + 1;
    const among = Array.from({ length: q }, (_, f) => Number(((mask >> f) & 1) === 1));
    const count = among.reduce((t, v) => t + v, 0);
    return among.map((v) => v / count);
  });
  return plainDesign(
    'mixture_centroid',
    points.sort((a, b) => parts(a) - parts(b)),
  );
}

const parts = (row: readonly number[]) => row.filter((v) => v > 0).length;

/** Shares from pseudo-components: each part has at least its low share, and the rest is mixed by the design's shares. */
export function fromPseudo(shares: readonly number[], low: readonly number[]): number[] {
  const free = 1 - low.reduce((t, v) => t + v, 0);
  return shares.map((v, i) => low[i]! + free * v);
}

/** Pseudo-components of real shares: (xᵢ − Lᵢ)/(1 − ΣL). */
export function toPseudo(shares: readonly number[], low: readonly number[]): number[] {
  const free = 1 - low.reduce((t, v) => t + v, 0);
  return shares.map((v, i) => (v - low[i]!) / free);
}

/**
 * Extreme vertices of mixtures whose parts lie between bounds, with the mean of all of them last; empty when the bounds leave no mixture.
 * McLean & Anderson 1966 (from memory): all parts but one at a bound, the last makes the sum 1.
 */
export function extremeVertices(low: readonly number[], high: readonly number[]): number[][] {
  const q = low.length;
  const found = new Map<string, number[]>();
  for (let free = 0; free < q; free++)
    for (let mask = 0; mask < 2 ** (q - 1); mask++) {
      const row = new Array<number>(q).fill(0);
      let bit = 0;
      for (let i = 0; i < q; i++) if (i !== free) row[i] = (mask >> bit++) & 1 ? high[i]! : low[i]!;
      const left = 1 - row.reduce((t, v) => t + v, 0);
      if (left < low[free]! - 1e-9 || left > high[free]! + 1e-9) continue;
      row[free] = left;
      found.set(row.map((v) => v.toFixed(9)).join(), row);
    }
  const vertices = [...found.values()];
  if (vertices.length === 0) return [];
  const middle = low.map((_, i) => vertices.reduce((t, row) => t + row[i]!, 0) / vertices.length);
  return [...vertices, middle];
}
