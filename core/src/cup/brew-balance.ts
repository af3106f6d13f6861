import { immersionYield } from './mass-balance.ts';
import { type Propagated, propagate } from './propagate.ts';
import type { Measured } from './uncertainty.ts';

/** Percolation: fresh water drives the brew through. Immersion: all water stands with the grounds, then drains. */
export type BrewMethod = 'percolation' | 'immersion';

/** What was weighed and read of one brew. Masses in one unit, strengths as mass fractions; null where nothing was measured. */
export interface BrewFigures {
  method: BrewMethod;
  dose: Measured;
  /** Poured through the coffee. */
  water: Measured | null;
  /** In the server in the end, what was added afterwards included. */
  beverage: Measured | null;
  /** Of the beverage as it stands in the server. */
  strength: Measured | null;
  /** Water added straight to the server. */
  bypass: Measured;
  /** Lost to the air between pouring and weighing. */
  evaporated: Measured;
  /** Strength of the liquid that a percolated bed still holds. */
  heldStrength: Measured;
  /** Wet grounds with their paper, weighed afterwards. */
  spent: Measured | null;
  /** The dry paper. */
  paper: Measured;
}

/** What follows from them; null where a measurement it needs is missing. Yields as fractions of the dose. */
export interface BrewBalance {
  method: BrewMethod;
  /** Solids in the beverage over dose (percolation), or in all liquid (immersion): what the trade calls extraction yield. */
  yield: Propagated | null;
  /** All solids that left the grounds, those in the held liquid included. */
  totalYield: Propagated | null;
  /** Solids in the beverage. */
  solids: Propagated | null;
  /** Liquid that stayed in grounds and paper, its solids included, and the same over dose. */
  held: Propagated | null;
  heldPerDose: Propagated | null;
  /** Poured water over dose. */
  ratio: Propagated | null;
  /** What the balance misses: in − out − what the spent grounds weigh. Near 0 within its uncertainty when all weighing is right. */
  unaccounted: Propagated | null;
}

type Given = Record<'dose' | 'bypass' | 'evaporated' | 'heldStrength', Measured>;

/**
 * Closes the mass balance of a brew. Conservation of mass alone: water + solids of the cup = beverage + what the grounds hold + vapour.
 * Immersion yield after E = s/(1 − s)·water/dose with s the strength before water was added; see {@link immersionYield}.
 */
export function brewBalance(figures: BrewFigures): BrewBalance {
  const { method, dose, water, beverage, strength, bypass, evaporated, heldStrength, spent, paper } = figures;
  const given: Given = { dose, bypass, evaporated, heldStrength };
  const immersed = method === 'immersion';
  const solids =
    beverage && strength ? propagate((x) => x.strength * x.beverage, { strength, beverage }) : null;
  const cupYield =
    beverage && strength
      ? propagate((x) => (x.strength * x.beverage) / x.dose, { strength, beverage, dose })
      : null;
  const held =
    water && beverage && strength
      ? propagate((x) => heldLiquid(method, x), { ...given, water, beverage, strength })
      : null;
  const heldPerDose =
    water && beverage && strength
      ? propagate((x) => heldLiquid(method, x) / x.dose, { ...given, water, beverage, strength })
      : null;
  const totalYield =
    water && beverage && strength
      ? propagate((x) => totalYieldOf(method, x), { ...given, water, beverage, strength })
      : null;
  return {
    method,
    yield: immersed ? totalYield : cupYield,
    totalYield,
    solids,
    held,
    heldPerDose,
    ratio: water ? propagate((x) => x.water / x.dose, { water, dose }) : null,
    unaccounted:
      water && beverage && spent
        ? propagate((x) => x.water + x.bypass + x.dose + x.paper - x.beverage - x.spent - x.evaporated, {
            water,
            bypass,
            dose,
            paper,
            beverage,
            spent,
            evaporated,
          })
        : null,
  };
}

interface Weighed {
  dose: number;
  water: number;
  beverage: number;
  strength: number;
  bypass: number;
  evaporated: number;
  heldStrength: number;
}

/** Strength of what came out of the bed, before water was added to it. */
const undiluted = ({ strength, beverage, bypass }: Weighed): number =>
  bypass < beverage ? (strength * beverage) / (beverage - bypass) : strength;

/** Liquid left in grounds and paper: water that did not come out, with the solids in it. */
function heldLiquid(method: BrewMethod, x: Weighed): number {
  const kept = x.water - x.evaporated - (x.beverage - x.bypass - x.strength * x.beverage);
  const strength = method === 'immersion' ? undiluted(x) : x.heldStrength;
  return kept / (1 - strength);
}

function totalYieldOf(method: BrewMethod, x: Weighed): number {
  if (method === 'immersion') return immersionYield(undiluted(x), x.water - x.evaporated, x.dose);
  return (x.strength * x.beverage + x.heldStrength * heldLiquid(method, x)) / x.dose;
}
