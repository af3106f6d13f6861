import { z } from 'zod';
import type { Checked, Problem } from '../../documents/problem.ts';
import { name, seed } from '../../panel/plain/kind.ts';
import { learnProblem } from '../difference/input.ts';
import { dOptimal, grid } from './d-optimal.ts';
import { definitiveScreening } from './definitive-screening.ts';
import { bestGenerators, fractionalFactorial, fullFactorial, screening12 } from './factorial.ts';
import { extremeVertices, fromPseudo, mixtureCentroid, mixtureLattice } from './mixture.ts';
import { termsOf } from './model.ts';
import { boxBehnken, centralComposite } from './response-surface.ts';
import { DESIGN_KINDS, type Design, type DesignModel, MODEL_NAMES_OF_DESIGNS } from './types.ts';

export const level = z.number().min(-1e6).max(1e6);
/** A level to be set, as every question about sets and the next brew takes it. */
export const factorSchema = z.strictObject({
  name,
  unit: z.string().max(20).default(''),
  low: level,
  high: level,
  step: z.number().gt(0).max(1e6).nullable().default(null),
});
export const factorList = z.array(factorSchema).min(1).max(11);
export type PlainFactor = z.infer<typeof factorSchema>;

/** Low must lie below high, and every name may stand once. */
export const factorProblems = (factors: readonly PlainFactor[]): Problem[] =>
  factors.flatMap((factor, i) => [
    ...(factor.low < factor.high
      ? []
      : [learnProblem(['factors', i], 'low_not_below_high', { value: factor.low, limit: factor.high })]),
    ...(factors.findIndex((other) => other.name === factor.name) < i
      ? [learnProblem(['factors', i, 'name'], 'name_twice', { value: factor.name })]
      : []),
  ]);

/** Rows of levels must have one for each factor. */
export const levelProblems = (
  rows: readonly { levels: readonly number[] }[],
  count: number,
  field: string,
): Problem[] =>
  rows.flatMap(({ levels }, i) =>
    levels.length === count
      ? []
      : [learnProblem([field, i, 'levels'], 'levels_count', { value: levels.length, limit: count })],
  );

export const doseG = z.number().gt(0).max(300).nullable().default(null);
export const models = z.enum(MODEL_NAMES_OF_DESIGNS as unknown as [DesignModel, ...DesignModel[]]);

/** What a set of brews is asked for with. */
export const make = z.strictObject({
  factors: factorList,
  kind: z.enum(DESIGN_KINDS),
  /** Of a part of a cube, or of a D-optimal set; null takes what the kind has. */
  runs: z.int().min(2).max(256).nullable().default(null),
  centres: z.int().min(0).max(20).default(3),
  star: z.enum(['circumscribed', 'inscribed', 'faced']).default('circumscribed'),
  /** Steps of a mixture lattice. */
  lattice: z.int().min(1).max(6).default(2),
  model: models.nullable().default(null),
  per_day: z.int().min(1).max(100).nullable().default(null),
  dose_g: doseG,
  against_drift: z.boolean().default(true),
  seed,
});
type Make = z.infer<typeof make>;

/** Factors that a kind can be made for. */
export const COUNTS: Readonly<Record<Make['kind'], [low: number, high: number]>> = {
  full_factorial: [1, 7],
  fractional_factorial: [3, 9],
  screening_12: [2, 11],
  central_composite: [2, 8],
  box_behnken: [3, 5],
  definitive_screening: [3, 11],
  mixture_lattice: [2, 6],
  mixture_centroid: [2, 6],
  d_optimal: [1, 6],
};

export const MODEL_OF: Readonly<Record<Make['kind'], DesignModel>> = {
  full_factorial: 'interactions',
  fractional_factorial: 'main',
  screening_12: 'main',
  central_composite: 'quadratic',
  box_behnken: 'quadratic',
  definitive_screening: 'main',
  mixture_lattice: 'mixture_quadratic',
  mixture_centroid: 'mixture_quadratic',
  d_optimal: 'quadratic',
};

