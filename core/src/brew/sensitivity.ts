import type { BrewBundle } from '../documents/index.ts';
import type { BrewCase } from './case.ts';
import { runCase } from './run.ts';
import { bundleOf, handsOf, type Knob, type KnobName, knobsOf } from './sensitivity/knobs.ts';
import type { Model } from './sensitivity/model.ts';
import { type Effect, morris } from './sensitivity/morris.ts';
import { type Index, sobolIndices } from './sensitivity/sobol-indices.ts';
import { stepPhrase, stepValues } from './sensitivity/words.ts';
import { caseOf, defaultDraw, spreadValue, UNCERTAIN, type UncertainConstant } from './spread.ts';
import { cupOf } from './summarise.ts';

/** The figures whose causes are asked for, in the order in which results list them. */
export const MATTER_TARGETS = [
  { key: 'strength', unit: '%' },
  { key: 'yield', unit: '%' },
  /** Moment the surface reaches the bed; with a lift before that, when it would if left standing. */
  { key: 'drawdown', unit: 's' },
  { key: 'peak_bed', unit: '°C' },
  { key: 'server', unit: '°C' },
  /** Mass of acids over mass of polymers in the cup: how much of the early over how much of the late. */
  { key: 'balance', unit: '' },
] as const;
export type MatterTargetKey = (typeof MATTER_TARGETS)[number]['key'];

/** Something that the cup may depend on. */
export interface MatterInput {
  id: string;
  /** `hand`: what the brewer can turn. `engine`: what is not known exactly. */
  kind: 'hand' | 'engine';
  /** Name of the knob, or of the constant without its solute. */
  name: KnobName | string;
  solute: string | null;
  unit: string;
  value: number;
  low: number;
  high: number;
  /** For a knob: one step as an English phrase, with its values for the catalogue; null for a constant. */
  step: { phrase: string; values: Readonly<Record<string, string | number>> } | null;
  /** For a constant: what it means, and where its range comes from. */
  meaning: string;
  source: string;
}

/** What one input does to one figure, in the figure's unit, when it moves over its whole range. */
export interface MatterEffect extends Effect {
  /** Place in the list of inputs. */
  input: number;
  /** Mean effect of one step of a knob; null for a constant. */
  step_effect: number | null;
}

export interface WhatMatters {
  inputs: readonly MatterInput[];
  targets: readonly {
    key: MatterTargetKey;
    unit: string;
    /** As planned, with the defaults; NaN when it does not exist. */
    now: number;
    /** Largest first. */
    effects: readonly MatterEffect[];
  }[];
  trajectories: number;
  runs: number;
  seed: number;
}

/** Inputs to look at; all by default. The others stay as planned. */
type Choose = (input: MatterInput) => boolean;

export interface MatterOptions {
  choose?: Choose;
  /** Defaults to 8. */
  trajectories?: number;
  seed?: number;
  /** Told after each trajectory with what is known so far; return false to stop and keep it. */
  progress?: (done: number, soFar: () => WhatMatters) => boolean;
}

const SEED = 20_250_101;
const TRAJECTORIES = 8;

/**
 * What moves a brew's figures, quickly: elementary effects (Morris 1991) of every knob of the plan and every uncertain
 * constant of the engine, all moved together over their ranges, from draft runs. Stopped early it gives what it has; null
 * when that is nothing. The bundle must come from checked documents.
 */
export function whatMatters(bundle: BrewBundle, options: MatterOptions = {}): WhatMatters | null {
  const { trajectories = TRAJECTORIES, seed = SEED, progress } = options;
  const study = studyOf(bundle, options.choose);
  const gather = (effects: Effect[][], done: number): WhatMatters => ({
    inputs: study.inputs.map(({ about }) => about),
    targets: MATTER_TARGETS.map((target, q) => ({
      ...target,
      now: study.now[q]!,
      effects: ranked(
        effects[q]!,
        (effect) => effect.size,
        (effect, i) => ({
          ...effect,
          input: i,
          step_effect: perStep(study.inputs[i]!, effect.mean),
        }),
      ),
    })),
    trajectories: done,
    runs: done * (study.inputs.length + 1),
    seed,
  });
  const shape = { inputs: study.inputs.length, outputs: MATTER_TARGETS.length };
  const result = morris(study.model, {
    ...shape,
    trajectories,
    seed,
    ...(progress && {
      progress: (done, effects) => progress(done, () => gather(effects(), Math.round(done * trajectories))),
    }),
  });
  return result.trajectories > 0 ? gather(result.effects, result.trajectories) : null;
}

export interface MatterShare extends Index {
  input: number;
}

/** Shares of the variance of each figure. */
export interface WhatExplains {
  inputs: readonly MatterInput[];
  targets: readonly {
    key: MatterTargetKey;
    unit: string;
    now: number;
    mean: number;
    /** Standard deviation over all ranges. */
    deviation: number;
    /** Rows of the design in which the figure existed. */
    rows: number;
    /** Largest total index first. */
    shares: readonly MatterShare[];
  }[];
  runs: number;
  seed: number;
}

export interface ExplainOptions {
  choose?: Choose;
  /** Rows of the design, best a power of two; defaults to 128. A row costs as many runs as there are inputs, and two. */
  samples?: number;
  seed?: number;
  progress?: (done: number) => boolean;
}

/**
 * What moves a brew's figures, thoroughly: first-order and total indices of the same inputs over the same ranges as
 * {@link whatMatters}, from draft runs; some ten thousand of them. Stopped early it gives what its rows say; null before the second.
 */
