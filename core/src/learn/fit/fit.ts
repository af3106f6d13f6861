import { CORE_VERSION } from '../../version.ts';
import { correlatedPairs, describe } from './describe.ts';
import { askEngine, groupsOf, type Runs } from './engine.ts';
import type { Ensemble } from './ensemble.ts';
import { fitProblem } from './gather.ts';
import { lessonsOf } from './lessons.ts';
import { momentsOf } from './linear.ts';
import { type Best, climbTo, drawFrom, laplaceOf, spreadDraws } from './posterior.ts';
import { FIT_SEED, fitHash, prepare } from './prepare.ts';
import { type Campaign, coordinatesAt, lookAround, moveTo, refined } from './rounds.ts';
import { sayFit } from './say.ts';
import { type Evidence, makeTarget, type Surrogate, type Target } from './target.ts';
import type { Fit, FitOptions, FitOutcome, FitStage, FitState, TrialSet } from './types.ts';

/** Steps back to the engine with its old slopes. */
const MOST_MOVES = 2;
/** A best point that moves by less than this, in posterior deviations, has settled: closer, the engine's own steps in time show. */
const SETTLED = 0.3;
/** One that moves by more than this has left where the slopes were taken. */
const LEFT = 0.7;
/** Most times that slopes are taken anew. */
const MOST_ROUNDS = 4;
/** No more looks around are begun when so many runs were made. */
const MOST_RUNS = 500;
/** Draws that are kept for predictions. */
const KEPT_DRAWS = 500;
/** Trials for which the short form is checked against the engine, at one draw each. */
const MOST_CHECKS = 24;

/** How far the work is: a share of one stage. */
interface Tick {
  stage: FitStage;
  done: number;
}
type Work<T> = Generator<Tick, T, void>;

/**
 * Fits what is not known of a coffee, its setups and grinders to all its trials at once.
 *
 * Unknowns are standard normals before any trial (`prior.ts`); figures have Student-t errors (ν = 4) about what the engine says, as
 * wide as their measurement and a brew-to-brew noise that is fitted too. Setups share a common value with offsets of their own,
 * whose spread is fitted (partial pooling). The draft engine is asked at a point and along the axes of what is not known there;
 * between, every trial is a parabola (`target.ts`); from the best point of that it is asked again, until the point stays. Then one
 * standard run per kind of brew corrects the draft. The posterior is given by its best point with the quadratic around it (Laplace)
 * and by an affine-invariant ensemble; what is shown comes from the ensemble. Pure: same trials and seed, same fit.
 */
export function fitTrials(set: TrialSet, options: FitOptions = {}): FitOutcome {
  const seed = options.seed ?? FIT_SEED;
  if (set.trials.length === 0)
    return { outcome: 'refused', problems: [fitProblem('no_trials', { coffee: set.coffee.name })] };
  const input_hash = fitHash(set, seed);
  const known = options.resume?.input_hash === input_hash ? options.resume.runs : {};
  const runs: Runs = new Map(Object.entries(known));
  const work = fitting(set, seed, input_hash, runs);
  for (let step = work.next(); ; step = work.next()) {
    if (step.done) return { outcome: 'done', fit: step.value };
    if (options.progress && !options.progress(overall(step.value), step.value.stage)) {
      const state: FitState = { version: 1, input_hash, seed, runs: Object.fromEntries(runs) };
      return { outcome: 'stopped', state };
    }
  }
}

/** Shares of the whole that the stages take, about. */
const STAGES: Readonly<Record<FitStage, readonly [from: number, to: number]>> = {
  engine: [0, 0.75],
  sample: [0.75, 0.97],
  lessons: [0.97, 1],
};

const overall = ({ stage, done }: Tick): number => {
  const [from, to] = STAGES[stage];
  return from + (to - from) * Math.min(1, done);
};

function* fitting(set: TrialSet, seed: number, input_hash: string, runs: Runs): Work<Fit> {
  const prepared = prepare(set);
  const { layout, trials } = prepared;
  const campaign: Campaign = { layout, trials, groups: groupsOf(trials), runs };
  const settled = yield* settle(campaign);
  const { evidence, target, best } = settled;
  const laplace = laplaceOf(target, best);
  const sample = yield* staged('sample', drawFrom(target, best.z, laplace, seed));
  const draws = spreadDraws(sample, KEPT_DRAWS);
  const { mean, covariance } = momentsOf(draws, target.size);
  const surrogate_error = yield* checkShortForm(campaign, evidence, target, draws);
  const deviations = Float64Array.from(mean, (_, k) => Math.sqrt(covariance[k * target.size + k]!));
  const answer = {
    layout,
    target,
    evidence,
    best: best.z,
    curvature: best.curvature,
    deviations,
    draws,
    seed,
  };
  const lessons = yield* staged('lessons', lessonsOf(set, answer));
  const parameters = describe(layout, draws);
  const correlated = correlatedPairs(layout, draws);
  const diagnostics = {
    rounds: settled.rounds,
    engine_runs: runs.size,
    surrogate_error,
    last_move: settled.move,
    sampler: samplerReport(sample, mean, deviations, best.z, laplace),
  };
  return {
    coffee_id: set.coffee.id,
    coffee_name: set.coffee.name,
    trials: set.trials.length,
    input_hash,
    core_version: CORE_VERSION,
    seed,
    parameters,
    correlated,
    lessons,
    findings: [
      ...set.findings,
      ...prepared.findings,
      ...sayFit({ set, layout, evidence, parameters, correlated, lessons, diagnostics }),
    ],
    diagnostics,
    posterior: {
      ids: layout.unknowns.map(({ id }) => id),
      best: Array.from(best.z),
      laplace: Array.from(laplace),
      mean: Array.from(mean),
      covariance: Array.from(covariance),
      draws: draws.map((z) => Array.from(z)),
      extractable: layout.extractable,
      setups: layout.setups,
      grinders: layout.grinders,
      channels: layout.channels,
      reference_age_d: layout.reference_age_d,
    },
  };
}

