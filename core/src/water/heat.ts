import { CACO3 } from './atoms.ts';
import { COMPONENTS, type Composition } from './composition.ts';
import { saturationDoubt, saturationIndex } from './saturation.ts';
import { AIR_CO2_ATM, type Speciation, speciate } from './speciate.ts';

/** What happens to a water in a kettle. */
export interface Heating {
  to_C: number;
  /** Share of the water boiled off as steam, 0–1. */
  steam: number;
  /** `kept`: no CO2 leaves (a short heating under a lid); `lost`: it agrees with the air. */
  co2: 'kept' | 'lost';
  /**
   * How far scale goes towards balance, 0–1: a kettle brought just to the boil does part of the way, and no constant says how
   * much. Or measured: the alkalinity after boiling [eq/kg].
   */
  scale: { by: 'share'; share: number } | { by: 'alkalinity'; alkalinity: number };
  /** Pressure of CO2 in the air [atm]; open air when not given. */
  co2_atm?: number;
}

/** A water after heating, with both ends of what scale may do. */
export interface HeatedWater {
  /** After heating, with scale as far as was said. */
  after: Speciation;
  /** Without any scale, and with all of it. */
  unscaled: Speciation;
  scaled: Speciation;
  /** Calcium carbonate dropped [mol per kg of water left] and the share of balance it is. */
  scale_mol_kg: number;
  scale_share: number;
  /** The same in mg of scale per kg of water. */
  scale_mg_kg: number;
  /** Calcite index before any scale drops and how far it may be wrong (±). */
  saturation: number;
  saturation_doubt: number;
}

/** Calcium carbonate that must leave [mol/kg] until calcite is in balance; 0 when it is not oversaturated. */
export function calciteToBalance(
  c: Readonly<Composition>,
  temperature_C: number,
  carbon: 'closed' | { by: 'pressure'; atm: number },
): number {
  const after = (drop: number): Speciation => speciate(without(c, drop), { temperature_C, carbon });
  if (!(saturationIndex(after(0)) > 0)) return 0;
  // The index falls steadily with what has dropped. Illinois' form of regula falsi; no more can drop than there is calcium.
  let low = 0;
  let atLow = saturationIndex(after(0));
  const most = carbon === 'closed' ? Math.min(c.calcium, c.carbon) : c.calcium;
  let high = most * (1 - 1e-9);
  let atHigh = saturationIndex(after(high));
  for (let i = 0; i < 200 && high - low > 1e-14 * most + 1e-15; i++) {
    let next = high - (atHigh * (high - low)) / (atHigh - atLow);
    if (!(next > low && next < high) || i % 4 === 3) next = (low + high) / 2;
    const at = saturationIndex(after(next));
    if (Math.abs(at) < 1e-12) return next;
    if (at > 0) {
      low = next;
      atLow = at;
      atHigh /= 2;
    } else {
      high = next;
      atHigh = at;
      atLow /= 2;
    }
  }
  return (low + high) / 2;
}

/** A composition after `drop` mol/kg of CaCO3 has left it. */
const without = (c: Readonly<Composition>, drop: number): Composition => ({
  ...c,
  calcium: c.calcium - drop,
  alkalinity: c.alkalinity - 2 * drop,
  carbon: c.carbon - drop,
});

/**
 * Heats a water: constants shift, CO2 may leave, steam leaves its ions behind, and calcium carbonate may drop. Alkalinity
 * changes by steam and scale alone. Magnesium stays.
 * @throws RangeError when the steam is not 0 ≤ steam < 1 or the share of scale is not 0–1.
 */
export function heatWater(c: Readonly<Composition>, heating: Heating): HeatedWater {
  const { steam, to_C } = heating;
  if (!(steam >= 0 && steam < 1))
    throw new RangeError(`heatWater: steam ${steam} is not a share from 0 to 1`);
  const rest = { ...c };
  for (const name of COMPONENTS) rest[name] /= 1 - steam;
  const carbon =
    heating.co2 === 'kept'
      ? ('closed' as const)
      : ({ by: 'pressure', atm: heating.co2_atm ?? AIR_CO2_ATM } as const);
  const all = calciteToBalance(rest, to_C, carbon);
  const share = scaleShare(heating, rest, all);
  const drop = share * all;
  const at = (dropped: number) => speciate(without(rest, dropped), { temperature_C: to_C, carbon });
  const unscaled = at(0);
  return {
    after: at(drop),
    unscaled,
    scaled: at(all),
    scale_mol_kg: drop,
    scale_share: share,
    scale_mg_kg: drop * CACO3 * 1e3,
    saturation: saturationIndex(unscaled),
    saturation_doubt: saturationDoubt(unscaled.medium.T),
  };
}

function scaleShare(heating: Heating, rest: Composition, all: number): number {
  const { scale } = heating;
  if (scale.by === 'share') {
    if (!(scale.share >= 0 && scale.share <= 1))
      throw new RangeError(`heatWater: share of scale ${scale.share} is not 0 to 1`);
    return scale.share;
  }
  if (all === 0) return 0;
  return Math.min(1, Math.max(0, (rest.alkalinity - scale.alkalinity) / 2 / all));
}
