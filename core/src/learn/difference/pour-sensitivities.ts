import type { Resolution } from '../../brew/result.ts';
import { simulate } from '../../brew/simulate.ts';
import { type BrewBundle, type Plan, type Pour, pourDuration, pourEnd } from '../../documents/index.ts';
import { POUR_FIGURES, POUR_SLIPS, type PourFigure, type PourSensitivities, type PourSlip } from './types.ts';

/** How far a slip is moved to see what it does: a hand's, so that it is above what the grid does by chance. */
const STEP: Readonly<Record<PourSlip, number>> = { water_g: 6, start_s: 4, duration_s: 3 };
/** … and not more than this part of the pour's own water or duration. */
const MOST_PART = 0.3;
/** Between two pours, and between the last and the lift [s]. */
const GAP = 0.2;

export interface SensitivityOptions {
  /** Defaults to `'draft'`. */
  resolution?: Resolution;
  /** Told after each pour; return false to stop, and then null is given. */
  progress?: (done: number) => boolean;
}

/**
 * What a gram more, a second later and a second longer of each pour do to the cup, the other pours staying as planned: central differences
 * of the engine over slips a hand makes, one-sided where a neighbour leaves no room. Pours are taken in order of time; a pour given by its
 * flow keeps its duration when its water changes. A figure that does not exist in one of the runs gets NaN.
 */
export function pourSensitivities(
  bundle: BrewBundle,
  options: SensitivityOptions = {},
): PourSensitivities | null {
  const { resolution = 'draft', progress } = options;
  const pours = [...bundle.plan.pours].sort((a, b) => a.start_s - b.start_s).map(byDuration);
  const run = (changed: readonly Pour[]) =>
    figuresOf({ ...bundle, plan: { ...bundle.plan, pours: [...changed] } }, resolution);
  const base = run(pours);
  const effect: PourSensitivities['effect'][number][] = [];
  for (let i = 0; i < pours.length; i++) {
    effect.push(bySlip((slip) => slope(pours, i, slip, bundle.plan, base, run)));
    if (progress && !progress((i + 1) / pours.length)) return null;
  }
  return {
    pours: pours.map(({ id }) => id),
    planned: pours.map((pour) => ({
      water_g: pour.water_g,
      start_s: pour.start_s,
      duration_s: pourDuration(pour),
    })),
    base,
    effect,
  };
}

const byDuration = (pour: Pour): Pour => ({
  ...pour,
  rate: { by: 'duration', duration_s: pourDuration(pour) },
});

const bySlip = <T>(of: (slip: PourSlip) => T) =>
  Object.fromEntries(POUR_SLIPS.map((slip) => [slip, of(slip)])) as Record<PourSlip, T>;

function figuresOf(bundle: BrewBundle, resolution: Resolution): Record<PourFigure, number> {
  const { cup } = simulate(bundle, { resolution });
  return {
    strength_pct: cup.strength_pct,
    yield_pct: cup.yield_pct,
    beverage_g: cup.beverage_g,
    drawdown_s: cup.drawdown_s ?? Number.NaN,
    server_C: cup.server_C,
  };
}

/** Room of a slip below and above, between the neighbours in time. */
function room(pours: readonly Pour[], i: number, slip: PourSlip, plan: Plan): [down: number, up: number] {
  const pour = pours[i]!;
  if (slip === 'water_g') {
    const most = Math.min(STEP.water_g, MOST_PART * pour.water_g);
    return [most, most];
  }
  const limit = Math.min(
    pours[i + 1]?.start_s ?? Number.POSITIVE_INFINITY,
    plan.lift_s ?? Number.POSITIVE_INFINITY,
  );
  const after = Math.max(0, limit - pourEnd(pour) - GAP);
  if (slip === 'duration_s') {
    const most = Math.min(STEP.duration_s, MOST_PART * pourDuration(pour));
    return [most, Math.min(most, after)];
  }
  const before = Math.max(0, pour.start_s - (i === 0 ? 0 : pourEnd(pours[i - 1]!) + GAP));
  return [Math.min(STEP.start_s, before), Math.min(STEP.start_s, after)];
}

function slope(
  pours: readonly Pour[],
  i: number,
  slip: PourSlip,
  plan: Plan,
  base: Readonly<Record<PourFigure, number>>,
  run: (pours: readonly Pour[]) => Record<PourFigure, number>,
): Record<PourFigure, number> {
  const [down, up] = room(pours, i, slip, plan);
  const at = (by: number) =>
    by === 0 ? base : run(pours.map((pour, k) => (k === i ? slipped(pour, slip, by) : pour)));
  const [low, high] = [at(-down), at(up)];
  const width = up + down;
  return Object.fromEntries(
    POUR_FIGURES.map((key) => [key, width > 0 ? (high[key] - low[key]) / width : 0]),
  ) as Record<PourFigure, number>;
}

/** A pour that slipped; its rate is by duration. */
export function slipped(pour: Pour, slip: PourSlip, by: number): Pour {
  if (slip === 'water_g') return { ...pour, water_g: pour.water_g + by };
  if (slip === 'start_s') return { ...pour, start_s: pour.start_s + by };
  return { ...pour, rate: { by: 'duration', duration_s: pourDuration(pour) + by } };
}
