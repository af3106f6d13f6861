import { defaultParameters, PARAMETERS, type Parameters } from '../../brew/parameters.ts';
import type { Cup } from '../../brew/result.ts';
import { simulate } from '../../brew/simulate.ts';
import type { BrewBundle } from '../../documents/index.ts';
import { type GrindProgress, randomOf } from '../bootstrap.ts';
import { crossing, drawCurves, layGrid, rising, settingBand } from '../curve-grid.ts';
import { curveAt, type GrindBand, type GrinderCurve } from '../grinder-curve.ts';
import { distributionOfTable } from '../levels.ts';
import { figureOf, type GrindRemark, grindRemark } from '../remarks.ts';
import { type SettingOptions, searchedDial } from '../setting-for.ts';
import { withGrind, withoutLift } from './with-grind.ts';

/** A brew that was made on this grinder with this plan, to set the engine's flow by. */
export interface KnownBrew {
  dial: number;
  drawdown_s: number;
}

export interface DrawdownQuestion {
  bundle: BrewBundle;
  curve: GrinderCurve;
  drawdown_s: number;
  /** Brews of the same plan on the same grinder; without any the engine's defaults stand and the band is wide. */
  known?: readonly KnownBrew[];
  options?: SettingOptions;
  parameters?: Parameters;
  progress?: GrindProgress;
}

export interface DrawdownAnswer {
  dial: GrindBand;
  on_scale: number;
  /** Factor on the engine's permeability that the known brews ask for; 1 without any. */
  permeability_factor: number;
  /** The ladder that was run: setting, size, drawdown, strength and yield. */
  ladder: readonly {
    dial: number;
    d50_um: number;
    drawdown_s: number | null;
    strength_pct: number;
    yield_pct: number;
  }[];
  remarks: GrindRemark[];
}

/** Settings that are run. */
const RUNGS = 9;
const DRAWS = 400;
const SEED = 20_260_404;
/** How drawdown strays from brew to brew, in its logarithm (assumed for a trained hand). */
const REPEAT = 0.06;
/** Doubt of the engine's drawdown without a known brew, in its logarithm: half of ln over the range of the permeability factor. */
const uncalibrated = (): number => {
  const { low, high } = PARAMETERS.permeabilityFactor;
  return Math.log(high / low) / (2 * 1.645);
};

/**
 * The setting at which this plan draws down in a given time, by the engine run on the grinder's curve, the dripper left in place. Known brews of the same plan set
 * the engine's permeability first. The band holds the doubt of the curve, of the engine's flow and of the hand. Null when stopped.
 */
export function settingForDrawdown(question: DrawdownQuestion): DrawdownAnswer | null {
  const { bundle, curve, known = [], options = {}, progress } = question;
  const base = question.parameters ?? defaultParameters();
  const [low, high] = searchedDial(curve, options);
  const dials = Array.from({ length: RUNGS }, (_, k) => low + ((high - low) * k) / (RUNGS - 1));
  const remarks: GrindRemark[] = [];
  const factor = permeabilityFrom(question, base);
  const parameters = { ...base, permeabilityFactor: base.permeabilityFactor * factor };
  const ladder: DrawdownAnswer['ladder'][number][] = [];
  for (const dial of dials) {
    ladder.push(rung(bundle, curve, dial, options, parameters));
    if (progress && !progress(ladder.length / dials.length)) return null;
  }
  const timed = ladder.filter((step) => step.drawdown_s !== null);
  if (timed.length < 2) {
    remarks.push(grindRemark('problem', 'no_drawdown', { limit: 1_800 }));
    return { dial: { low, mid: low, high }, on_scale: 0, permeability_factor: factor, ladder, remarks };
  }
  const { dial, on_scale } = answer(question, timed, dials, known.length);
  if (dial === null)
    remarks.push(
      grindRemark('problem', 'target_off_curve', {
        low: figureOf(low, 3),
        high: figureOf(high, 3),
        dial: figureOf(question.drawdown_s > timed[0]!.drawdown_s! ? low : high, 3),
      }),
    );
  const fallback = question.drawdown_s > timed[0]!.drawdown_s! ? low : high;
  return {
    dial: dial ?? { low, mid: fallback, high },
    on_scale,
    permeability_factor: factor,
    ladder,
    remarks,
  };
}

