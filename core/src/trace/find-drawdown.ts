import { cleanMass } from './clean-mass.ts';
import { middle, slopes } from './even-steps.ts';
import { figure, traceRemark } from './remarks.ts';
import type { FoundDrawdown, TraceRemark } from './types.ts';

/** Drip below which a brew has ended [g/s], as the engine tells it. */
const ENDS_G_S = 0.1;
/** Half of the time over which the drip is taken [s]: it is slow, and 0.1 g of noise must not show. */
const DRIP_HALF = 2;
/** First drip: so much in the server [g]. */
const FIRST_G = 0.7;
/** The drip has broken off when it falls to this share of what it was, within this time [s]. */
const BREAK_SHARE = 0.5;
const BREAK_WITHIN = 8;
/** Drip that a bed with liquid over it has at least [g/s]; below it no break can be told. */
const LEAST_G_S = 0.4;

/**
 * Reads the end of a brew from the mass of the beverage: the first drip, the moment the drip breaks off because the liquid surface has
 * reached the bed, and the moment it falls below 0.1 g/s for good. Against courses of the engine with 0.1 g of noise the drawdown comes out
 * 0 to 3 s late (the drip lags the surface) and the end within 1.5 s.
 * @param time_s Strictly rising [s]. @param mass Beverage [g]. @param pouredUntil_s End of the last pour, when it is known.
 */
export function findDrawdown(
  time_s: Float64Array,
  mass: Float64Array,
  pouredUntil_s: number | null = null,
): FoundDrawdown {
  const clean = cleanMass(time_s, mass);
  const beverage = held(clean.mass_g);
  const { step_s } = clean;
  const moment = (k: number) => clean.time_s[k] ?? 0;
  const drip = slopes(beverage, step_s, Math.max(1, Math.round(DRIP_HALF / step_s)));
  const total = middle(beverage.slice(-Math.max(3, Math.round(1 / step_s))));
  const limit = Math.max(FIRST_G, 4 * clean.noise_g);
  const first = beverage.findIndex((m) => m > limit);
  const remarks: TraceRemark[] = [...clean.remarks];
  if (first < 0)
    return { first_drip_s: null, drawdown_s: null, end_s: null, beverage_g: total || 0, remarks };
  const taken = clean.events.find(
    (event) => (event.what === 'taken_off' || event.what === 'tare') && event.start_s > moment(first) + 20,
  );
  const until = taken ? Math.round((taken.start_s - moment(0)) / step_s) : drip.length - 1;
  // The last half window has no full slope.
  const last = Math.max(first, until - Math.round(DRIP_HALF / step_s));
  const after = pouredUntil_s === null ? first : Math.round((pouredUntil_s - moment(0)) / step_s);
  const broken = breakOf(drip, Math.max(first, after), last, step_s);
  const quiet = endOf(drip, first, last, step_s);
  const end = taken && quiet === null ? taken.start_s : quiet === null ? null : moment(quiet);
  if (taken && quiet === null) remarks.push(traceRemark('note', 'server_taken', {}, figure(taken.start_s)));
  else if (end === null)
    remarks.push(traceRemark('caution', 'drip_goes_on', { flow: figure(drip[last] ?? 0, 2) }));
  if (broken === null) remarks.push(traceRemark('note', 'no_break_seen'));
  return {
    first_drip_s: moment(first),
    drawdown_s: broken === null ? null : moment(broken),
    end_s: end,
    beverage_g: taken ? (beverage[Math.max(0, until - 1)] ?? total) : total,
    remarks,
  };
}

function held(values: Float64Array): Float64Array {
  const found = values.slice();
  let last = 0;
  for (let k = 0; k < found.length; k++) {
    if (Number.isNaN(found[k]!)) found[k] = last;
    last = found[k]!;
  }
  return found;
}

/** First moment from which the drip stays below the limit to the end; null when it does not, or too briefly to tell. */
function endOf(drip: Float64Array, first: number, last: number, step_s: number): number | null {
  let k = last;
  while (k > first && drip[k]! < ENDS_G_S) k--;
  return k < last - Math.round(1 / step_s) ? k + 1 : null;
}

/**
 * Where the drip breaks off for the last time: the steepest relative fall after which it never comes back. With liquid over the bed the
 * drip only changes slowly (Darcy's law with a falling head); when the surface reaches the bed it falls away within seconds.
 */
function breakOf(drip: Float64Array, from: number, last: number, step_s: number): number | null {
  const reach = Math.round(BREAK_WITHIN / step_s);
  // The highest drip from here to the end, so that a later pour's rise rules an earlier fall out.
  let later = 0;
  let best: { k: number; fall: number } | null = null;
  for (let k = last; k >= from; k--) {
    later = Math.max(later, drip[Math.min(last, k + reach)] ?? 0);
    const before = drip[k]!;
    const after = drip[Math.min(last, k + reach)]!;
    if (before < LEAST_G_S || later > BREAK_SHARE * before) continue;
    const fall = (before - after) / before;
    // The latest moment at which the drip was still whole.
    if (!best) best = { k, fall };
    if (fall > best.fall + 0.02) best = { k, fall };
  }
  if (!best) return null;
  // The break itself: where it has fallen by an eighth of the whole fall; the smoothing shows it a little early, the bed a little late.
  const from_g_s = drip[best.k]!;
  const to_g_s = drip[Math.min(last, best.k + reach)]!;
  let k = best.k;
  while (k < last && drip[k]! > from_g_s - (from_g_s - to_g_s) / 8) k++;
  return k;
}
