import type { BrewBundle } from '../documents/index.ts';
import { serverAtEnd_C } from './after-brew.ts';
import { compileCase } from './compile.ts';
import { defaultParameters, type Parameters } from './parameters.ts';
import type { Band, Bands } from './result.ts';
import { runCase } from './run.ts';
import { sobolPoints } from './sampling/sobol.ts';
import { caseOf, type Draw, drawAt, UNCERTAIN } from './spread.ts';
import { cupOf } from './summarise.ts';

/** Progress of long work: called with 0–1; return false to stop. */
export type Progress = (done: number) => boolean;

/** Points of the common grid on which envelopes are given. */
const GRID = 121;

/** Seed of the sample: one figure, so that the same plan always shows the same spread. */
const SEED = 20_250_101;

/**
 * `runs` choices of all uncertain constants within their ranges: a scrambled Sobol sequence, so that they fill the space of
 * all constants evenly, and every constant its own range. Of an even number of runs half lie below each default.
 */
export function sampleDraws(runs: number): Draw[] {
  const dimensions = UNCERTAIN.length;
  const points = sobolPoints(runs, dimensions, SEED);
  return Array.from({ length: runs }, (_, k) =>
    drawAt(points.subarray(k * dimensions, (k + 1) * dimensions)),
  );
}

/** The parameters of {@link sampleDraws}, in SI, without the constants of the solutes. */
export const sampleParameters = (runs: number): Parameters[] =>
  sampleDraws(runs).map((draw) => draw.parameters);

interface Sample {
  beverage_g: number;
  strength_pct: number;
  yield_pct: number;
  drawdown_s: number;
  peak_bed_C: number;
  server_C: number;
  beverage: Float64Array;
  strength: Float64Array;
  bed: Float64Array;
}

/**
 * Spread of a prediction from the plausible ranges of parameters and solute constants: `runs` draft runs at points of low
 * discrepancy, 5 %, 50 % and 95 % of each figure. Constants are taken as independent, which widens the bands. Returns null
 * when `progress` said stop.
 */
export function simulateBands(bundle: BrewBundle, runs: number, progress?: Progress): Bands | null {
  const samples: Sample[] = [];
  const reference = compileCase(bundle, defaultParameters(), 'draft');
  const end = Math.min(reference.horizon, bandsEnd(bundle));
  const time_s = Float64Array.from({ length: GRID }, (_, i) => (end * i) / (GRID - 1));
  for (const draw of sampleDraws(runs)) {
    samples.push(sampleRun(bundle, draw, time_s));
    if (progress && !progress(samples.length / runs)) return null;
  }
  const band = (pick: (s: Sample) => number): Band => {
    const sorted = samples
      .map(pick)
      .filter(Number.isFinite)
      .sort((a, b) => a - b);
    return { low: quantile(sorted, 0.05), mid: quantile(sorted, 0.5), high: quantile(sorted, 0.95) };
  };
  const envelope = (pick: (s: Sample) => Float64Array, at: number) =>
    Float64Array.from(time_s, (_, i) =>
      quantile(
        samples
          .map((s) => pick(s)[i]!)
          .filter(Number.isFinite)
          .sort((a, b) => a - b),
        at,
      ),
    );
  return {
    runs,
    beverage_g: band((s) => s.beverage_g),
    strength_pct: band((s) => s.strength_pct),
    yield_pct: band((s) => s.yield_pct),
    drawdown_s: band((s) => s.drawdown_s),
    peak_bed_C: band((s) => s.peak_bed_C),
    server_C: band((s) => s.server_C),
    time_s,
    beverage_low_g: envelope((s) => s.beverage, 0.05),
    beverage_high_g: envelope((s) => s.beverage, 0.95),
    strength_low_pct: envelope((s) => s.strength, 0.05),
    strength_high_pct: envelope((s) => s.strength, 0.95),
    bed_low_C: envelope((s) => s.bed, 0.05),
    bed_high_C: envelope((s) => s.bed, 0.95),
  };
}

/** The envelopes reach two minutes past the last thing the plan does, or to its lift. */
function bandsEnd(bundle: BrewBundle): number {
  const { plan } = bundle;
  if (plan.lift_s !== null) return plan.lift_s;
  const last = Math.max(...plan.pours.map((p) => p.start_s), plan.outlet_opens_s ?? 0);
  return last + 120;
}

function sampleRun(bundle: BrewBundle, draw: Draw, time_s: Float64Array): Sample {
  const c = caseOf(bundle, draw, 'draft');
  const run = runCase(c);
  const cup = cupOf(bundle, c, run);
  const trace = run.recorder.finish();
  return {
    beverage_g: cup.beverage_g,
    strength_pct: cup.strength_pct,
    yield_pct: cup.yield_pct,
    drawdown_s: cup.drawdown_s ?? Number.NaN,
    peak_bed_C: cup.peak_bed_C,
    server_C: serverAtEnd_C(bundle, c, trace),
    beverage: resample(trace.time_s, trace.beverage_g, time_s),
    strength: resample(trace.time_s, trace.strength_pct, time_s),
    bed: resample(trace.time_s, trace.bed_middle_C, time_s),
  };
}

/** Linear interpolation onto a grid; beyond the end the last value holds. */
function resample(from: Float64Array, values: Float64Array, onto: Float64Array): Float64Array {
  const out = new Float64Array(onto.length);
  let k = 0;
  for (let i = 0; i < onto.length; i++) {
    const t = onto[i]!;
    while (k < from.length - 2 && from[k + 1]! < t) k++;
    const width = from[k + 1]! - from[k]!;
    const share = width > 0 ? Math.min(1, Math.max(0, (t - from[k]!) / width)) : 0;
    out[i] = values[k]! + share * (values[k + 1]! - values[k]!);
  }
  return out;
}

/** Quantile by linear interpolation of order statistics (type 7). */
function quantile(sorted: readonly number[], at: number): number {
  if (sorted.length === 0) return Number.NaN;
  const x = at * (sorted.length - 1);
  const k = Math.floor(x);
  const next = sorted[Math.min(k + 1, sorted.length - 1)]!;
  return sorted[k]! + (x - k) * (next - sorted[k]!);
}
