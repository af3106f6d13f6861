import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { chanceFrom } from './random.ts';
import type { PermutationP } from './row-permutations.ts';

/** One taster's free profile: own attributes, whatever they are called, for the same cups as everybody's. */
export interface FreeProfile {
  taster: string;
  attributes: readonly string[];
  /** [cups][attributes] */
  scores: readonly (readonly number[])[];
}

/** Free profiles laid over each other. */
export interface Procrustes {
  /** Places of the cups that all agree on best, along axes of falling spread: [cups][axes]. */
  consensus: number[][];
  /** Share of the consensus's spread that each axis shows. */
  axes: number[];
  /** Share of the spread of all profiles that the consensus keeps, 0–1. */
  agreement: number;
  tasters: {
    taster: string;
    /** How much of the scale this taster uses, against the others: above 1 shrinks, so the profile had to be stretched. */
    stretch: number;
    /** What is left between this taster and the consensus, as a share of all that is left. */
    residual_share: number;
    /** Correlation of each attribute with each axis of the consensus: [attributes][axes]. */
    attributes: { name: string; correlations: number[] }[];
  }[];
  /** What is left at each cup, as a share of all that is left. */
  cup_residual_shares: number[];
  /** Chance of so much agreement when every taster's cups are shuffled. */
  p: PermutationP;
}

/** Rounds after which rotation stops; convergence is quick and from below. */
const MOST_ROUNDS = 200;
const CLOSE = 1e-12;
/** For shuffled cups: only whether they agree as well is asked. */
const ROUGH = { close: 1e-5, rounds: 25 };

const centred = (scores: readonly (readonly number[])[], width: number): Matrix => {
  const m = new Matrix(scores.map((row) => Array.from({ length: width }, (_, j) => row[j] ?? 0)));
  return m.subRowVector(m.mean('column'));
};

const squares = (m: Matrix): number => m.norm('frobenius') ** 2;

/** The rotation, reflections included, that brings a configuration nearest to a target: UV′ of the SVD of X′Z (Schönemann 1966, from memory). */
function rotationTo(x: Matrix, z: Matrix): Matrix {
  const { leftSingularVectors: u, rightSingularVectors: v } = new SingularValueDecomposition(
    x.transpose().mmul(z),
    { autoTranspose: true },
  );
  return u.mmul(v.transpose());
}

const meanOf = (list: readonly Matrix[]): Matrix =>
  list.reduce((sum, m) => sum.add(m), Matrix.zeros(list[0]!.rows, list[0]!.columns)).div(list.length);

/**
 * Generalised Procrustes analysis: profiles are moved to one middle, turned and stretched until they lie over one another as well as
 * they can; Gower 1975, with scaling factors as the first eigenvector of the matrix of inner products (ten Berge 1977); both from memory. The
 * chance is that of Wakeling, Raats & MacFie 1992 (from memory): cups shuffled within every taster. Attributes of different tasters need not
 * mean the same, nor be as many.
 * @param profiles at least two, each with the same cups; not all of them flat
 */
export function procrustes(profiles: readonly FreeProfile[], seed = 1, draws = 99): Procrustes | null {
  const width = Math.max(...profiles.map((p) => p.attributes.length));
  const bare = profiles.map((p) => centred(p.scores, width));
  if (bare.some((m) => squares(m) === 0)) return null;
  const { fitted, stretches, consensus } = align(bare);
  const total = fitted.reduce((sum, m) => sum + squares(m), 0);
  const kept = (fitted.length * squares(consensus)) / total;
  const svd = new SingularValueDecomposition(consensus, { autoTranspose: true });
  const rank = svd.diagonal.filter((d) => d > 1e-9 * (svd.diagonal[0] ?? 1)).length;
  const turned = consensus
    .mmul(svd.rightSingularVectors)
    .subMatrix(0, consensus.rows - 1, 0, Math.max(0, rank - 1));
  const spread = svd.diagonal.slice(0, rank).map((d) => d * d);
  const spreadSum = spread.reduce((a, b) => a + b, 0);
  const left = fitted.map((m) => Matrix.sub(m, consensus));
  const leftSum = left.reduce((sum, m) => sum + squares(m), 0);
  const share = (part: number): number => (leftSum > 0 ? part / leftSum : 0);
  return {
    consensus: turned.to2DArray(),
    axes: spread.map((s) => s / spreadSum),
    agreement: kept,
    tasters: profiles.map(({ taster, attributes, scores }, k) => ({
      taster,
      stretch: stretches[k]!,
      residual_share: share(squares(left[k]!)),
      attributes: attributes.map((name, j) => ({
        name,
        correlations: Array.from({ length: rank }, (_, axis) =>
          correlation(
            scores.map((row) => row[j]!),
            turned.getColumn(axis),
          ),
        ),
      })),
    })),
    cup_residual_shares: profiles[0]!.scores.map((_, cup) =>
      share(left.reduce((sum, m) => sum + m.getRow(cup).reduce((t, v) => t + v * v, 0), 0)),
    ),
    p: shuffled(bare, kept, seed, draws),
  };
}

