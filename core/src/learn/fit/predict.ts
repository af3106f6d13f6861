import { serverAtEnd_C } from '../../brew/after-brew.ts';
import { compileCase } from '../../brew/compile.ts';
import {
  type Band,
  type BrewResult,
  type Resolution,
  type SimulateOptions,
  simulate,
} from '../../brew/index.ts';
import { runCase } from '../../brew/run.ts';
import { cupOf } from '../../brew/summarise.ts';
import type { BrewBundle } from '../../documents/index.ts';
import { type Dice, diceFrom } from '../chance.ts';
import { type Applied, applyLearned } from './apply.ts';
import { type LearnFinding, learnFinding } from './finding.ts';
import { type Layout, layoutOf, naturalsAt, offsetOf, valuesAt } from './layout.ts';
import { bandOf } from './linear.ts';
import { valueAt } from './observe.ts';
import { usedGrinders } from './prepare.ts';
import {
  BETWEEN_PRIORS,
  type BetweenName,
  LEARNED_PRIORS,
  NOISE_PRIORS,
  naturalAt,
  stretchOf,
} from './prior.ts';
import { NU } from './target.ts';
import {
  CHANNEL_NAMES,
  type ChannelName,
  type Fit,
  type LearnedBands,
  type LearnedFigures,
  type PredictOptions,
} from './types.ts';

/** Runs of a prediction when nobody says otherwise. */
const RUNS = 64;
/** Points of the common grid on which envelopes are given. */
const GRID = 121;
/** Envelopes reach this far past the last thing the plan does [s]. */
const AFTER_S = 120;

const FIGURES = ['beverage_g', 'strength_pct', 'yield_pct', 'drawdown_s', 'peak_bed_C', 'server_C'] as const;
type Figures = Record<(typeof FIGURES)[number], number>;

interface Sample {
  mean: Figures;
  next: Figures;
  beverage: Float64Array;
  strength: Float64Array;
  bed: Float64Array;
}

/**
 * What a plan will give, with what the trials taught: one draft run at each of `runs` draws of the posterior, moved by what one
 * standard run at its middle differs from the draft. `mean` is what is not known of the parameters, `next` where the next brew
 * will be measured. A coffee, setup or grinder that was in no trial keeps its prior in that part; findings say so. Constants that
 * are not fitted stay at their defaults. Returns null when stopped.
 */
export function predictWith(fit: Fit, bundle: BrewBundle, options: PredictOptions = {}): LearnedBands | null {
  const runs = Math.min(options.runs ?? RUNS, fit.posterior.draws.length);
  const reader = readerOf(fit, bundle);
  const middle = reader.applied(fit.posterior.mean, null);
  const fine = runOnce(middle, 'standard');
  const draft = runOnce(middle, 'draft');
  const time_s = gridOf(bundle);
  const dice = diceFrom(fit.seed);
  const samples: Sample[] = [];
  for (let k = 0; k < runs; k++) {
    const z = fit.posterior.draws[Math.floor(((k + 0.5) * fit.posterior.draws.length) / runs)]!;
    const run = runOnce(reader.applied(z, dice), 'draft');
    const mean = shifted(run.figures, fine.figures, draft.figures);
    const { trace } = run;
    const course = (values: Float64Array) => time_s.map((t) => valueAt(trace.time_s, values, t));
    const times = (values: Float64Array, factor: number) => Float64Array.from(values, (x) => x * factor);
    samples.push({
      mean,
      next: reader.brewed(mean, z, dice),
      beverage: times(course(trace.beverage_g), mean.beverage_g / run.figures.beverage_g),
      strength: times(course(trace.strength_pct), mean.strength_pct / run.figures.strength_pct),
      bed: course(trace.bed_middle_C),
    });
    if (options.progress && !options.progress((k + 1) / runs)) return null;
  }
  const bands = (of: 'mean' | 'next'): LearnedFigures =>
    Object.fromEntries(FIGURES.map((name) => [name, bandOf(samples.map((s) => s[of][name]))])) as Record<
      keyof LearnedFigures,
      Band
    >;
  const envelope = (of: 'beverage' | 'strength' | 'bed', end: 'low' | 'high') =>
    Array.from(time_s, (_, i) => bandOf(samples.map((s) => s[of][i]!))[end]);
  return {
    calibrated_trials: fit.trials,
    fit_hash: fit.input_hash,
    runs,
    mean: bands('mean'),
    next: bands('next'),
    time_s: Array.from(time_s),
    beverage_low_g: envelope('beverage', 'low'),
    beverage_high_g: envelope('beverage', 'high'),
    strength_low_pct: envelope('strength', 'low'),
    strength_high_pct: envelope('strength', 'high'),
    bed_low_C: envelope('bed', 'low'),
    bed_high_C: envelope('bed', 'high'),
    findings: reader.findings,
  };
}