function rung(
  bundle: BrewBundle,
  curve: GrinderCurve,
  dial: number,
  options: SettingOptions,
  parameters: Parameters,
): DrawdownAnswer['ladder'][number] {
  const estimate = curveAt(curve, { ...options, dial });
  const cup = cupOf(bundle, curve, dial, options, parameters);
  const { drawdown_s, strength_pct, yield_pct } = cup;
  return { dial, d50_um: estimate.d50_um.mid, drawdown_s, strength_pct, yield_pct };
}

function cupOf(
  bundle: BrewBundle,
  curve: GrinderCurve,
  dial: number,
  options: SettingOptions,
  parameters: Parameters,
): Cup {
  const { table } = curveAt(curve, { ...options, dial });
  const parts = [{ name: String(dial), share: 1, distribution: distributionOfTable(table) }];
  return simulate(withGrind(withoutLift(bundle), parts), { resolution: 'draft', parameters }).cup;
}

/** Steps towards a known drawdown, and how near is near enough in its logarithm: a fifth of what hands stray by. */
const SEARCH = { steps: 8, near: REPEAT / 5 };

/** Factor on the permeability that makes the known brews come out, as their geometric mean. */
function permeabilityFrom(question: DrawdownQuestion, base: Parameters): number {
  const { known = [] } = question;
  if (known.length === 0) return 1;
  const logs = known.map((brew) => logFactorFor(question, base, brew));
  return Math.exp(logs.reduce((sum, x) => sum + x, 0) / logs.length);
}

/** ln of the factor for one brew, by secants on ln(drawdown), which falls a little slower than the permeability rises. */
function logFactorFor(
  { bundle, curve, options = {} }: DrawdownQuestion,
  base: Parameters,
  brew: KnownBrew,
): number {
  const miss = (x: number) => {
    const parameters = { ...base, permeabilityFactor: base.permeabilityFactor * Math.exp(x) };
    const { drawdown_s } = cupOf(bundle, curve, brew.dial, options, parameters);
    // A bed that never drains is far too tight.
    return drawdown_s === null ? 3 : Math.log(drawdown_s / brew.drawdown_s);
  };
  let at = { x: 0, miss: miss(0) };
  let slope = -0.7;
  for (let i = 0; i < SEARCH.steps && Math.abs(at.miss) > SEARCH.near; i++) {
    const x = Math.min(at.x + 1.5, Math.max(at.x - 1.5, at.x - at.miss / slope));
    const next = { x, miss: miss(x) };
    const found = (next.miss - at.miss) / (next.x - at.x);
    if (found < -0.05) slope = found;
    at = next;
  }
  return at.x;
}

/** Settings over all curves that the measurements allow, each with its own flow and hand. */
function answer(
  { curve, drawdown_s, options = {} }: DrawdownQuestion,
  timed: readonly DrawdownAnswer['ladder'][number][],
  dials: readonly number[],
  known: number,
): { dial: GrindBand | null; on_scale: number } {
  const { draws = DRAWS, seed = SEED } = options;
  const random = randomOf(seed);
  // Log drawdown falls with the size; minus it rises, so that crossings can be looked for.
  const sizes = timed.map((step) => Math.log(step.d50_um * 1e-6));
  const slow = rising(timed.map((step) => -Math.log(step.drawdown_s!)));
  const flow = known > 0 ? REPEAT / Math.sqrt(known) : uncalibrated();
  const wanted = () => -Math.log(drawdown_s) + Math.hypot(flow, REPEAT) * random.normal();
  const curves = drawCurves(layGrid(curve, dials, options), draws, seed);
  const [smallest, largest] = [sizes[0]!, sizes[sizes.length - 1]!];
  const level = () => {
    const slowness = wanted();
    return crossing(sizes, slow, slowness) ?? (slowness < slow[0]! ? smallest - 1 : largest + 1);
  };
  const { band, on_scale } = settingBand(dials, curves, level);
  const mid = crossing(
    timed.map((step) => step.dial),
    slow,
    -Math.log(drawdown_s),
  );
  if (mid === null) return { dial: null, on_scale };
  return {
    dial: { low: Math.min(mid, band.low), mid, high: Math.max(mid, band.high) },
    on_scale,
  };
}
