import type { PourShape } from './types.ts';

/** Points of the flow that are kept. */
const POINTS = 60;
/** A flow below this share of the mean is a break … */
const BREAK_SHARE = 0.25;
/** … when it lasts this long [s]. */
const BREAK_S = 0.3;

/**
 * Shape of a pour between two indices of a mass over even steps.
 * @param flow Its slope [g/s], of the same length. @param zero Moment of index 0 [s].
 */
export function pourShape(
  mass: Float64Array,
  flow: Float64Array,
  step_s: number,
  a: number,
  b: number,
  zero: number,
): PourShape {
  const water = (mass[b] ?? 0) - (mass[a] ?? 0);
  const duration = Math.max(step_s, (b - a) * step_s);
  const mean = water / duration;
  const half = mass[Math.round((a + b) / 2)] ?? 0;
  // Starting and stopping are not unsteadiness.
  const [c, d] = [Math.round(a + 0.15 * (b - a)), Math.round(b - 0.15 * (b - a))];
  const inner = flow.subarray(c, d + 1);
  const innerMean = inner.reduce((sum, f) => sum + f, 0) / Math.max(1, inner.length);
  const spread = Math.sqrt(
    inner.reduce((sum, f) => sum + (f - innerMean) ** 2, 0) / Math.max(1, inner.length),
  );
  const every = Math.max(1, Math.ceil((b - a) / POINTS));
  const kept = Array.from({ length: Math.floor((b - a) / every) + 1 }, (_, i) => a + i * every);
  return {
    mean_g_s: mean,
    peak_g_s: flow.subarray(a, b + 1).reduce((most, f) => Math.max(most, f), 0),
    front_share: water > 0 ? (half - (mass[a] ?? 0)) / water : 0.5,
    unsteadiness: innerMean > 0 ? spread / innerMean : 0,
    breaks: breaksIn(inner, BREAK_SHARE * mean, Math.round(BREAK_S / step_s)),
    time_s: Float64Array.from(kept, (k) => zero + k * step_s),
    flow_g_s: Float64Array.from(kept, (k) => Math.max(0, flow[k] ?? 0)),
  };
}

function breaksIn(flow: Float64Array, below: number, least: number): number {
  let breaks = 0;
  let run = 0;
  for (const f of flow) {
    run = f < below ? run + 1 : 0;
    if (run === Math.max(1, least)) breaks++;
  }
  return breaks;
}