interface Aligned {
  fitted: Matrix[];
  stretches: number[];
  consensus: Matrix;
}

function align(bare: readonly Matrix[], { close, rounds } = { close: CLOSE, rounds: MOST_ROUNDS }): Aligned {
  const size = Math.sqrt(bare.reduce((sum, m) => sum + squares(m), 0) / bare.length);
  // Everybody of the same size to begin with, so that a loud taster does not lead.
  let fitted = bare.map((m) => Matrix.mul(m, size / m.norm('frobenius')));
  const unit = fitted;
  let factors = bare.map(() => 1);
  let consensus = meanOf(fitted);
  let before = Number.NEGATIVE_INFINITY;
  for (let round = 0; round < rounds; round++) {
    fitted = fitted.map((m) => m.mmul(rotationTo(m, consensus)));
    const scales = scalesOf(fitted);
    fitted = fitted.map((m, k) => Matrix.mul(m, scales[k]!));
    factors = factors.map((f, k) => f * scales[k]!);
    consensus = meanOf(fitted);
    const now = squares(consensus);
    if (now - before <= close * size * size) break;
    before = now;
  }
  return {
    fitted,
    consensus,
    stretches: factors.map((f, k) => (f * unit[k]!.norm('frobenius')) / bare[k]!.norm('frobenius')),
  };
}

/** Factors that make profiles agree best while their squares together stay the same. */
function scalesOf(fitted: readonly Matrix[]): number[] {
  const sizes = fitted.map((m) => m.norm('frobenius'));
  const inner = new Matrix(
    fitted.map((a, i) => fitted.map((b, j) => Matrix.mul(a, b).sum() / (sizes[i]! * sizes[j]!))),
  );
  const first = new SingularValueDecomposition(inner, { autoTranspose: true }).leftSingularVectors.getColumn(
    0,
  );
  const total = Math.sqrt(sizes.reduce((sum, s) => sum + s * s, 0));
  return first.map((v, k) => (Math.abs(v) * total) / sizes[k]!);
}

function correlation(a: readonly number[], b: readonly number[]): number {
  const mean = (list: readonly number[]): number => list.reduce((x, y) => x + y, 0) / list.length;
  const [ma, mb] = [mean(a), mean(b)];
  const over = (f: (i: number) => number): number => a.reduce((sum, _, i) => sum + f(i), 0);
  const norm = Math.sqrt(over((i) => (a[i]! - ma) ** 2) * over((i) => (b[i]! - mb) ** 2));
  return norm > 0 ? over((i) => (a[i]! - ma) * (b[i]! - mb)) / norm : 0;
}

function shuffled(bare: readonly Matrix[], kept: number, seed: number, draws: number): PermutationP {
  const chance = chanceFrom(seed);
  const rows = Array.from({ length: bare[0]!.rows }, (_, i) => i);
  let asGood = 0;
  for (let draw = 0; draw < draws; draw++) {
    const mixed = bare.map((m, k) =>
      k === 0 ? m : new Matrix(chance.shuffle([...rows]).map((row) => m.getRow(row))),
    );
    const { fitted, consensus } = align(mixed, ROUGH);
    const total = fitted.reduce((sum, m) => sum + squares(m), 0);
    if ((fitted.length * squares(consensus)) / total >= kept - 10 * ROUGH.close) asGood++;
  }
  return { p: (asGood + 1) / (draws + 1), from: draws };
}
