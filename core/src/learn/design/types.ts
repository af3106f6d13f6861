import type { Finding } from '../../panel/findings.ts';

/** Something that is set to a level before a brew. */
export interface DesignFactor {
  name: string;
  unit: string;
  /** What −1 and 1 stand for. */
  low: number;
  high: number;
  /** Smallest change that can be made; null when any value can be set. */
  step: number | null;
}

export const DESIGN_KINDS = [
  'full_factorial',
  'fractional_factorial',
  'screening_12',
  'central_composite',
  'box_behnken',
  'definitive_screening',
  'mixture_lattice',
  'mixture_centroid',
  'd_optimal',
] as const;
export type DesignKind = (typeof DESIGN_KINDS)[number];

/** Effects that a design cannot tell apart, as lists of factor places: `[[0], [1, 2]]` is factor 1 with 2 × 3. */
export type AliasSet = readonly (readonly number[])[];

/** A set of brews by coded levels. */
export interface Design {
  kind: DesignKind;
  factors: number;
  /** Coded levels [runs][factors], −1 to 1 (beyond for star points); shares that sum to 1 for mixtures. Standard order. */
  points: readonly (readonly number[])[];
  /** Runs that repeat the centre. */
  centres: number;
  /** Length of the shortest word of the defining relation; null when there is none. */
  resolution: number | null;
  /** Words of the defining relation, as lists of factor places. */
  words: readonly (readonly number[])[];
  /** Sets of main effects and two-factor products that come out as one number. */
  aliases: readonly AliasSet[];
  /** Distance of star points; null when there are none. */
  alpha: number | null;
}

/** A term of a model, as powers of the factors: `[1, 1, 0]` is x₁x₂, `[0, 0, 2]` is x₃², all 0 the constant. */
export type ModelTerm = readonly number[];
export const MODEL_NAMES_OF_DESIGNS = [
  'main',
  'interactions',
  'quadratic',
  'mixture_linear',
  'mixture_quadratic',
] as const;
export type DesignModel = (typeof MODEL_NAMES_OF_DESIGNS)[number];

/** How well a design tells a model's terms. */
export interface DesignQuality {
  runs: number;
  terms: number;
  /** |X′X|^(1/p)/n; 0 when the terms cannot be told apart. */
  d_efficiency: number;
  /** Mean variance of the coefficients × n, over p. */
  a_value: number;
  /** Largest prediction variance over the runs × n, over p: 1 is best. */
  g_efficiency: number;
  /** Mean prediction variance over the box or simplex of levels, × n. */
  i_value: number;
}

/** One line of a run sheet. */
export interface SheetRun {
  /** Order of brewing, from 1. */
  run: number;
  /** Day or sitting, from 1. */
  block: number;
  /** Place in the design. */
  point: number;
  coded: readonly number[];
  /** In the factors' units, rounded to what can be set. */
  levels: readonly number[];
}

export interface SheetOptions {
  seed: number;
  /** Brews of one day or sitting; null for all in one. */
  per_day: number | null;
  /** Grounds a brew takes [g]; null when not known. */
  dose_g: number | null;
  /** Choose, among many random orders, one in which a steady drift (coffee ageing) hurts the estimates least. */
  against_drift: boolean;
  model: DesignModel;
}

export interface RunSheet {
  runs: SheetRun[];
  blocks: number;
  grams: number | null;
  /** Largest correlation of a model's term with a steady drift within the days, 0–1. */
  drift_correlation: number;
  /** Largest correlation of a term with the days themselves. */
  block_correlation: number;
  seed: number;
  findings: Finding[];
}
export type MakeRunSheet = (
  design: Design,
  factors: readonly DesignFactor[],
  options: SheetOptions,
) => RunSheet;

/** A brewed run: levels as they really were, and what was measured. */
export interface DesignResult {
  levels: readonly number[];
  value: number;
  block?: string | number | null;
}

/** An estimated coefficient. */
export interface Coefficient {
  term: ModelTerm;
  /** `a`, `a × b`, `a²`; the constant is "mean". */
  name: string;
  value: number;
  se: number | null;
  t: number | null;
  p: number | null;
}

/** Sums of squares of a fit. */
export interface FitTable {
  regression: { ss: number; df: number };
  residual: { ss: number; df: number };
  total: { ss: number; df: number };
  /** Residual deviation; null without degrees of freedom. */
  s: number | null;
  r2: number;
  adjusted_r2: number | null;
  f: { f: number; df1: number; df2: number; p: number } | null;
  /** What repeats of the same levels leave; null without repeats. */
  pure: { ss: number; df: number } | null;
  lack_of_fit: { ss: number; df: number; f: number; p: number } | null;
}

/** Where a fitted quadratic is flat, and what it is there. */
export interface CanonicalAnalysis {
  /** Coded. */
  stationary: number[];
  value: number;
  /** Curvatures, most negative first, with their directions [k][factors]. */
  eigenvalues: number[];
  directions: number[][];
  shape: 'maximum' | 'minimum' | 'saddle' | 'ridge';
  inside: boolean;
}

/** Effects that stand out where there are no repeats (Lenth 1989). */
export interface LenthTest {
  pse: number;
  df: number;
  /** Beyond this an effect stands out by itself, and when all are looked at together. */
  margin: number;
  simultaneous: number;
}

/** What a set of brews taught. */
export interface DesignAnalysis {
  model: DesignModel | 'own';
  coefficients: Coefficient[];
  table: FitTable;
  /** Change from low to high of each two-level term: twice the coefficient. */
  effects: { name: string; effect: number; ss: number; aliases: string[] }[];
  lenth: LenthTest | null;
  canonical: CanonicalAnalysis | null;
  /** Predicted best levels within the tried region, with the standard error of the prediction. */
  best: { levels: number[]; coded: number[]; value: number; se: number | null } | null;
  findings: Finding[];
}

/** An analysis, or why these brews cannot carry it. */
export type DesignOutcome = { ok: true; value: DesignAnalysis } | { ok: false; findings: Finding[] };
