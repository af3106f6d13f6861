import type { Finding } from '../../panel/findings.ts';
import type { DesignFactor } from '../design/types.ts';

/** A brew that was tried: where, and how good it was. */
export interface TriedBrew {
  name: string;
  /** In the factors' units. */
  levels: readonly number[];
  /** What is to be made better: a score, a strength. null when the brew was only tasted against others. */
  value: number | null;
  /** Standard uncertainty of that value, beside what brews scatter anyway. */
  doubt: number;
  /** Days from roasting; null when not known. */
  age_d: number | null;
}

/** What is wanted of the value. */
export type NextAim = { by: 'most' } | { by: 'least' } | { by: 'target'; target: number };

/** Grams and time that are left. */
export interface NextBudget {
  /** Coffee left for trying [g]. */
  grams: number;
  /** Grounds of a brew with purge and losses [g]. */
  dose_g: number;
  /** Minutes left; null for no bound. */
  minutes: number | null;
  /** Minutes from one brew to the next. */
  brew_min: number;
}

export interface NextQuestion {
  /** What the value is: a noun, its unit, and decimals worth showing. */
  figure: { name: string; unit: string; decimals: number };
  factors: readonly DesignFactor[];
  tried: readonly TriedBrew[];
  /** Blind choices between tried brews, by their places. */
  preferred: readonly { better: number; worse: number }[];
  aim: NextAim;
  /** Scatter of the value from brew to brew; null learns it from the brews. */
  repeat_sd: number | null;
  budget: NextBudget;
  /** What is expected before anything was brewed, from the engine or a fit; null expects the same everywhere. */
  expect: ((levels: readonly number[]) => number) | null;
  seed: number;
  progress?: (done: number) => boolean;
}

/** Why a brew is suggested: it may be better, it teaches most for the brews that follow, or it tells how good the champion really is. */
export type SuggestionReason = 'gain' | 'learn' | 'repeat';

/** A brew to make next. */
export interface SuggestedBrew {
  why: SuggestionReason;
  levels: number[];
  /** What is expected there, and how far off that may be. */
  mean: number;
  sd: number;
  /** Gain over the champion to be expected, in the value's unit (nearness, for a target). */
  expected_gain: number;
  /** By how much the best that is believed is expected to rise once this brew is known. */
  knowledge: number;
  /** Chance that it beats the champion. */
  chance_better: number;
  /** What is changed against the champion, by factor. */
  changes: readonly { factor: number; from: number; to: number }[];
}

export interface NextBrew {
  /** Place in the list of the best so far, by what is believed of it, not by its luckiest value; null without brews. */
  champion: { tried: number; mean: number; sd: number } | null;
  /** The best suggestion first. */
  suggestions: SuggestedBrew[];
  /** Brews that grams and minutes still allow. */
  brews_left: number;
  /** The expected gain of going on is smaller than one can tell by repeating the champion. */
  stop: boolean;
  /** How the process was set: scatter of brews and reach of each factor, averaged over what is plausible. */
  learned: { repeat_sd: number; signal_sd: number; reach: number[]; drift_per_d: number | null };
  findings: Finding[];
}
export type SuggestNext = (question: NextQuestion) => NextBrew;

/** What a candidate would teach about figures that are not known exactly. */
export interface InformationQuestion {
  /** Predicted figures of each candidate by each draw from what is believed: [candidate][draw][figure]. */
  predictions: readonly (readonly (readonly number[])[])[];
  /** Scatter of each figure, brew and measurement together. */
  noise: readonly number[];
  /** Grounds of each candidate [g]. */
  grams: readonly number[];
}
/** Expected information of each candidate in bits, and per gram. */
export type ExpectedInformation = (question: InformationQuestion) => {
  bits: number[];
  bits_per_gram: number[];
  best: number;
};

/** An unknown coffee, so many grams and minutes. */
export interface DialInQuestion {
  /** Minutes of practice. */
  minutes: number;
  /** Coffee in all [g], practice and serving together. */
  grams: number;
  dose_g: number;
  purge_g: number;
  /** Cups served after practice, and spare doses kept back for them. */
  serve_cups: number;
  spare_doses: number;
  /** Hands busy with a brew [s], making ready for the next [s], until the cup can be tasted [s], tasting [s]. */
  brew_s: number;
  ready_s: number;
  cool_s: number;
  taste_s: number;
  /** Minutes at the end that are not brewed in: grinding, weighing, resting the tongue. */
  close_min: number;
  factors: readonly DesignFactor[];
  seed: number;
}

export type DialInPurpose = 'first' | 'explore' | 'choose' | 'confirm';

export interface DialInBrew {
  brew: number;
  purpose: DialInPurpose;
  start_s: number;
  end_s: number;
  taste_from_s: number;
  taste_until_s: number;
  /** Levels when they are settled now; null when the cups before decide. */
  levels: number[] | null;
  /** Brews whose taste is known when this one starts, from 0. */
  known: number[];
}

export interface DialInPlan {
  brews: DialInBrew[];
  /** What stops more brews: `time`, or `grams`. */
  bound_by: 'time' | 'grams';
  grams_used: number;
  grams_kept: number;
  ends_s: number;
  findings: Finding[];
}
export type PlanDialIn = (question: DialInQuestion) => DialInPlan;
