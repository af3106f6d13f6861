import type { Band, BrewResult, SimulateOptions } from '../../brew/index.ts';
import type { BrewBundle, Coffee, Problem, Trial } from '../../documents/index.ts';
import type { LearnFinding } from './finding.ts';

/** What is learned of a coffee, a setup or a grinder, in the order in which results list it. */
export const LEARNED_NAMES = [
  /** What hot fresh water could carry away, % of the dose. */
  'extractable',
  /** Factor on how fast grains give. */
  'diffusion',
  /** Change of that factor with the days from roast, % per day. */
  'ageing',
  /** Factor on how easily the bed lets water through. */
  'permeability',
  /** Factor on the liquid that stays between the grains. */
  'retained',
  /** Factor on everything that loses heat. */
  'heat_loss',
  /** Factor on the sizes a grinder's settings are said to give, fines apart. */
  'grind',
] as const;
export type LearnedName = (typeof LEARNED_NAMES)[number];

/** What is measured of a brew, and so has a brew-to-brew noise of its own. */
export const CHANNEL_NAMES = ['strength', 'beverage', 'drawdown', 'temperature'] as const;
export type ChannelName = (typeof CHANNEL_NAMES)[number];

/** A trial with the plan it followed, and all that plan points to. */
export interface TrialCase {
  trial: Trial;
  /** As planned; dose, water and age as measured are put in by the fit. */
  bundle: BrewBundle;
  /** Days from roast to brew, days in the freezer not counted; null when nobody knows. */
  age_d: number | null;
}

/** All trials of one coffee that a fit may use. */
export interface TrialSet {
  coffee: Coffee;
  /** In order of the moment they were brewed. */
  trials: readonly TrialCase[];
  /** What was left out and why, and what else should be known before the fit. */
  findings: readonly LearnFinding[];
}

/** How much the trials say about one parameter. */
export type LearnedVerdict = 'learned' | 'somewhat' | 'not_learned';

/** One figure that was fitted, as a person reads it: % of the dose, a factor on the default, % per day. */
export interface LearnedParameter {
  /** `extractable`, `permeability@<setup>`, `grind@<grinder>`, `noise.strength`, `between.permeability`. */
  id: string;
  /** `noise`: brew-to-brew spread of a channel. `between`: spread of a parameter between setups. */
  kind: 'coffee' | 'setup' | 'grinder' | 'noise' | 'between';
  name: LearnedName | ChannelName;
  /** Id and name of the setup or grinder it belongs to; null for the coffee and for all together. */
  of: { id: string; name: string } | null;
  /** `%`, `×`, `%/d`, `K`, `g/g`. */
  unit: string;
  /** 5, 50 and 95 %: before any trial, and after all of them. */
  prior: Band;
  posterior: Band;
  /** Width of the posterior over that of the prior, in standard units: 1 when nothing was learned. */
  remaining: number;
  verdict: LearnedVerdict;
}

/** Two parameters that the data cannot tell apart. */
export interface CorrelatedPair {
  a: string;
  b: string;
  /** −1 to 1. */
  correlation: number;
}

/** One measured figure beside what the fit expects of that very brew. */
export interface Surprise {
  channel: ChannelName;
  /** For a temperature: where. */
  where: string | null;
  unit: string;
  measured: number;
  /** 5, 50 and 95 % for another brew of this kind, its noise included. */
  expected: Band;
  /** Distance to what was expected, in standard deviations of noise and measurement. */
  distance: number;
  /** Weight that the fit gave it: 1 in the middle, less the further out. */
  weight: number;
}

/** What one trial taught. */
export interface TrialLesson {
  trial_id: string;
  name: string;
  brewed_at: string;
  age_d: number | null;
  /** Information that would be lost without it: half the log₂ of the ratio of posterior volumes [bit]. */
  bits: number;
  /** How far each parameter would move without it, in standard deviations of its posterior; largest first. */
  shifts: readonly { id: string; shift: number }[];
  figures: readonly Surprise[];
}

/** How far the computation itself can be trusted. */
export interface FitDiagnostics {
  /** Times the short form of the engine was made anew. */
  rounds: number;
  engine_runs: number;
  /** Root mean square distance of the short form to the engine at points of the posterior, in noise deviations. */
  surrogate_error: number;
  /** How far the best point still moved in the last round, in posterior deviations. */
  last_move: number;
  sampler: {
    walkers: number;
    steps: number;
    acceptance: number;
    /** Longest autocorrelation time of any parameter, in steps. */
    autocorrelation: number;
    /** Least effective number of independent draws of any parameter. */
    effective: number;
    /** Largest split R̂ of any parameter; near 1 when the halves agree. */
    r_hat: number;
    /** Largest distance of the sampled mean to the best point, in posterior deviations. */
    from_best: number;
    /** Largest ratio, either way, of the sampled width to that of the quadratic (Laplace) answer. */
    width_ratio: number;
  };
}

