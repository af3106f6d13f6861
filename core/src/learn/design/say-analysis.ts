import { tQuantile } from '../../panel/distributions.ts';
import { type Finding, MAYBE, writtenP } from '../../panel/findings.ts';
import { listed, shownTo } from '../difference/finding.ts';
import type { AnalyseDesignOptions } from './analyse-design.ts';
import type { FittedDesign } from './fit-design.ts';
import { orderOf, termName } from './model.ts';
import { designFinding as finding } from './sentences.ts';
import type { DesignAnalysis, DesignFactor } from './types.ts';

/** Degrees of freedom below which limits are called wide. */
const FEW = 3;

/** What is to be said of an analysis: what was left out, how far brews scatter, what acts, where it is best. */
export function sayAnalysis(
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
