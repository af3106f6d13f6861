import { inverse, Matrix } from 'ml-matrix';
import { chanceFrom } from '../../panel/random.ts';
import { plainDesign } from './factorial.ts';
import { termAt } from './model.ts';
import { logInformation } from './quality.ts';
import type { Design, ModelTerm } from './types.ts';

export interface DOptimalOptions {
  runs: number;
  terms: readonly ModelTerm[];
  seed: number;
  /** Random starts; defaults to 30. */
  starts?: number;
  /** Runs that are made already and stay: the others are chosen around them. */
  kept?: readonly (readonly number[])[];
}

/**
 * D-optimal set from candidate points: |X′X| is raised by exchanging single runs (Fedorov's exchange with rank-one updates, from many
 * random starts). There is no guarantee of the best; the quality says how good it is. null when the candidates cannot tell the terms apart
 * in so many runs.
 * @param candidates [points][factors], coded levels or shares
 */
export function dOptimal(
  candidates: readonly (readonly number[])[],
  { runs, terms, seed, starts = 30, kept = [] }: DOptimalOptions,
): Design | null {
  const rows = candidates.map((at) => terms.map((term) => termAt(term, at)));
  const fixed = kept.map((at) => terms.map((term) => termAt(term, at)));
  const p = terms.length;
  const free = runs - kept.length;
  if (runs < p || free < 1) return null;
  const chance = chanceFrom(seed);
  let best: { log: number; chosen: number[] } | null = null;
  for (let start = 0; start < starts; start++) {
    const chosen = Array.from({ length: free }, () => chance.whole(0, rows.length - 1));
    const log = exchange(chosen, rows, fixed, p);
    if (best === null || log > best.log + 1e-9) best = { log, chosen };
  }
  if (best === null || best.log === Number.NEGATIVE_INFINITY) return null;
  const points = best.chosen.map((c) => candidates[c]!);
  const sorted = [...points].sort((a, b) => compare(a, b));
  return plainDesign('d_optimal', [...kept, ...sorted]);
}

const compare = (a: readonly number[], b: readonly number[]): number => {
  const at = a.findIndex((v, i) => v !== b[i]);
  return at < 0 ? 0 : a[at]! - b[at]!;
};

/** Added to the diagonal so that a poor start has an inverse; too small to matter at the end. */
const RIDGE = 1e-8;

/** Exchanges runs for candidates while that raises the determinant; gives ln |X′X|. */
function exchange(
  chosen: number[],
  rows: readonly (readonly number[])[],
  fixed: readonly (readonly number[])[],
  p: number,
): number {
  let spread = inverseOf([...fixed, ...chosen.map((c) => rows[c]!)], p);
  for (let pass = 0; pass < 60; pass++) {
    let changed = false;
    for (let i = 0; i < chosen.length; i++) {
      const out = rows[chosen[i]!]!;
      const away = times(spread, out);
      const outOut = dot(out, away);
      let [most, to] = [1 + 1e-9, chosen[i]!];
      for (let c = 0; c < rows.length; c++) {
        const row = rows[c]!;
        const inIn = dot(row, times(spread, row));
        const inOut = dot(row, away);
        // Ratio of determinants when the run is replaced by the candidate (Fedorov 1972, from memory).
        const ratio = 1 + (inIn - outOut) - (inIn * outOut - inOut * inOut);
        if (ratio > most) [most, to] = [ratio, c];
      }
      if (to === chosen[i]) continue;
      chosen[i] = to;
      spread = inverseOf([...fixed, ...chosen.map((c) => rows[c]!)], p);
      changed = true;
    }
    if (!changed) break;
  }
  return logInformation([...fixed, ...chosen.map((c) => rows[c]!)]);
}

const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((t, v, i) => t + v * b[i]!, 0);
const times = (m: readonly (readonly number[])[], v: readonly number[]): number[] =>
  m.map((row) => dot(row, v));

/** (X′X + ridge)⁻¹. */
function inverseOf(x: readonly (readonly number[])[], p: number): number[][] {
  const gram = Matrix.eye(p, p, RIDGE);
  for (const row of x)
    for (let i = 0; i < p; i++)
      for (let j = 0; j < p; j++) gram.set(i, j, gram.get(i, j) + row[i]! * row[j]!);
  return inverse(gram).to2DArray();
}

/** All combinations of given levels of each factor, as candidates. */
export function grid(levels: readonly (readonly number[])[]): number[][] {
  return levels.reduce<number[][]>(
    (rows, of) => rows.flatMap((row) => of.map((level) => [...row, level])),
    [[]],
  );
}