/** The prediction at the middle of the posterior: what `simulate` gives with the learned constants, and how many trials these rest on. */
export function simulateLearned(
  fit: Fit,
  bundle: BrewBundle,
  options: Omit<SimulateOptions, 'parameters'> = {},
): BrewResult {
  const { bundle: applied, parameters } = learnedFor(fit, bundle);
  const result = simulate(applied, { ...options, parameters });
  return { ...result, calibrated_trials: fit.trials };
}

/** A bundle and constants with the middle of the posterior in them. */
export const learnedFor = (fit: Fit, bundle: BrewBundle): Applied =>
  readerOf(fit, bundle).applied(fit.posterior.mean, null);

/** Reads a posterior for one brew. */
interface Reader {
  /** The brew at a point of the posterior; chance fills in what no trial says, null takes the middle of that. */
  applied(z: readonly number[], dice: Dice | null): Applied;
  /** Figures of a brew with brew-to-brew noise. */
  brewed(mean: Figures, z: readonly number[], dice: Dice): Figures;
  findings: LearnFinding[];
}

function readerOf(fit: Fit, bundle: BrewBundle): Reader {
  const layout = layoutOf(fit.posterior);
  const sameCoffee = bundle.coffee.id === fit.coffee_id;
  const setup = layout.setups.findIndex(({ id }) => id === bundle.setup.id);
  const used = usedGrinders(bundle);
  const days = (bundle.plan.coffee_age_d ?? layout.reference_age_d) - layout.reference_age_d;
  const natural = new Float64Array(layout.unknowns.length);
  const coffeeCentre = bundle.coffee.extractable_pct;

  const common = (z: readonly number[], name: BetweenName, dice: Dice | null): number => {
    const value = natural[layout.at[name]]!;
    if (setup >= 0) return value + offsetOf(layout, natural, z, name, setup);
    return value + (dice ? spreadOf(layout, natural, name) * dice.normal() : 0);
  };
  const ofCoffee = (name: 'extractable' | 'diffusion' | 'ageing', dice: Dice | null): number => {
    if (sameCoffee) return natural[layout.at[name]]!;
    const x = naturalAt(stretchOf(LEARNED_PRIORS[name]), dice ? dice.normal() : 0);
    if (name !== 'extractable' || coffeeCentre === null) return x;
    return x + Math.log(coffeeCentre / 100 / LEARNED_PRIORS.extractable.median);
  };
  return {
    applied(z, dice) {
      naturalsAt(layout, z, natural);
      const coordinates = [
        ofCoffee('extractable', dice),
        ofCoffee('diffusion', dice) + ofCoffee('ageing', dice) * days,
        common(z, 'permeability', dice),
        common(z, 'retained', dice),
        common(z, 'heat_loss', dice),
        ...used.map(({ id }) => {
          const g = layout.grinders.findIndex((known) => known.id === id);
          if (g >= 0) return natural[layout.grindAt[g]!]!;
          return naturalAt(stretchOf(LEARNED_PRIORS.grind), dice ? dice.normal() : 0);
        }),
      ];
      return applyLearned(
        bundle,
        valuesAt(
          coordinates,
          used.map(({ id }) => id),
        ),
      );
    },
    brewed(mean, z, dice) {
      naturalsAt(layout, z, natural);
      const e = (channel: ChannelName): number => noiseOf(layout, natural, channel) * dice.student(NU);
      const beverage_g = mean.beverage_g + bundle.plan.dose_g * e('beverage');
      const strength_pct = mean.strength_pct * Math.exp(e('strength'));
      return {
        beverage_g,
        strength_pct,
        yield_pct: (strength_pct * beverage_g) / bundle.plan.dose_g,
        drawdown_s: mean.drawdown_s * Math.exp(e('drawdown')),
        peak_bed_C: mean.peak_bed_C + e('temperature'),
        server_C: mean.server_C + e('temperature'),
      };
    },
    findings: readerFindings(fit, layout, bundle),
  };
}