const good = <T>(value: T): Checked<T> => ({ ok: true, value });
const bad = (...problems: Problem[]): Checked<never> => ({ ok: false, problems });

/** The design that is asked for, or why there is none. */
export function designOf(of: Make, model: DesignModel): Checked<Design> {
  const k = of.factors.length;
  switch (of.kind) {
    case 'full_factorial':
      return good(fullFactorial(k, of.centres));
    case 'fractional_factorial':
      return fractionOf(of, k);
    case 'screening_12':
      return good(screening12(k, of.centres));
    case 'central_composite':
      return good(centralComposite(k, of.star, of.centres));
    case 'box_behnken':
      return good(boxBehnken(k as 3 | 4 | 5, of.centres));
    case 'definitive_screening':
      return good(definitiveScreening(k, Math.max(1, of.centres)));
    case 'mixture_lattice':
    case 'mixture_centroid':
    case 'd_optimal':
      return model.startsWith('mixture') ? mixtureOf(of, model) : optimalOf(of, model);
  }
}

/** Runs a cube of k factors can be cut down to. */
const fractions = (k: number): number[] =>
  Array.from({ length: k - 2 }, (_, i) => i + 2)
    .filter((basic) => bestGenerators(k, basic) !== null)
    .map((basic) => 2 ** basic);

function fractionOf({ runs, centres, kind }: Make, k: number): Checked<Design> {
  const allowed = fractions(k);
  if (runs === null) return bad(learnProblem(['runs'], 'needs_runs', { kind, limit: allowed[0]! }));
  const generators = allowed.includes(runs) ? bestGenerators(k, Math.log2(runs)) : null;
  if (!generators)
    return bad(
      learnProblem(['runs'], 'no_fraction', { value: runs, factors: k, allowed: allowed.join(', ') }),
    );
  return good(fractionalFactorial(Math.log2(runs), generators, centres));
}

/** D-optimal from a grid of what can be set: three levels for bends, two else. */
function optimalOf({ factors, runs, seed: of, kind }: Make, model: DesignModel): Checked<Design> {
  const terms = termsOf(model, factors.length);
  if (runs === null) return bad(learnProblem(['runs'], 'needs_runs', { kind, limit: terms.length }));
  const levels = factors.map(() => (model === 'quadratic' ? [-1, 0, 1] : [-1, 1]));
  const design = dOptimal(grid(levels), { runs, terms, seed: of });
  return design
    ? good(design)
    : bad(learnProblem(['runs'], 'too_few_runs', { value: runs, limit: terms.length }));
}

/** Mixtures within bounds: the low shares are taken off first; upper bounds need vertices and a D-optimal choice. */
function mixtureOf({ factors, kind, lattice, runs, seed: of }: Make, model: DesignModel): Checked<Design> {
  const low = factors.map((factor) => factor.low);
  const high = factors.map((factor) => factor.high);
  const sum = (of2: readonly number[]) => Number(of2.reduce((t, v) => t + v, 0).toFixed(6));
  if (sum(low) >= 1 || sum(high) <= 1)
    return bad(learnProblem(['factors'], 'no_mixture', { low: sum(low), high: sum(high) }));
  if (kind !== 'd_optimal') {
    const base =
      kind === 'mixture_lattice' ? mixtureLattice(low.length, lattice) : mixtureCentroid(low.length);
    return good({ ...base, points: base.points.map((row) => fromPseudo(row, low)) });
  }
  const terms = termsOf(model, low.length);
  if (runs === null) return bad(learnProblem(['runs'], 'needs_runs', { kind, limit: terms.length }));
  const vertices = extremeVertices(low, high);
  const between = vertices.flatMap((a, i) =>
    vertices.slice(i + 1).map((b) => a.map((v, j) => (v + b[j]!) / 2)),
  );
  const design = dOptimal([...vertices, ...between], { runs, terms, seed: of });
  return design
    ? good(design)
    : bad(learnProblem(['runs'], 'too_few_runs', { value: runs, limit: terms.length }));
}
