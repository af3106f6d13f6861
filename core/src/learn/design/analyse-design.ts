import { tQuantile } from '../../panel/distributions.ts';
import { type Finding, MAYBE, writtenP } from '../../panel/findings.ts';
import { listed, shownTo } from '../difference/finding.ts';
import { bestLevels } from './best-levels.ts';
import { canonicalAnalysis } from './canonical.ts';
import { type CodedRun, type FittedDesign, fitDesign } from './fit-design.ts';
import { leverage } from './least-squares.ts';
import { lenth } from './lenth.ts';
import { modelMatrix, orderOf, termAt, termName, termsOf } from './model.ts';
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
/** Degrees of freedom below which limits are called wide. */
const FEW = 3;

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
  return { ok: true, value: { ...analysis, findings: say(analysis, fitted, factors, options, mixture) } };
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

function say(
  of: Omit<DesignAnalysis, 'findings'>,
  fitted: FittedDesign,
  factors: readonly DesignFactor[],
  options: AnalyseDesignOptions,
  mixture: boolean,
): Finding[] {
  const names = factors.map(({ name }) => name);
  const said: Finding[] = [];
  if (fitted.dropped.length > 0)
    said.push(
      finding('caution', 'terms_dropped', {
        names: listed(fitted.dropped.map((term) => termName(term, names))),
      }),
    );
  said.push(
    ...sayError(of, options),
    ...sayEffects(of, options, mixture),
    ...sayBest(of, factors, options, mixture),
  );
  return said;
}

function sayError(
  { table, lenth: test }: Omit<DesignAnalysis, 'findings'>,
  { figure }: AnalyseDesignOptions,
): Finding[] {
  if (table.s === null) return [test ? finding('note', 'saturated') : finding('cannot', 'saturated_few')];
  const said = [
    finding('note', 'fit_quality', {
      r2: (100 * table.r2).toFixed(1),
      s: shownTo(table.s, figure.decimals),
      unit: figure.unit,
    }),
  ];
  if (table.residual.df < FEW) said.push(finding('caution', 'few_left', { df: table.residual.df }));
  if (table.lack_of_fit) {
    const { p } = table.lack_of_fit;
    const code = p <= 0.05 ? 'lack_of_fit_clear' : 'lack_of_fit_not_shown';
    said.push(finding(p <= 0.05 ? 'caution' : 'note', code, { p: writtenP(p) }));
  } else if (!table.pure) said.push(finding('note', 'no_repeats'));
  return said;
}

function sayEffects(
  of: Omit<DesignAnalysis, 'findings'>,
  { figure, alpha }: AnalyseDesignOptions,
  mixture: boolean,
): Finding[] {
  const show = (v: number) => shownTo(v, figure.decimals);
  const or = (aliases: readonly string[]) =>
    aliases.length > 0 ? `, or ${listed(aliases)}: these brews cannot tell which` : '';
  const said: Finding[] = [];
  for (const { name, term, value, p } of of.coefficients) {
    if (orderOf(term) === 0) continue;
    const effect = of.effects.find((one) => one.name === name);
    const values = {
      name,
      figure: figure.name,
      unit: figure.unit,
      direction: value >= 0 ? 'up' : 'down',
      size: show(Math.abs(effect?.effect ?? value)),
      value: show(value),
      p: p === null ? '' : writtenP(p),
      aliases: or(effect?.aliases ?? []),
    };
    if (p === null) {
      if (effect && of.lenth && Math.abs(effect.effect) > of.lenth.margin)
        said.push(
          finding(
            Math.abs(effect.effect) > of.lenth.simultaneous ? 'clear' : 'maybe',
            'effect_stands_out',
            values,
          ),
        );
    } else if (p <= alpha) {
      // A pure part of a mixture has no "none" to be held against; only how parts work together is a finding.
      if (!mixture || orderOf(term) > 1)
        said.push(finding('clear', effect ? 'effect_clear' : 'coefficient_clear', values));
    } else if (p <= MAYBE && effect && orderOf(term) === 1)
      said.push(finding('maybe', 'effect_perhaps', values));
  }
  const clear = said.some(({ firmness }) => firmness === 'clear');
  if (!clear && of.table.s !== null && of.effects.length > 0) {
    const se = of.coefficients.find(({ term }) => orderOf(term) === 1)?.se ?? 0;
    const limit = 2 * tQuantile(1 - alpha / 2, of.table.residual.df) * se;
    said.push(finding('not_shown', 'effects_none', { limit: show(limit), unit: figure.unit }));
  }
  return said;
}

function sayBest(
  of: Omit<DesignAnalysis, 'findings'>,
  factors: readonly DesignFactor[],
  { figure }: AnalyseDesignOptions,
  mixture: boolean,
): Finding[] {
  const { best, canonical } = of;
  if (!best || of.coefficients.length < 2) return [];
  const show = (v: number) => shownTo(v, figure.decimals);
  const levels = listed(
    factors.map(({ name, unit, step }, i) => {
      const decimals = step === null ? 2 : Math.max(0, Math.ceil(-Math.log10(step) - 1e-9));
      return `${name} ${shownTo(best.levels[i]!, decimals)}${unit ? ` ${unit}` : ''}`;
    }),
  );
  const values = {
    levels,
    value: show(best.value),
    unit: figure.unit,
    se: best.se === null ? '' : show(best.se),
  };
  if (best.se === null) return [finding('note', 'best_no_error', values)];
  const edges = factors.flatMap(({ name }, i) =>
    !mixture && Math.abs(best.coded[i]!) >= 1 - 1e-6 ? [name] : [],
  );
  const said = [
    edges.length > 0
      ? finding('note', 'best_edge', { ...values, edges: listed(edges) })
      : finding('note', 'best_inside', values),
  ];
  const along =
    canonical && (canonical.shape === 'ridge' || canonical.shape === 'saddle') && flattest(canonical);
  if (along)
    said.push(
      finding('note', canonical.shape, {
        direction: listed(
          along.flatMap((v, i) =>
            Math.abs(v) > 0.3 ? [`${factors[i]!.name} ${v > 0 ? 'up' : 'down'}`] : [],
          ),
        ),
      }),
    );
  return said;
}

/** Direction in which a ridge hardly changes, or a saddle rises. */
function flattest({ eigenvalues, directions, shape }: NonNullable<DesignAnalysis['canonical']>): number[] {
  const at = eigenvalues.reduce(
    (b, v, i) =>
      (shape === 'ridge' ? Math.abs(v) < Math.abs(eigenvalues[b]!) : v > eigenvalues[b]!) ? i : b,
    0,
  );
  return directions[at]!;
}
