import type { BrewBundle } from '../documents/index.ts';
import { CORE_VERSION } from '../version.ts';
import { afterBrew } from './after-brew.ts';
import type { BrewCase } from './case.ts';
import { compileCase } from './compile.ts';
import { fingerprint } from './hash.ts';
import { defaultParameters, type Parameters } from './parameters.ts';
import { remarksOf, sortRemarks } from './remarks.ts';
import type { BrewResult, Cup, ErrorEstimate, Resolution } from './result.ts';
import { runCase } from './run.ts';
import { closureOf, cupOf, evennessOf, pourSharesOf } from './summarise.ts';

/** Options of {@link simulate}. */
export interface SimulateOptions {
  /** Defaults to `'standard'`. */
  resolution?: Resolution;
  /** Defaults to {@link defaultParameters}. */
  parameters?: Parameters;
}

/**
 * Predicts a brew. Pure: the same input gives the same output, bit for bit.
 *
 * The bundle must come from checked documents (`bundlePlan`). The error estimate of standard and reference runs is the
 * half the difference to a second run on half as many cells with four times the tolerance: for a method of second order
 * the error of the finer run is about a third of that difference, and a half is on the safe side.
 */
export function simulate(bundle: BrewBundle, options: SimulateOptions = {}): BrewResult {
  const resolution = options.resolution ?? 'standard';
  const parameters = options.parameters ?? defaultParameters();
  const c = compileCase(bundle, parameters, resolution);
  const run = runCase(c);
  const cup = cupOf(bundle, c, run);
  const evenness = evennessOf(c, run);
  const around = afterBrew(bundle, c, parameters, run.recorder.finish(), cup);
  return {
    trace: around.trace,
    cup: around.cup,
    pours: pourSharesOf(bundle, c, run),
    evenness,
    kettles: around.kettles,
    chill: around.chill,
    serving: around.serving,
    closure: closureOf(c, run),
    error: resolution === 'draft' ? null : estimateError(bundle, c, cup),
    remarks: sortRemarks([...remarksOf(bundle, c, run, evenness), ...around.remarks]),
    resolution,
    calibrated_trials: 0,
    core_version: CORE_VERSION,
    input_hash: fingerprint([CORE_VERSION, resolution, parameters, bundle]),
    stats: {
      steps: run.steps,
      rejected: run.rejected,
      cells: c.numerics.cells,
      classes: c.sizes.length,
      solutes: c.solutes.length,
      bins: c.numerics.bins,
      grain_biot: c.grains.biot,
      grain_lag_s: c.grains.lag,
    },
  };
}

/** The same case on half as many cells, with four times the error allowed in a step. */
export function coarsened(c: BrewCase): BrewCase {
  const n = c.numerics;
  return {
    ...c,
    numerics: {
      ...n,
      cells: Math.max(2, Math.round(n.cells / 2)),
      tolerance: n.tolerance * 4,
      longestStep: n.longestStep * 2,
      firstStep: n.firstStep * 2,
    },
  };
}

function estimateError(bundle: BrewBundle, c: BrewCase, fine: Cup): ErrorEstimate {
  const rough = coarsened(c);
  const coarse = cupOf(bundle, rough, runCase(rough));
  return {
    beverage_g: Math.abs(fine.beverage_g - coarse.beverage_g) / 2,
    strength_pct: Math.abs(fine.strength_pct - coarse.strength_pct) / 2,
    yield_pct: Math.abs(fine.yield_pct - coarse.yield_pct) / 2,
    temperature_K: Math.max(
      Math.abs(fine.peak_bed_C - coarse.peak_bed_C) / 2,
      Math.abs(fine.server_C - coarse.server_C) / 2,
    ),
  };
}
