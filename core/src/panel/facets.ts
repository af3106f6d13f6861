import { inverse, Matrix, solve } from 'ml-matrix';

/** Passes of a cup with a judge, out of so many tries. */
export interface FacetCount {
  cup: number;
  judge: number;
  passes: number;
  tries: number;
}

/** Rasch measures of cups and judges, in logits. */
export interface Facets {
  /** Quality of each cup and leniency of each judge; both add up to 0. */
  cups: { value: number; se: number }[];
  judges: { value: number; se: number }[];
  /** Level of all together: ln odds of an average cup with an average judge. */
  level: number;
  deviance: number;
  df: number;
  /** Cells whose cup or judge always or never passes; ±0.3 of a pass was added so that its measure stays finite. */
  extreme: { cups: number[]; judges: number[] };
}

/** Added to passes and failures of an extreme cup or judge; common practice in Rasch measurement. */
const ADDED = 0.3;

/**
 * Two facets, dichotomous: ln(P/(1 − P)) = level + cup + judge, by maximum likelihood (Linacre's many-facet Rasch model with one step;
 * rasch.org memo 61). Joint estimates are biased outward for few counts. Counts must link all cups and judges.
 */
export function facets(counts: readonly FacetCount[]): Facets {
  const cups = 1 + Math.max(...counts.map((c) => c.cup));
  const judges = 1 + Math.max(...counts.map((c) => c.judge));
  const { adjusted, extreme } = withoutExtremes(counts, cups, judges);
  const size = 1 + (cups - 1) + (judges - 1);
  const rowOf = ({ cup, judge }: FacetCount): number[] => {
    const row = new Array<number>(size).fill(0);
    row[0] = 1;
    for (let k = 0; k < cups - 1; k++) row[1 + k] = cup === cups - 1 ? -1 : cup === k ? 1 : 0;
    for (let k = 0; k < judges - 1; k++) row[cups + k] = judge === judges - 1 ? -1 : judge === k ? 1 : 0;
    return row;
  };
  const rows = adjusted.map(rowOf);
  const { theta, information } = fitLogistic(rows, adjusted, size);
  const covariance = inverse(information);
  const read = (l: number[]) => ({
    value: l.reduce((t, v, i) => t + v * theta[i]!, 0),
    se: Math.sqrt(Matrix.rowVector(l).mmul(covariance).mmul(Matrix.columnVector(l)).get(0, 0)),
  });
  const contrast = (from: number, count: number, k: number) =>
    Array.from({ length: size }, (_, i) => {
      if (i < from || i >= from + count - 1) return 0;
      return k === count - 1 ? -1 : i === from + k ? 1 : 0;
    });
  return {
    cups: Array.from({ length: cups }, (_, k) => read(contrast(1, cups, k))),
    judges: Array.from({ length: judges }, (_, k) => read(contrast(cups, judges, k))),
    level: theta[0]!,
    deviance: devianceOf(rows, adjusted, theta),
    df: counts.length - size,
    extreme,
  };
}

function withoutExtremes(counts: readonly FacetCount[], cups: number, judges: number) {
  const isExtreme = (of: FacetCount[]) => {
    const passes = of.reduce((t, c) => t + c.passes, 0);
    return passes === 0 || passes === of.reduce((t, c) => t + c.tries, 0);
  };
  const extreme = {
    cups: [...Array(cups).keys()].filter((k) => isExtreme(counts.filter((c) => c.cup === k))),
    judges: [...Array(judges).keys()].filter((k) => isExtreme(counts.filter((c) => c.judge === k))),
  };
  const share = (of: FacetCount) =>
    (extreme.cups.includes(of.cup) ? ADDED / counts.filter((c) => c.cup === of.cup).length : 0) +
    (extreme.judges.includes(of.judge) ? ADDED / counts.filter((c) => c.judge === of.judge).length : 0);
  const adjusted = counts.map((c) => ({ ...c, passes: c.passes + share(c), tries: c.tries + 2 * share(c) }));
  return { adjusted, extreme };
}

function fitLogistic(rows: readonly number[][], counts: readonly FacetCount[], size: number) {
  let theta = new Array<number>(size).fill(0);
  let information = Matrix.eye(size, size);
  for (let step = 0; step < 60; step++) {
    const score = new Array<number>(size).fill(0);
    information = Matrix.zeros(size, size);
    rows.forEach((row, i) => {
      const { passes, tries } = counts[i]!;
      const p = chanceAt(row, theta);
      for (let a = 0; a < size; a++) {
        score[a]! += (passes - tries * p) * row[a]!;
        for (let b = 0; b < size; b++)
          information.set(a, b, information.get(a, b) + tries * p * (1 - p) * row[a]! * row[b]!);
      }
    });
    const change = solve(information, Matrix.columnVector(score)).to1DArray();
    const largest = Math.max(...change.map(Math.abs));
    theta = theta.map((v, i) => v + change[i]! * Math.min(1, 2 / largest));
    if (largest < 1e-12) break;
  }
  return { theta, information };
}

const chanceAt = (row: readonly number[], theta: readonly number[]): number =>
  1 / (1 + Math.exp(-row.reduce((t, v, i) => t + v * theta[i]!, 0)));

function devianceOf(
  rows: readonly number[][],
  counts: readonly FacetCount[],
  theta: readonly number[],
): number {
  const part = (seen: number, expected: number) => (seen > 0 ? seen * Math.log(seen / expected) : 0);
  return rows.reduce((sum, row, i) => {
    const { passes, tries } = counts[i]!;
    const p = chanceAt(row, theta);
    return sum + 2 * (part(passes, tries * p) + part(tries - passes, tries * (1 - p)));
  }, 0);
}