/** Passes on how far a stage is. */
function* staged<T>(stage: FitStage, work: Generator<number, T, void>): Work<T> {
  for (let step = work.next(); ; step = work.next()) {
    if (step.done) return step.value;
    yield { stage, done: step.value };
  }
}

/** Counts engine runs against what is to be expected of them. */
function* counted<T>(work: Generator<void, T, void>, counter: { done: number; all: number }): Work<T> {
  for (let step = work.next(); ; step = work.next()) {
    if (step.done) return step.value;
    counter.done++;
    yield { stage: 'engine', done: Math.min(0.98, counter.done / counter.all) };
  }
}

interface Settled {
  evidence: Evidence[];
  target: Target;
  best: Best;
  rounds: number;
  move: number;
}

/** Asks the engine and climbs in turns, until the best point stays where it was asked. */
function* settle(campaign: Campaign): Work<Settled> {
  const { layout, trials, groups } = campaign;
  const size = layout.unknowns.length;
  const wide = groups.reduce((sum, { members }) => sum + 2 * (6 + trials[members[0]!]!.grinderIds.length), 0);
  const counter = { done: 0, all: wide + 3 * trials.length };
  const targetOf = (surrogates: readonly Surrogate[]): Settled['evidence'] =>
    trials.map(({ place, observations }, t) => ({ place, observations, surrogate: surrogates[t]! }));
  let z: Float64Array = new Float64Array(size);
  let surrogates = yield* counted(lookAround(campaign, z, null), counter);
  let best = climbTo(makeTarget(layout, targetOf(surrogates)), z);
  let move = Number.POSITIVE_INFINITY;
  let rounds = 1;
  while (rounds < MOST_ROUNDS && move > LEFT && (rounds < 2 || campaign.runs.size < MOST_RUNS)) {
    z = best.z;
    surrogates = yield* counted(lookAround(campaign, z, best.covariance), counter);
    rounds++;
    best = climbTo(makeTarget(layout, targetOf(surrogates)), z);
    move = distance(best, z);
  }
  for (let k = 0; k < MOST_MOVES && move > SETTLED; k++) {
    z = best.z;
    surrogates = yield* counted(moveTo(campaign, z, surrogates), counter);
    best = climbTo(makeTarget(layout, targetOf(surrogates)), z);
    move = distance(best, z);
  }
  surrogates = yield* counted(refined(campaign, z, surrogates), counter);
  const evidence = targetOf(surrogates);
  const target = makeTarget(layout, evidence);
  best = climbTo(target, best.z);
  return { evidence, target, best, rounds, move };
}

/** Longest way between two points in posterior deviations of one unknown. */
function distance({ z, covariance }: Best, from: Float64Array): number {
  const n = z.length;
  return Math.max(...Array.from(z, (x, k) => Math.abs(x - from[k]!) / Math.sqrt(covariance[k * n + k]!)));
}

/** Root mean square distance of the short form to the engine at some draws, in noise deviations. */
function* checkShortForm(
  campaign: Campaign,
  evidence: readonly Evidence[],
  target: Target,
  draws: readonly Float64Array[],
): Work<number> {
  const [expected, square] = [new Float64Array(target.figures), new Float64Array(target.figures)];
  const every = Math.ceil(evidence.length / MOST_CHECKS);
  const ask = (t: number, at: Float64Array) => askEngine(campaign.runs, campaign.trials, [t], 'draft', at);
  let sum = 0;
  let count = 0;
  let from = 0;
  for (let t = 0; t < evidence.length; t++) {
    const { surrogate } = evidence[t]!;
    const m = surrogate.base.length;
    if (t % every === 0) {
      const z = draws[(37 * (t + 1)) % draws.length]!;
      target.expect(z, expected, square);
      const there = ask(t, coordinatesAt(campaign, z, t));
      const here = ask(t, surrogate.centre);
      for (let i = 0; i < m; i++) {
        const moved = there[i]! - here[i]!;
        const miss = (surrogate.base[i]! + moved - expected[from + i]!) / Math.sqrt(square[from + i]!);
        if (!Number.isFinite(miss)) continue;
        sum += miss * miss;
        count++;
      }
      yield { stage: 'lessons', done: 0 };
    }
    from += m;
  }
  return count > 0 ? Math.sqrt(sum / count) : 0;
}

function samplerReport(
  sample: Ensemble,
  mean: Float64Array,
  deviations: Float64Array,
  best: Float64Array,
  laplace: Float64Array,
): Fit['diagnostics']['sampler'] {
  const n = mean.length;
  const ratios = Array.from(deviations, (s, k) => s / Math.sqrt(laplace[k * n + k]!));
  return {
    walkers: sample.walkers,
    steps: sample.steps,
    acceptance: sample.acceptance,
    autocorrelation: sample.autocorrelation,
    effective: sample.effective,
    r_hat: sample.rHat,
    from_best: Math.max(...Array.from(mean, (m, k) => Math.abs(m - best[k]!) / deviations[k]!)),
    width_ratio: Math.max(...ratios.map((r) => Math.max(r, 1 / r))),
  };
}