export function whatExplains(bundle: BrewBundle, options: ExplainOptions = {}): WhatExplains | null {
  const { samples = 128, seed = SEED, progress } = options;
  const study = studyOf(bundle, options.choose);
  const result = sobolIndices(study.model, {
    inputs: study.inputs.length,
    outputs: MATTER_TARGETS.length,
    samples,
    seed,
    ...(progress && { progress }),
  });
  if (Math.max(...result.rows) < 2) return null;
  return {
    inputs: study.inputs.map(({ about }) => about),
    targets: MATTER_TARGETS.map((target, q) => ({
      ...target,
      now: study.now[q]!,
      mean: result.mean[q]!,
      deviation: Math.sqrt(result.variance[q]!),
      rows: result.rows[q]!,
      shares: ranked(
        result.indices[q]!,
        (share) => share.total,
        (share, i) => ({ ...share, input: i }),
      ),
    })),
    runs: result.runs,
    seed,
  };
}

/** Inputs in order of weight, those without any effect left out; what cannot be compared (NaN) is left out too. */
function ranked<T, R>(all: readonly T[], weight: (item: T) => number, row: (item: T, i: number) => R): R[] {
  return all
    .map((_, i) => i)
    .filter((i) => weight(all[i]!) > 0)
    .sort((a, b) => weight(all[b]!) - weight(all[a]!))
    .map((i) => row(all[i]!, i));
}

type StudyInput =
  | { about: MatterInput; knob: Knob; constant: null }
  | { about: MatterInput; knob: null; constant: UncertainConstant };

interface Study {
  inputs: readonly StudyInput[];
  model: Model;
  /** Every target as planned. */
  now: Float64Array;
}

/** A bundle as a function on the unit cube of all its inputs. */
function studyOf(bundle: BrewBundle, choose: Choose = () => true): Study {
  const inputs: StudyInput[] = [
    ...knobsOf(bundle).map((knob) => ({ about: aboutKnob(knob), knob, constant: null })),
    ...constantsOf(bundle).map((constant) => ({ about: aboutConstant(constant), knob: null, constant })),
  ].filter(({ about }) => choose(about));
  const model: Model = (u, out) => {
    const hands = handsOf(bundle);
    const draw = defaultDraw();
    inputs.forEach(({ knob, constant }, i) => {
      if (knob) knob.turn(hands, knob.low + u[i]! * (knob.high - knob.low));
      else constant.put(draw, spreadValue(constant.range, u[i]!));
    });
    const turned = bundleOf(bundle, hands);
    const c = caseOf(turned, draw, 'draft');
    measure(turned, { ...c, paper: { ...c.paper, resistance: c.paper.resistance * hands.paper } }, out);
  };
  const now = new Float64Array(MATTER_TARGETS.length);
  measure(bundle, caseOf(bundle, defaultDraw(), 'draft'), now);
  return { inputs, model, now };
}

/** Constants that this bundle leaves open: a measured paper and a coffee that says how much it can give close theirs. */
const constantsOf = ({ coffee, setup }: BrewBundle): UncertainConstant[] =>
  UNCERTAIN.filter(
    ({ id }) =>
      (id !== 'paperResistance' || setup.paper.resistance_per_m === null) &&
      (id !== 'extractable' || coffee.extractable_pct === null),
  );

const aboutKnob = (knob: Knob): MatterInput => ({
  id: knob.id,
  kind: 'hand',
  name: knob.name,
  solute: null,
  unit: knob.unit,
  value: knob.value,
  low: knob.low,
  high: knob.high,
  step: { phrase: stepPhrase(knob), values: stepValues(knob) },
  meaning: '',
  source: '',
});

const aboutConstant = ({ id, range, solute }: UncertainConstant): MatterInput => ({
  id,
  kind: 'engine',
  name: solute === null ? id : id.slice(0, id.indexOf('.')),
  solute,
  unit: range.unit,
  value: range.value,
  low: range.low,
  high: range.high,
  step: null,
  meaning: range.meaning,
  source: range.source,
});

const perStep = ({ knob }: StudyInput, effect: number): number | null =>
  knob ? (effect * knob.step) / (knob.high - knob.low) : null;

/** Runs a case and writes its figures, in the order of {@link MATTER_TARGETS}. */
function measure(bundle: BrewBundle, c: BrewCase, out: Float64Array): void {
  const cup = cupOf(bundle, c, runCase(c));
  const mass = (key: string) => cup.solutes.find((solute) => solute.key === key)?.beverage_mg ?? Number.NaN;
  out[0] = cup.strength_pct;
  out[1] = cup.yield_pct;
  out[2] = cup.drawdown_s ?? (cup.lifted ? drawdownUnlifted(c) : Number.NaN);
  out[3] = cup.peak_bed_C;
  out[4] = cup.server_C;
  out[5] = mass('acids') / mass('polymers');
}

/** How long a dripper that is lifted is let go on draining, to see when it would have [s]. */
const LEFT_STANDING = 1_800;

/** When the surface would reach the bed without the lift [s]: liquid and heat alone. */
function drawdownUnlifted(c: BrewCase): number {
  const standing = {
    ...c,
    solutes: [],
    lift: Number.POSITIVE_INFINITY,
    horizon: c.lift + LEFT_STANDING,
  };
  return runCase(standing).headGone ?? Number.NaN;
}
