import { CholeskyDecomposition, Matrix } from 'ml-matrix';

/** A cup with a mark. */
export interface LikedCup {
  strength_pct: number;
  yield_pct: number;
  /** 0–10. */
  liking: number;
  /** Who gave it; people use a scale differently. */
  by: string;
}

/** A place in the plane of strength and yield, %. */
export type CupPlace = Pick<LikedCup, 'strength_pct' | 'yield_pct'>;

/** Free scales of the process: how far marks bend, over what distance, and how they scatter. */
export interface LikingScales {
  /** Standard deviation of the liking over the plane; 0 for a liking that does not depend on the place. */
  bend: number;
  strength_reach: number;
  yield_reach: number;
  /** Standard deviation of one mark. */
  noise: number;
}

/** What is known of places after the marks, for one choice of scales. */
export interface LikingPosterior {
  scales: LikingScales;
  /** Weight among all choices. */
  weight: number;
  /** `[place]` and `[place][place]`, of the liking itself, without the scatter of a mark. */
  mean: Float64Array;
  covariance: Matrix;
}

/** Marks centre about 6 on a scale to 10, and people differ by a mark or so in how they use it; both assumed. */
const CENTRE = 6;
const CENTRE_SD = 2;
const TASTER_SD = 1;

/** Choices of scales that are weighed against each other by the marks: assumed to span what tasting tables show. */
const CHOICES: readonly LikingScales[] = [0, 0.6, 1.2, 2.4].flatMap((bend) =>
  [0.4, 0.8, 1.5].flatMap((noise) =>
    (bend === 0 ? [0.15] : [0.12, 0.25]).flatMap((strength_reach) =>
      (bend === 0 ? [2] : [1.5, 3]).map((yield_reach) => ({ bend, strength_reach, yield_reach, noise })),
    ),
  ),
);

/** Choices that are carried on. */
const MOST_CHOICES = 8;
/** Before any mark, a liking that does not depend on the place is as likely as all that do together (three bends, four reaches each). */
const priorOf = ({ bend }: LikingScales): number => (bend === 0 ? 1 : 1 / 12);

function kernel(a: CupPlace, b: CupPlace, { bend, strength_reach, yield_reach }: LikingScales): number {
  const s = (a.strength_pct - b.strength_pct) / strength_reach;
  const y = (a.yield_pct - b.yield_pct) / yield_reach;
  return CENTRE_SD ** 2 + bend ** 2 * Math.exp(-0.5 * (s * s + y * y));
}

/**
 * Gaussian-process regression of liking over strength and yield (Rasmussen & Williams 2006, algorithm 2.1, from memory), for every choice of scales,
 * each weighted by how well it explains the marks. Every taster has an offset of their own. Choices a hundred times worse than the best, and all but the
 * eight best, are dropped.
 */
export function likingPosteriors(cups: readonly LikedCup[], places: readonly CupPlace[]): LikingPosterior[] {
  const fitted = CHOICES.flatMap((scales) => {
    const n = cups.length;
    const K = new Matrix(n, n);
    for (let i = 0; i < n; i++)
      for (let j = 0; j <= i; j++) {
        const taster = cups[i]!.by === cups[j]!.by ? TASTER_SD ** 2 : 0;
        const shared = kernel(cups[i]!, cups[j]!, scales) + taster + (i === j ? scales.noise ** 2 : 0);
        K.set(i, j, shared);
        K.set(j, i, shared);
      }
    const factor = new CholeskyDecomposition(K);
    if (!factor.isPositiveDefinite()) return [];
    const y = cups.map(({ liking }) => liking - CENTRE);
    const alpha = factor.solve(Matrix.columnVector(y)).to1DArray();
    const fit = y.reduce((sum, v, i) => sum + v * alpha[i]!, 0);
    const size = factor.lowerTriangularMatrix.diagonal().reduce((sum, d) => sum + Math.log(d), 0);
    return [{ scales, factor, alpha, log: -0.5 * fit - size + Math.log(priorOf(scales)) }];
  });
  const best = Math.max(...fitted.map(({ log }) => log));
  const kept = fitted
    .filter(({ log }) => log > best - Math.log(100))
    .sort((a, b) => b.log - a.log)
    .slice(0, MOST_CHOICES);
  const total = kept.reduce((sum, { log }) => sum + Math.exp(log - best), 0);
  return kept.map(({ scales, factor, alpha, log }) => {
    const cross = new Matrix(cups.length, places.length);
    cups.forEach((cup, i) => {
      places.forEach((place, j) => {
        cross.set(i, j, kernel(cup, place, scales));
      });
    });
    const solved = factor.solve(cross);
    const covariance = new Matrix(places.length, places.length);
    for (let i = 0; i < places.length; i++)
      for (let j = 0; j < places.length; j++) covariance.set(i, j, kernel(places[i]!, places[j]!, scales));
    covariance.sub(cross.transpose().mmul(solved));
    evenOut(covariance);
    const mean = Float64Array.from(places, (_, j) =>
      alpha.reduce((sum, a, i) => sum + a * cross.get(i, j), CENTRE),
    );
    return { scales, weight: Math.exp(log - best) / total, mean, covariance };
  });
}

/** Makes a matrix symmetric that is so but for rounding; in place. */
function evenOut(matrix: Matrix): void {
  for (let i = 0; i < matrix.rows; i++) for (let j = 0; j < i; j++) matrix.set(j, i, matrix.get(i, j));
}

/** Lower factor of a covariance that may be nearly singular. */
export function factorOf(covariance: Matrix): Matrix {
  const n = covariance.rows;
  for (let jitter = 1e-8; jitter < 1; jitter *= 100) {
    const lifted = covariance.clone();
    for (let i = 0; i < n; i++) lifted.set(i, i, lifted.get(i, i) + jitter);
    const factor = new CholeskyDecomposition(lifted);
    if (factor.isPositiveDefinite()) return factor.lowerTriangularMatrix;
  }
  throw new Error('factorOf: the matrix is no covariance');
}

/** What one more mark at a place would leave of a covariance: it needs no mark for that. In place. */
export function afterOneMore(covariance: Matrix, place: number, noise: number): void {
  const n = covariance.rows;
  const column = Float64Array.from({ length: n }, (_, i) => covariance.get(i, place));
  const variance = column[place]! + noise ** 2;
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      covariance.set(i, j, covariance.get(i, j) - (column[i]! * column[j]!) / variance);
}
