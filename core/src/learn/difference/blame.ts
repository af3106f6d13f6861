import { backward, cholesky, forward } from '../../panel/cholesky.ts';
import { diceFrom } from '../chance.ts';
import { sayBlame } from './say-blame.ts';
import {
  type BlamedCup,
  type BlamedPour,
  type BlameQuestion,
  type MeasuredPour,
  POUR_FIGURES,
  POUR_SLIPS,
  type PourBlame,
  type PourFigure,
  type PourSlip,
} from './types.ts';

/** How far the engine's word on a slip is trusted: standard uncertainty as a part of what it says; our choice. */
const ENGINE_DOUBT = 0.3;
/** What a hand does to a pour nobody measured, standard deviation; our choice. */
const UNSEEN: Readonly<Record<PourSlip, number>> = { water_g: 3, start_s: 2, duration_s: 2 };
const DRAWS = 2_000;
/** A figure without any doubt would outweigh all others; this part of its value is the least. */
const LEAST_DOUBT = 1e-3;

/** One possible cause of what a cup shows: a pour, or all that was not measured. */
interface Cause {
  mean: Float64Array;
  /** [figure][figure], flat. */
  covariance: Float64Array;
  slips: Partial<Record<PourSlip, number>>;
}

/**
 * Which pour made a cup differ from the others of its set? The oddest cup is held against the mean of the others, then the oddest of those
 * that are left, so that one odd cup does not make the others look odd; the last one is what remains. Each measured pour's slip is turned
 * by the engine into what it does to every figure, with the doubt of the measurement and of the engine; what no pour explains stands
 * beside them as one more cause with the usual scatter. All are conditioned together on what was seen (normal, exact), and a cause's
 * chance is the share of draws in which it does more of it than any other.
 */
export function blamePours(question: BlameQuestion): PourBlame {
  const figures = POUR_FIGURES.filter(
    (key) =>
      question.cups.every((cup) => Number.isFinite(cup.figures[key])) &&
      question.sensitivities.effect.every((of) => POUR_SLIPS.every((slip) => Number.isFinite(of[slip][key]))),
  );
  const cups: BlamedCup[] = [];
  let left = question.cups.map((_, c) => c);
  while (left.length > 1) {
    const odd = oddest(question, left, figures);
    left = left.filter((c) => c !== odd);
    cups.push(blameCup(question, odd, left, figures));
  }
  return { cups, findings: sayBlame(cups, question, figures) };
}

/** Mean of a figure over some of the cups. */
const meanOf = ({ cups }: BlameQuestion, of: readonly number[], key: PourFigure) =>
  of.reduce((t, c) => t + cups[c]!.figures[key]!, 0) / of.length;

/** The cup farthest from the mean of the others, figures weighed by their doubt and usual scatter. */
function oddest(question: BlameQuestion, among: readonly number[], figures: readonly PourFigure[]): number {
  const apart = (c: number) => {
    const others = among.filter((o) => o !== c);
    return figures.reduce((t, key) => {
      const mean = meanOf(question, others, key);
      const { doubt, unexplained } = noiseOf(question, key, mean);
      return t + (question.cups[c]!.figures[key]! - mean) ** 2 / (doubt ** 2 + unexplained ** 2);
    }, 0);
  };
  return among.reduce((odd, c) => (apart(c) > apart(odd) ? c : odd));
}

function blameCup(
  question: BlameQuestion,
  c: number,
  others: readonly number[],
  figures: readonly PourFigure[],
): BlamedCup {
  const { cups, sensitivities } = question;
  const means = figures.map((key) => meanOf(question, others, key));
  const away = figures.map((key, f) => cups[c]!.figures[key]! - means[f]!);
  const causes = sensitivities.pours.map((_, p) => causeOf(question, c, others, p, figures));
  const noise = figures.map((key, f) => noiseOf(question, key, means[f]!));
  // A cup less the mean of m others carries (1 + 1/m) of one cup's variance.
  const share = 1 + 1 / others.length;
  const rest: Cause = {
    mean: new Float64Array(figures.length),
    covariance: diagonal(noise.map(({ unexplained }) => unexplained ** 2 * share)),
    slips: {},
  };
  const measured = noise.map(({ doubt }) => doubt ** 2 * share);
  const weight = noise.map(({ doubt, unexplained }) => 1 / (doubt ** 2 + unexplained ** 2));
  const chances = chancesOf([...causes, rest], away, measured, weight, question.seed + c);
  const pours = causes.map(
    (cause, p): BlamedPour => ({
      pour: p,
      pour_id: sensitivities.pours[p]!,
      slips: cause.slips,
      moved: Object.fromEntries(figures.map((key, f) => [key, cause.mean[f]!])),
      chance: chances[p]!,
    }),
  );
  return {
    cup: c,
    against: [...others],
    name: cups[c]!.name,
    away: Object.fromEntries(figures.map((key, f) => [key, away[f]!])),
    pours: pours.sort((a, b) => b.chance - a.chance),
    elsewhere: chances.at(-1)!,
    explained: explained(away, causes, weight),
  };
}