/** What all trials say together. Plain JSON. */
export interface Fit {
  coffee_id: string;
  coffee_name: string;
  /** Trials that were used: "calibrated on n trials". */
  trials: number;
  /** Fingerprint of everything that went in: another one means out of date. */
  input_hash: string;
  core_version: string;
  seed: number;
  parameters: readonly LearnedParameter[];
  correlated: readonly CorrelatedPair[];
  lessons: readonly TrialLesson[];
  findings: readonly LearnFinding[];
  diagnostics: FitDiagnostics;
  /** The posterior in standard units, in which every prior is a standard normal; for predictions. */
  posterior: Posterior;
}

/** Posterior in standard units. Order of `ids` is that of `parameters`. */
export interface Posterior {
  ids: readonly string[];
  /** Best point (MAP) and the covariance of the quadratic around it, row by row `[k × k]`. */
  best: readonly number[];
  laplace: readonly number[];
  /** Mean and covariance of the sample, row by row `[k × k]`. */
  mean: readonly number[];
  covariance: readonly number[];
  /** Draws `[draws][k]`. */
  draws: readonly (readonly number[])[];
  /** Centre of extractable, as a share, that the prior was put round: the coffee's own figure where it has one. */
  extractable: number;
  setups: readonly { id: string; name: string }[];
  grinders: readonly { id: string; name: string }[];
  /** Channels whose noise was fitted. */
  channels: readonly ChannelName[];
  /** Age at which `diffusion` holds [d]. */
  reference_age_d: number;
}

/** Where long work stands: `engine` runs the brews, `sample` draws from the posterior, `lessons` leaves trials out. */
export type FitStage = 'engine' | 'sample' | 'lessons';

export interface FitOptions {
  /** A whole number; defaults to a fixed one. */
  seed?: number;
  /** Called with 0–1; return false to stop and keep what there is in the state. */
  progress?: (done: number, stage: FitStage) => boolean;
  /** State of a fit that was stopped; ignored when it belongs to other inputs. */
  resume?: FitState;
}

/**
 * A fit that was stopped. Plain JSON, to be given back in `resume`. It holds what the engine has answered, which is what takes long; the
 * rest is done again, with the same seed to the same end.
 */
export interface FitState {
  version: 1;
  input_hash: string;
  seed: number;
  /** Engine runs done so far: outputs by key. */
  runs: Readonly<Record<string, readonly number[]>>;
}

export type FitOutcome =
  | { outcome: 'done'; fit: Fit }
  | { outcome: 'stopped'; state: FitState }
  | { outcome: 'refused'; problems: readonly Problem[] };

/** Bands of one prediction with learned parameters. 5, 50 and 95 %. */
export interface LearnedBands {
  /** Trials the parameters come from. */
  calibrated_trials: number;
  /** Of the fit they come from. */
  fit_hash: string;
  runs: number;
  /** Where a brew like this lies on the mean: what is not known of the parameters. */
  mean: LearnedFigures;
  /** Where the next brew will be measured: the same with brew-to-brew noise. */
  next: LearnedFigures;
  /** Common grid of the envelopes. */
  time_s: readonly number[];
  beverage_low_g: readonly number[];
  beverage_high_g: readonly number[];
  strength_low_pct: readonly number[];
  strength_high_pct: readonly number[];
  bed_low_C: readonly number[];
  bed_high_C: readonly number[];
  findings: readonly LearnFinding[];
}

export interface LearnedFigures {
  beverage_g: Band;
  strength_pct: Band;
  yield_pct: Band;
  drawdown_s: Band;
  peak_bed_C: Band;
  server_C: Band;
}

export interface PredictOptions {
  /** Draws of the posterior, one engine run each. Defaults to 64. */
  runs?: number;
  /** Called with 0–1; return false to stop. */
  progress?: (done: number) => boolean;
}

/** Signatures of what this folder computes, for faces that are built beside it. */
export interface LearnFitApi {
  /** Finds the trials of a coffee among documents. */
  gatherTrials(documents: readonly AnyTrialSource[], coffeeId: string | null): GatherOutcome;
  fitTrials(set: TrialSet, options?: FitOptions): FitOutcome;
  /** Fingerprint that a fit of these trials would carry in `input_hash`. */
  fitHash(set: TrialSet, seed?: number): string;
  /** Null when stopped. */
  predictWith(fit: Fit, bundle: BrewBundle, options?: PredictOptions): LearnedBands | null;
  /** The prediction at the middle of the posterior, with `calibrated_trials` set. */
  simulateLearned(fit: Fit, bundle: BrewBundle, options?: Omit<SimulateOptions, 'parameters'>): BrewResult;
}

/** Documents of all kinds, as a campaign holds them. */
export type AnyTrialSource = import('../../documents/index.ts').AnyDocument;

export type GatherOutcome = { ok: true; value: TrialSet } | { ok: false; problems: Problem[] };
