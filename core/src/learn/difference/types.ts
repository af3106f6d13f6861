import type { Finding } from '../../panel/findings.ts';
import type { Protocol } from '../../panel/protocols.ts';
import type { PermutationP } from '../../panel/row-permutations.ts';

/** One brew of one of two plans, and the figure that was measured of it. */
export interface ComparedBrew {
  plan: 'a' | 'b';
  /** In any one unit, the same for all brews: yield in %, drawdown in s. */
  value: number;
  /** Standard uncertainty of the measurement, in the same unit; 0 when it is not known. */
  doubt: number;
  /** What the brews of one sitting share: a day, a table. null when nobody wrote it down. */
  session: string | null;
  /** Days from roasting. */
  age_d: number | null;
}

/** How far brews of one plan usually scatter, from earlier work; measurement included. */
export interface TrustedSpread {
  /** Standard deviation from brew to brew. */
  sd: number;
  /** Brews it was found from; null when it is taken as exact. */
  brews: number | null;
}

/** What is asked of two plans. */
export interface DifferenceQuestion {
  brews: readonly ComparedBrew[];
  /** What the two plans are called: the first is `a`. */
  names: readonly [string, string];
  /** What was measured: a noun, its unit, and how many decimals are worth showing. */
  figure: { name: string; unit: string; decimals: number };
  /** Chance of a false alarm that is accepted; 0.05. */
  alpha: number;
  history: TrustedSpread | null;
  /** Two plans whose figures lie closer than this are the same for the person's purpose; null asks nothing of sameness. */
  limit: number | null;
  /** What a day of age does to the figure, with its standard uncertainty; null when it is not known. */
  drift: { per_d: number; sd: number } | null;
  /** What a blind panel said of cups of the two. */
  panel: { protocol: Protocol; correct: number; answers: number } | null;
  /** Grounds a brew takes, purge and losses included [g]. */
  dose_g: number | null;
  seed: number;
}

/** same: shown to lie within the limit. clear: shown to differ. maybe: not settled. cannot: so few brews could never settle it. */
export type DifferenceVerdict = 'same' | 'maybe' | 'clear' | 'not_shown' | 'cannot';

/** What a test says with the standard error it used. */
export interface MeanTest {
  se: number;
  /** Degrees of freedom; null for a spread taken as exact. */
  df: number | null;
  /** Difference over its standard error. */
  t: number;
  /** Two-sided. */
  p: number;
}

/** Two one-sided tests that the difference lies within ±limit. */
export interface Equivalence {
  limit: number;
  /** The larger of both one-sided p. */
  p: number;
  /** Interval that must lie within ±limit: confidence 1 − 2·alpha. */
  low: number;
  high: number;
}

/** Brews that would settle what these leave open. */
export interface RepeatBrews {
  /** Of each plan. */
  each: number;
  /** In this order, in one sitting. */
  order: readonly ('a' | 'b')[];
  /** Grounds they take [g]; null when the dose is not known. */
  grams: number | null;
  /** Smallest p that an exact test of all brews together could then give. */
  least_p: number;
  /** What these repeats alone would just show, at two standard errors. */
  limit_alone: number;
}

/** Are two plans different? */
export interface BrewDifference {
  verdict: DifferenceVerdict;
  /** Mean of b less mean of a, freed of sessions and of age where that can be. */
  difference: number;
  /** Interval at confidence 1 − alpha. */
  low: number;
  high: number;
  means: readonly [number, number];
  counts: readonly [number, number];
  /** Spread from brew to brew within a plan, measurement included; NaN with one brew of each. */
  sd: number;
  /** Part of it that is measurement alone. */
  doubt: number;
  /** From these brews alone; null when they leave no degrees of freedom. */
  alone: MeanTest | null;
  /** All ways to hand the labels out; `least` is the smallest p that these counts can give. */
  exact: PermutationP & { least: number };
  /** With the trusted spread. `limit` is two standard errors of it. */
  history: (MeanTest & { limit: number }) | null;
  /** Sessions as random effects, where there are enough of them; null otherwise. */
  mixed: (MeanTest & { session_sd: number }) | null;
  same: Equivalence | null;
  /** What changed together with the plan, so that these brews cannot tell it apart from the plan. */
  confounded: readonly ('age' | 'session')[];
  /** Change of the figure a day that would explain all of the difference; null when ages do not differ. */
  drift_needed_per_d: number | null;
  repeat: RepeatBrews | null;
  panel: { p: number; correct: number; answers: number } | null;
  findings: Finding[];
}
export type CompareBrews = (question: DifferenceQuestion) => BrewDifference;

/** Asked before anything is brewed. */
export interface DetectableQuestion {
  /** Brews of each plan. */
  counts: readonly [number, number];
  history: TrustedSpread;
  alpha: number;
  /** Chance of finding it that is wanted; 0.8. */
  power: number;
  /** A difference one would care about; null when none is named. */
  wanted: number | null;
  figure: { name: string; unit: string; decimals: number };
  dose_g: number | null;
}

