import { power } from '../units/power.ts';

/**
 * Swelling of grains in hot water: a switch, off by default, because two papers contradict each other. Hargarten, Kuhn &
 * Briesen 2020 (J. Sci. Food Agric. 100, 3960) saw diameters grow by 15 % whatever the size and roast, 60–80 % of it within
 * 30 s, all of it by 4 min; Maille, Sala, Scott & Zukswert 2021 (J. Food Eng. 295, 110420) saw no growth in 0.5–5 min.
 */

/** Share of the growth that is reached after 30 s: the middle of the published 60–80 %. */
const BY_HALF_A_MINUTE = 0.7;
/** Time constant of the growth, first order [s]: 25 s, so that 4 min leave a ten-thousandth. */
export const SWELLING_TIME = 30 / Math.log(1 / (1 - BY_HALF_A_MINUTE));

/** Growth of a grain's diameter [-] after `time` in water [s]; `full` is what it ends at, 0 for grains that do not swell. */
export const swellingAt = (full: number, time: number): number =>
  full * -Math.expm1(-Math.max(0, time) / SWELLING_TIME);

/** Mean of {@link swellingAt} over the first `span` seconds in water [-]. */
export function meanSwelling(full: number, span: number): number {
  if (!(span > 0)) return 0;
  const x = span / SWELLING_TIME;
  return full * (1 + Math.expm1(-x) / x);
}

/** A bed of swollen grains. */
export interface SwollenBed {
  /** Volume of the grains over that before. */
  volume: number;
  /** Space between them. */
  porosity: number;
  /** Factor on the permeability: ε³/(S² (1−ε)²) over the same before, S falling as 1/diameter (Kozeny–Carman). */
  permeability: number;
}

/**
 * What a growth of every diameter does to a bed. The volume that the grains gain lifts the bed, but for a share `intoPores`
 * that comes from the space between them. That space becomes a smaller share of the bed either way, and its throats grow with
 * the grains; the first outweighs the second. Porosity may come out negative: see {@link mostSwelling}.
 */
export function swellBed(porosity: number, growth: number, intoPores: number): SwollenBed {
  if (growth === 0) return { volume: 1, porosity, permeability: 1 };
  const volume = power(1 + growth, 3);
  const solid = 1 - porosity;
  const swollen = 1 - (solid * volume) / (1 + (1 - intoPores) * solid * (volume - 1));
  const closing = power(swollen / porosity, 3) * (solid / (1 - swollen)) ** 2;
  return { volume, porosity: swollen, permeability: closing * (1 + growth) ** 2 };
}

/** Largest growth of the diameters that leaves `least` of the bed as space between the grains [-]. */
export function mostSwelling(porosity: number, intoPores: number, least: number): number {
  const solid = 1 - porosity;
  // (1 − least) (1 + (1 − f) φ (V − 1)) = φ V, solved for V.
  const lifted = (1 - least) * (1 - intoPores);
  return Math.cbrt(((1 - least) / solid - lifted) / (1 - lifted)) - 1;
}