/** Doubt of a figure and scatter that no pour explains. */
function noiseOf({ figure_doubt, unexplained }: BlameQuestion, key: PourFigure, mean: number) {
  const least = LEAST_DOUBT * Math.max(1e-6, Math.abs(mean));
  const doubt = Math.max(figure_doubt[key] ?? 0, least);
  return { doubt, unexplained: Math.max(unexplained[key] ?? 0, least) };
}

/** What a pour of one cup did, against the same pour of the others that have it measured. */
function causeOf(
  question: BlameQuestion,
  c: number,
  others: readonly number[],
  p: number,
  figures: readonly PourFigure[],
): Cause {
  const { cups, sensitivities, pour_doubt } = question;
  const mean = new Float64Array(figures.length);
  const covariance = new Float64Array(figures.length ** 2);
  const slips: Partial<Record<PourSlip, number>> = {};
  for (const slip of POUR_SLIPS) {
    const value = (cup: number) => slipValue(cups[cup]!.pours[p] ?? null, slip);
    const known = others.map(value).filter((v): v is number => v !== null);
    const here = value(c);
    const effect = figures.map((key) => sensitivities.effect[p]![slip][key]);
    const seen = here !== null && known.length > 0;
    const by = seen ? here - known.reduce((t, v) => t + v, 0) / known.length : 0;
    if (seen) slips[slip] = by;
    const variance = seen ? pour_doubt[slip] ** 2 * (1 + 1 / known.length) : 2 * UNSEEN[slip] ** 2;
    effect.forEach((e, f) => {
      mean[f]! += e * by;
      effect.forEach((g, h) => {
        covariance[f * figures.length + h]! += e * g * (variance + (ENGINE_DOUBT * by) ** 2);
      });
    });
  }
  return { mean, covariance, slips };
}

const slipValue = (pour: MeasuredPour | null, slip: PourSlip): number | null => pour?.[slip] ?? null;

const diagonal = (values: readonly number[]): Float64Array => {
  const out = new Float64Array(values.length ** 2);
  values.forEach((v, i) => {
    out[i * values.length + i] = v;
  });
  return out;
};

/** Share of draws in which each cause did most of what was seen, all of them conditioned on their sum. */
function chancesOf(
  causes: readonly Cause[],
  away: readonly number[],
  measured: readonly number[],
  weight: readonly number[],
  seed: number,
): number[] {
  const n = away.length;
  const chances = new Array<number>(causes.length).fill(0);
  if (n === 0) {
    chances[causes.length - 1] = 1;
    return chances;
  }
  const sum = diagonal(measured);
  for (const { covariance } of causes)
    covariance.forEach((v, i) => {
      sum[i]! += v;
    });
  const factor = cholesky(sum, n);
  const roots = causes.map(({ covariance }) => rootOf(covariance, n));
  const { normal } = diceFrom(seed);
  const draws = causes.map(() => new Float64Array(n));
  for (let d = 0; d < DRAWS; d++) {
    const left = Float64Array.from(away, (v, f) => v - Math.sqrt(measured[f]!) * normal());
    causes.forEach(({ mean }, k) => {
      const z = Float64Array.from({ length: n }, normal);
      for (let f = 0; f < n; f++) {
        let value = mean[f]!;
        for (let h = 0; h <= f; h++) value += roots[k]![f * n + h]! * z[h]!;
        draws[k]![f] = value;
        left[f]! -= value;
      }
    });
    // A draw from before is moved so that its sum is what was seen (Matheron's rule).
    const pull = backward(factor, n, forward(factor, n, left, 1));
    let [most, best] = [Number.NEGATIVE_INFINITY, causes.length - 1];
    causes.forEach(({ covariance }, k) => {
      let score = 0;
      for (let f = 0; f < n; f++) {
        let value = draws[k]![f]!;
        for (let h = 0; h < n; h++) value += covariance[f * n + h]! * pull[h]!;
        score += weight[f]! * away[f]! * value;
      }
      if (score > most) [most, best] = [score, k];
    });
    chances[best]! += 1 / DRAWS;
  }
  return chances;
}

/** Cholesky factor of a covariance that may have directions without any variance. */
function rootOf(covariance: Float64Array, n: number): Float64Array {
  const lifted = Float64Array.from(covariance);
  for (let f = 0; f < n; f++) lifted[f * n + f]! += 1e-10 * covariance[f * n + f]! + 1e-18;
  return cholesky(lifted, n);
}

/** Share of the weighted squares of what was seen that the measured slips explain. */
function explained(away: readonly number[], causes: readonly Cause[], weight: readonly number[]): number {
  let [total, left] = [0, 0];
  away.forEach((v, f) => {
    const rest = v - causes.reduce((t, { mean }) => t + mean[f]!, 0);
    total += weight[f]! * v * v;
    left += weight[f]! * rest * rest;
  });
  return total > 0 ? Math.max(0, 1 - left / total) : 0;
}