/** What so many brews could show. */
export interface Detectable {
  /** Smallest true difference found with the wanted chance; with the spread as known from earlier. */
  with_history: number;
  /** The same, when only these brews may say how far they scatter; null with no degrees of freedom. */
  alone: number | null;
  /** Smallest p the exact test could give. */
  least_p: number;
  /** Chance of finding the wanted difference, with history and alone; null when none is named. */
  chance: { with_history: number; alone: number | null } | null;
  /** Fewest brews of each plan that find the wanted difference; null when none is named or none up to 60 does. */
  needed: { with_history: number | null; alone: number | null } | null;
  grams: number | null;
  findings: Finding[];
}
export type DetectableDifference = (question: DetectableQuestion) => Detectable;

/** One figure of cups that were meant to be the same. */
export interface CupFigure {
  name: string;
  unit: string;
  decimals: number;
  /** One value a cup; null when it was not measured. */
  values: readonly (number | null)[];
  /** Standard uncertainty of a measurement. */
  doubt: number;
  /** How far one's cups of one set usually scatter, and from how many sets. */
  history: { sd: number; sets: number } | null;
  /** Largest difference between two cups that a guest would not notice; null when nobody said. */
  limit: number | null;
}

/** How much a figure of the cups differs. */
export interface FigureUniformity {
  name: string;
  unit: string;
  count: number;
  mean: number;
  /** Highest less lowest. */
  range: number;
  sd: number;
  /** Interval of the standard deviation at 90 %; so few cups leave it wide. */
  sd_low: number;
  sd_high: number;
  /** Chance of so large a spread when the hand was as steady as usual; null without history. */
  p: number | null;
  /** The same as a share of one's own sets: 0.9 is worse than nine of ten. */
  worse_than: number | null;
  /** Cup farthest from the others, counted from 0, and how far from their mean. */
  odd: { cup: number; away: number; p: number | null } | null;
  within_limit: boolean | null;
}

/** Were the cups the same? */
export interface CupUniformity {
  verdict: DifferenceVerdict;
  figures: FigureUniformity[];
  findings: Finding[];
}
export type CupsAlike = (figures: readonly CupFigure[], alpha?: number) => CupUniformity;

/** Figures of a cup that pours move. */
export const POUR_FIGURES = ['strength_pct', 'yield_pct', 'beverage_g', 'drawdown_s', 'server_C'] as const;
export type PourFigure = (typeof POUR_FIGURES)[number];

/** What of a pour can go wrong. */
export const POUR_SLIPS = ['water_g', 'start_s', 'duration_s'] as const;
export type PourSlip = (typeof POUR_SLIPS)[number];

/** What one gram or second of each pour does to the cup, from the engine. */
export interface PourSensitivities {
  /** Ids of the pours, in order of time. */
  pours: readonly string[];
  planned: readonly Readonly<Record<PourSlip, number>>[];
  /** Figures as planned. */
  base: Readonly<Record<PourFigure, number>>;
  /** Change of a figure per gram or second: [pour][slip][figure]. */
  effect: readonly Readonly<Record<PourSlip, Readonly<Record<PourFigure, number>>>>[];
}

/** A pour as it was measured; null for what was not. */
export interface MeasuredPour {
  water_g: number | null;
  start_s: number | null;
  duration_s: number | null;
}

/** A cup with its pours, in the order of the plan's pours in time. */
export interface PouredCup {
  name: string;
  pours: readonly (MeasuredPour | null)[];
  figures: Readonly<Partial<Record<PourFigure, number>>>;
}

export interface BlameQuestion {
  sensitivities: PourSensitivities;
  cups: readonly PouredCup[];
  /** Standard uncertainty of a measured pour. */
  pour_doubt: Readonly<Record<PourSlip, number>>;
  /** Standard uncertainty of a measured figure. */
  figure_doubt: Readonly<Partial<Record<PourFigure, number>>>;
  /** Scatter of the figures between cups poured alike, which no pour explains; from history, else assumed. */
  unexplained: Readonly<Partial<Record<PourFigure, number>>>;
  seed: number;
}

/** What one pour did to one cup, against the mean of the others. */
export interface BlamedPour {
  /** Place of the pour in time, counted from 0, and its id in the plan. */
  pour: number;
  pour_id: string;
  /** How it differed from the same pour of the other cups. */
  slips: Readonly<Partial<Record<PourSlip, number>>>;
  /** What that does to each figure by the engine. */
  moved: Readonly<Partial<Record<PourFigure, number>>>;
  /** Chance that this pour did more of what is seen than any other pour and than all that was not measured. */
  chance: number;
}

/** Why one cup is as it is. */
export interface BlamedCup {
  cup: number;
  /** The cups it was held against. */
  against: number[];
  name: string;
  /** Figures less the mean of the others. */
  away: Readonly<Partial<Record<PourFigure, number>>>;
  /** By chance, the likeliest first. */
  pours: BlamedPour[];
  /** Chance that something not measured did more: grind, bed, dose, hand. */
  elsewhere: number;
  /** Share of what is seen that the measured pours explain, 0–1, by squares. */
  explained: number;
}

export interface PourBlame {
  /** The oddest first; the last cup of a set is what the others are held against and has no entry. */
  cups: BlamedCup[];
  findings: Finding[];
}
export type BlamePours = (question: BlameQuestion) => PourBlame;
