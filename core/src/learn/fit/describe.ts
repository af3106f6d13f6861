import { type Band, PARAMETERS } from '../../brew/index.ts';
import { diceFrom } from '../chance.ts';
import { type Layout, naturalsAt, offsetOf } from './layout.ts';
import { bandOf, momentsOf } from './linear.ts';
import { BETWEEN_NAMES, type BetweenName, fromNatural } from './prior.ts';
import type { CorrelatedPair, LearnedParameter, LearnedVerdict } from './types.ts';

/** Draws of the prior for figures that have no closed form. */
const PRIOR_DRAWS = 1_000;
/** A posterior narrower than this share of its prior was learned … */
const LEARNED = 0.6;
/** … and one wider than this was not. */
const NOT_LEARNED = 0.9;
/** From this correlation on two parameters count as not told apart. */
const INSEPARABLE = 0.8;

const UNITS: Readonly<Record<string, string>> = {
  extractable: '%',
  ageing: '%/d',
  'noise.strength': '%',
  'noise.beverage': 'g/g',
  'noise.drawdown': '%',
  'noise.temperature': 'K',
};

/** Value of unknown k as a person reads it, from the naturals of a point. */
function shownValue(layout: Layout, k: number, natural: Float64Array, z: ArrayLike<number>): number {
  const { kind, name, of } = layout.unknowns[k]!;
  const x = natural[k]!;
  switch (kind) {
    case 'noise':
      return Math.exp(x) * (name === 'strength' || name === 'drawdown' ? 100 : 1);
    case 'between':
      return 100 * Math.exp(x) * (name === 'retained' ? 1 - PARAMETERS.residualSaturation.value : 1);
    case 'setup': {
      const between = name as BetweenName;
      const setup = layout.setups.findIndex(({ id }) => id === of?.id);
      return asFactor(between, natural[layout.at[between]]! + offsetOf(layout, natural, z, between, setup));
    }
    default:
      if (name === 'extractable') return 100 * Math.exp(x);
      if (name === 'ageing') return 100 * x;
      return asFactor(name, x);
  }
}

const asFactor = (name: string, natural: number): number =>
  name === 'retained'
    ? fromNatural('logit', natural) / PARAMETERS.residualSaturation.value
    : Math.exp(natural);

const unitOf = (id: string, kind: LearnedParameter['kind']): string =>
  UNITS[id] ?? (kind === 'between' ? '%' : '×');

/** Every unknown before and after the trials, in the units people read. */
export function describe(layout: Layout, draws: readonly ArrayLike<number>[]): LearnedParameter[] {
  const size = layout.unknowns.length;
  const dice = diceFrom(1);
  const before = Array.from({ length: PRIOR_DRAWS }, () =>
    Float64Array.from({ length: size }, () => dice.normal()),
  );
  const natural = new Float64Array(size);
  const valuesOf = (points: readonly ArrayLike<number>[]): Float64Array[] => {
    const out = layout.unknowns.map(() => new Float64Array(points.length));
    points.forEach((z, i) => {
      naturalsAt(layout, z, natural);
      for (let k = 0; k < size; k++) out[k]![i] = shownValue(layout, k, natural, z);
    });
    return out;
  };
  const priors = valuesOf(before);
  const posteriors = valuesOf(draws);
  return layout.unknowns.map(({ id, kind, name, of }, k) => {
    const posterior = bandOf(posteriors[k]!);
    const prior = priorBand(layout, k) ?? bandOf(priors[k]!);
    // Widths in standard units, or, for a setup, of what it is in the end.
    const remaining =
      kind === 'setup'
        ? width(posterior) / width(prior)
        : width(bandOf(Float64Array.from(draws, (z) => z[k]!))) / STANDARD_WIDTH;
    return {
      id,
      kind,
      name,
      of,
      unit: unitOf(id, kind),
      prior,
      posterior,
      remaining,
      verdict: verdictOf(remaining),
    };
  });
}

const Z95 = 1.6448536269514722;
/** From 5 to 95 % of a standard normal. */
const STANDARD_WIDTH = 2 * Z95;
const width = ({ low, high }: Band): number => high - low;

const verdictOf = (remaining: number): LearnedVerdict =>
  remaining < LEARNED ? 'learned' : remaining < NOT_LEARNED ? 'somewhat' : 'not_learned';

/** Exact prior band of an unknown that depends on nothing else. */
function priorBand(layout: Layout, k: number): Band | null {
  if (layout.unknowns[k]!.kind === 'setup') return null;
  const size = layout.unknowns.length;
  const at = (z: number): number => {
    const point = new Float64Array(size).fill(z);
    return shownValue(layout, k, naturalsAt(layout, point, new Float64Array(size)), point);
  };
  return { low: at(-Z95), mid: at(0), high: at(Z95) };
}

/**
 * Pairs of different things, as brews see them, that go together so closely that one can make up for the other; closest first. Where
 * setups are told apart, what each has in the end counts, not what they have in common.
 */
export function correlatedPairs(layout: Layout, draws: readonly ArrayLike<number>[]): CorrelatedPair[] {
  const natural = new Float64Array(layout.unknowns.length);
  const seen = layout.unknowns.flatMap(({ kind, name }, k) => {
    const common = kind === 'coffee' && !(layout.pooled && BETWEEN_NAMES.some((b) => b === name));
    return common || kind === 'grinder' || kind === 'setup' ? [k] : [];
  });
  const values = seen.map((k) =>
    Float64Array.from(draws, (z) => shownValue(layout, k, naturalsAt(layout, z, natural), z)),
  );
  const pairs: CorrelatedPair[] = [];
  for (let i = 0; i < seen.length; i++)
    for (let j = i + 1; j < seen.length; j++) {
      const [a, b] = [layout.unknowns[seen[i]!]!, layout.unknowns[seen[j]!]!];
      const correlation = a.name === b.name ? 0 : correlationOf(values[i]!, values[j]!);
      if (Math.abs(correlation) >= INSEPARABLE) pairs.push({ a: a.id, b: b.id, correlation });
    }
  return pairs.sort((p, q) => Math.abs(q.correlation) - Math.abs(p.correlation));
}

function correlationOf(x: Float64Array, y: Float64Array): number {
  const points = Array.from(x, (v, i) => [v, y[i]!]);
  const { covariance } = momentsOf(points, 2);
  return covariance[1]! / Math.sqrt(covariance[0]! * covariance[3]!);
}
