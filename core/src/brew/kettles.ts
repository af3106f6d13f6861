import type { BrewBundle } from '../documents/index.ts';
import { pourEnd } from '../documents/index.ts';

/** Water and kettle body at some temperature: heat capacity of water near 80 °C [J/g/K]. */
const HEAT = 4.2;
/** Share of the mains power that reaches the water (common practice: a jug kettle, 85–90 %). */
const EFFICIENCY = 0.88;
/** Change that passes without a word [K]. */
const QUIET = 1;

export interface KettleFinding {
  code: 'kettle_too_slow' | 'kettle_too_hot' | 'kettle_too_small';
  at_s: number;
  values: Record<string, string | number>;
}

/**
 * Checks what the pours ask of each kettle: that it holds the water, and that between two pours its power (or its loss
 * off the base) can bring it from the temperature of one to that of the next. A kettle starts full and at the
 * temperature of its first pour. While water remains after a pour, it is heated at full power or left to cool:
 * ΔT = (P·η − loss·(T − air))·Δt / ((m + body)·c). Pours without a named kettle are not checked.
 */
export function kettleRemarks(bundle: BrewBundle): KettleFinding[] {
  const { plan, setup, venue } = bundle;
  const findings: KettleFinding[] = [];
  for (const kettle of setup.kettles) {
    const pours = plan.pours
      .filter((pour) => pour.kettle_id === kettle.id)
      .sort((a, b) => a.start_s - b.start_s);
    const needed = pours.reduce((sum, pour) => sum + pour.water_g, 0);
    const first = pours[0];
    if (first && needed > kettle.capacity_g)
      findings.push({
        code: 'kettle_too_small',
        at_s: first.start_s,
        values: { kettle: kettle.name, capacity: kettle.capacity_g, needed: Math.round(needed) },
      });
    let left = kettle.capacity_g;
    pours.forEach((pour, i) => {
      left = Math.max(0, left - pour.water_g);
      const next = pours[i + 1];
      if (!next) return;
      const change = next.kettle_temperature_C - pour.kettle_temperature_C;
      const time = next.start_s - pourEnd(pour);
      const loss = kettle.loss_W_K * (pour.kettle_temperature_C - venue.air_C);
      const capacity = (left + kettle.body_equivalent_g) * HEAT;
      const rise = (time * (kettle.power_W * EFFICIENCY - loss)) / capacity;
      const fall = (time * Math.max(0, loss)) / capacity;
      const values = {
        kettle: kettle.name,
        from: pour.kettle_temperature_C,
        to: next.kettle_temperature_C,
        needed: Math.round(Math.abs(change)),
      };
      if (change > QUIET && change > rise + QUIET)
        findings.push({
          code: 'kettle_too_slow',
          at_s: next.start_s,
          values: { ...values, possible: Math.max(0, Math.round(rise)) },
        });
      if (change < -QUIET && -change > fall + QUIET)
        findings.push({
          code: 'kettle_too_hot',
          at_s: next.start_s,
          values: { ...values, possible: Math.round(fall) },
        });
    });
  }
  return findings;
}
