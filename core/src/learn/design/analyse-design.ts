import { bestLevels } from './best-levels.ts';
import { canonicalAnalysis } from './canonical.ts';
import { type CodedRun, type FittedDesign, fitDesign } from './fit-design.ts';
import { leverage } from './least-squares.ts';
import { lenth } from './lenth.ts';
import { modelMatrix, orderOf, termAt, termName, termsOf } from './model.ts';
import { sayAnalysis } from './say-analysis.ts';
import { designFinding as finding } from './sentences.ts';
import type {
  DesignAnalysis,
  DesignFactor,
  DesignModel,
  DesignOutcome,
  DesignResult,
  ModelTerm,
} from './types.ts';

export interface AnalyseDesignOptions {
  /** A named model, or terms of one's own. */
  model: DesignModel | readonly ModelTerm[];
  /** What the value is. */
  figure: { name: string; unit: string; decimals: number };
  aim: { by: 'most' } | { by: 'least' } | { by: 'target'; target: number };
  alpha: number;
}

/** Two columns are the same thing from this correlation on. */
const SAME = 0.999;

/** A level in coded units: −1 at the low end, 1 at the high one. */
export const codedLevel = (factor: Pick<DesignFactor, 'low' | 'high'>, level: number): number =>
  (2 * level - factor.low - factor.high) / (factor.high - factor.low);

/** A coded level in the factor's own unit. */
export const realLevel = (factor: Pick<DesignFactor, 'low' | 'high'>, coded: number): number =>
  (factor.low + factor.high + coded * (factor.high - factor.low)) / 2;

const isMixture = (model: AnalyseDesignOptions['model']): boolean =>
  typeof model === 'string' ? model.startsWith('mixture') : !model.some((term) => orderOf(term) === 0);

/**
 * What a set of brews taught: coefficients with standard errors by least squares on coded levels (shares as they are), sums of squares,
 * lack of fit where settings were repeated, Lenth's test where nothing is left to judge by, canonical analysis of a quadratic, and the
 * best levels within what was tried. Effects that these runs cannot tell apart are named with each other.
 */
export function analyseDesign(
  factors: readonly DesignFactor[],
  results: readonly DesignResult[],
  options: AnalyseDesignOptions,
): DesignOutcome {
  const { model } = options;
  const mixture = isMixture(model);
  const names = factors.map(({ name }) => name);
  const named = typeof model === 'string' ? model : 'own';
  const terms = typeof model === 'string' ? termsOf(model, factors.length) : model;
  const runs = results.map(
    ({ levels, value, block }): CodedRun => ({
      at: mixture ? levels : levels.map((v, i) => codedLevel(factors[i]!, v)),
      value,
      block: block ?? null,
    }),
  );
  const fitted = fitDesign(runs, terms, names);
  if (!fitted) {
    const said = finding('cannot', 'no_fit', { runs: runs.length, terms: terms.length });
    return { ok: false, findings: [said] };
  }
  const effects = effectsOf(fitted, runs, names, mixture);
  const analysis = {
    model: named,
    coefficients: fitted.coefficients,
    table: fitted.table,
    effects,
    lenth:
      fitted.fit.df === 0 && !mixture
        ? lenth(
            effects.map(({ effect }) => effect),
            options.alpha,
          )
        : null,
    canonical: mixture
      ? null
      : canonicalAnalysis(
          fitted.terms,
          fitted.coefficients.map(({ value }) => value),
        ),
    best: bestOf(fitted, runs, factors, options, mixture),
  } satisfies Omit<DesignAnalysis, 'findings'>;
  return {
    ok: true,
    value: { ...analysis, findings: sayAnalysis(analysis, fitted, factors, options, mixture) },
  };
}

/** Change from low to high of every line and product, with what it cannot be told from. */
function effectsOf(
  { terms, coefficients, fit }: FittedDesign,
  runs: readonly CodedRun[],
  names: readonly string[],
  mixture: boolean,
): DesignAnalysis['effects'] {
  const points = runs.map(({ at }) => at);
  return coefficients.flatMap(({ term, name, value }, t) => {
    if (orderOf(term) === 0 || term.some((power) => power > 1) || mixture) return [];
    return [
      {
        name,
        effect: 2 * value,
        ss: value ** 2 / fit.inverse[t]![t]!,
        aliases: aliasNames(term, terms, points, names),
      },
    ];
  });
}

/** Lines and products outside the model whose column is the same as this term's, up to its sign. */
function aliasNames(
  term: ModelTerm,
  model: readonly ModelTerm[],
  points: readonly (readonly number[])[],
  names: readonly string[],
): string[] {
  const inside = new Set(model.map((other) => other.join()));
  const own = points.map((at) => termAt(term, at));
  return termsOf('interactions', names.length)
    .filter((other) => orderOf(other) > 0 && !inside.has(other.join()) && other.join() !== term.join())
    .filter(
      (other) =>
        Math.abs(
          correlation(
            own,
            points.map((at) => termAt(other, at)),
          ),
        ) > SAME,
    )
    .map((other) => termName(other, names));
}

/** Correlation of two columns; 0 where one does not vary. */
export function correlation(a: readonly number[], b: readonly number[]): number {
  const mean = (values: readonly number[]) => values.reduce((t, v) => t + v, 0) / values.length;
  const [ma, mb] = [mean(a), mean(b)];
  let [ab, aa, bb] = [0, 0, 0];
  a.forEach((v, i) => {
    ab += (v - ma) * (b[i]! - mb);
    aa += (v - ma) ** 2;
    bb += (b[i]! - mb) ** 2;
  });
  return aa < 1e-18 || bb < 1e-18 ? 0 : ab / Math.sqrt(aa * bb);
}

function bestOf(
  { terms, fit, table }: FittedDesign,
  runs: readonly CodedRun[],
  factors: readonly DesignFactor[],
  { aim }: AnalyseDesignOptions,
  mixture: boolean,
): DesignAnalysis['best'] {
  const value = (at: readonly number[]) =>
    terms.reduce((t, term, i) => t + fit.beta[i]! * termAt(term, at), 0);
  const worth = (at: readonly number[]) => {
    const y = value(at);
    return aim.by === 'most' ? y : aim.by === 'least' ? -y : -Math.abs(y - aim.target);
  };
  const of = (pick: (...values: number[]) => number) =>
    factors.map((_, i) => pick(...runs.map(({ at }) => at[i]!)));
  const region = { low: of(Math.min), high: of(Math.max), mixture };
  const starts = [...new Map(runs.map(({ at }) => [at.join(), at])).values()];
  const coded = bestLevels(worth, starts, region);
  const row = [
    ...modelMatrix(terms, [coded])[0]!,
    ...new Array<number>(fit.beta.length - terms.length).fill(0),
  ];
  return {
    levels: mixture ? coded : coded.map((v, i) => realLevel(factors[i]!, v)),
    coded,
    value: value(coded),
    se: table.s === null ? null : table.s * Math.sqrt(leverage(fit.inverse, row)),
  };
}