/** How far a setup that was in no trial may lie from those that were. */
function spreadOf(layout: Layout, natural: Float64Array, name: BetweenName): number {
  if (layout.betweenAt) return Math.exp(natural[layout.betweenAt[name].spread]!);
  // From one setup to another: both lie about what they have in common.
  return Math.SQRT2 * BETWEEN_PRIORS[name].median;
}

function noiseOf(layout: Layout, natural: Float64Array, channel: ChannelName): number {
  const at = layout.noiseAt[CHANNEL_NAMES.indexOf(channel)]!;
  return at >= 0 ? Math.exp(natural[at]!) : NOISE_PRIORS[channel].median;
}

function readerFindings(fit: Fit, layout: Layout, bundle: BrewBundle): LearnFinding[] {
  const found: LearnFinding[] = [];
  if (bundle.coffee.id !== fit.coffee_id)
    found.push(
      learnFinding('caution', 'predicts_other_coffee', {
        coffee: fit.coffee_name,
        other: bundle.coffee.name,
      }),
    );
  else if (bundle.plan.coffee_age_d === null)
    found.push(learnFinding('note', 'predicts_age_unknown', { days: layout.reference_age_d }));
  if (!layout.setups.some(({ id }) => id === bundle.setup.id))
    found.push(learnFinding('caution', 'predicts_new_setup', { setup: bundle.setup.name }));
  for (const { id, name } of usedGrinders(bundle))
    if (!layout.grinders.some((known) => known.id === id))
      found.push(learnFinding('caution', 'predicts_new_grinder', { grinder: name }));
  return found;
}

function runOnce({ bundle, parameters }: Applied, resolution: Resolution) {
  const c = compileCase(bundle, parameters, resolution);
  const run = runCase(c);
  const cup = cupOf(bundle, c, run);
  const trace = run.recorder.finish();
  const figures: Figures = {
    beverage_g: cup.beverage_g,
    strength_pct: cup.strength_pct,
    yield_pct: cup.yield_pct,
    drawdown_s: cup.drawdown_s ?? Number.NaN,
    peak_bed_C: cup.peak_bed_C,
    server_C: serverAtEnd_C(bundle, c, trace),
  };
  return { figures, trace };
}

/** Draft figures moved by what the fine run differs from the draft: temperatures by a difference, the rest by a ratio. */
function shifted(figures: Figures, fine: Figures, draft: Figures): Figures {
  const out = { ...figures };
  for (const name of FIGURES) {
    const moved = name.endsWith('_C')
      ? figures[name] + fine[name] - draft[name]
      : figures[name] * (fine[name] / draft[name]);
    if (Number.isFinite(moved)) out[name] = moved;
  }
  return out;
}

function gridOf({ plan }: BrewBundle): Float64Array {
  const last = Math.max(...plan.pours.map(({ start_s }) => start_s), plan.outlet_opens_s ?? 0);
  const end = plan.lift_s ?? last + AFTER_S;
  return Float64Array.from({ length: GRID }, (_, i) => (end * i) / (GRID - 1));
}
