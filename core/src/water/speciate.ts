import { kelvin } from '../units/index.ts';
import { lnActivities } from './activity.ts';
import { type Composition, combine } from './composition.ts';
import { type CarbonRule, makeWorkspace, type SolverStats, solveEquilibrium } from './equilibrium.ts';
import { LN10, type Medium, mediumAt } from './medium.ts';
import { SPECIES_INDEX as I, SPECIES_NAMES, type SpeciesName } from './species.ts';

/**
 * Pressure of CO2 in open air [atm]: 10^-3.4, the round figure of textbooks. Outdoor air is nearer 10^-3.37 today and a full
 * hall may hold three times that; it moves the pH of an open water, never its alkalinity.
 */
export const AIR_CO2_ATM = 10 ** -3.4; // 3.98e-4

/** Range in which the model is meant: pH and ionic strength [mol/kg]. */
export const MODEL_RANGE = { pH: [3, 12], ionicStrength: 0.1, temperature_C: [0, 100] } as const;

/** How a water stands: its temperature and what fixes its carbon. */
export interface Conditions {
  temperature_C: number;
  /** `closed` keeps the carbon of the composition; `air` stands open until it agrees with the air. */
  carbon: 'closed' | 'air' | CarbonRule;
}

/** A water at equilibrium. */
export interface Speciation {
  temperature_C: number;
  pH: number;
  /** Ionic strength [mol/kg]. */
  ionicStrength: number;
  /** All inorganic carbon [mol/kg]. */
  carbon: number;
  /** The composition that was solved, with its carbon as found [mol/kg]. */
  composition: Composition;
  /** Molality of every species in the order of SPECIES_NAMES [mol/kg]. */
  molality: Float64Array;
  /** ln of the activity coefficient of every species. */
  lnGamma: Float64Array;
  medium: Medium;
  stats: SolverStats;
}

/** Work arrays of {@link speciate}, which never runs inside itself; what it returns is copied out of them. */
const scratch = makeWorkspace();

const CLOSED: Conditions = { temperature_C: 25, carbon: 'closed' };

/** The rule that some conditions stand for. */
export const ruleOf = (c: Readonly<Composition>, carbon: Conditions['carbon']): CarbonRule =>
  carbon === 'closed'
    ? { by: 'total', carbon: c.carbon }
    : carbon === 'air'
      ? { by: 'pressure', atm: AIR_CO2_ATM }
      : carbon;

/**
 * Equilibrium of a water at 0–100 °C: pH, every species, carbon. Closed at 25 °C when nothing else is said. Constants:
 * medium.ts; species: species.ts. `stats.converged` is false where no such water can be (a pH that its alkalinity cannot
 * have). Outside {@link MODEL_RANGE} the numbers are evaluated as they stand.
 */
export function speciate(c: Readonly<Composition>, conditions: Conditions = CLOSED): Speciation {
  const medium = mediumAt(kelvin(conditions.temperature_C));
  const stats = solveEquilibrium(medium, c, ruleOf(c, conditions.carbon), scratch);
  const { ionicStrength } = scratch;
  const molality = scratch.molality.slice();
  const lnGamma = new Float64Array(molality.length);
  lnActivities(medium, ionicStrength, lnGamma);
  const carbon = carbonIn(molality);
  return {
    temperature_C: conditions.temperature_C,
    pH: -(Math.log(molality[I.H]!) + lnGamma[I.H]!) / LN10,
    ionicStrength,
    carbon,
    composition: { ...c, carbon },
    molality,
    lnGamma,
    medium,
    stats,
  };
}

/** All inorganic carbon of a set of molalities [mol/kg]. */
export const carbonIn = (m: Float64Array): number =>
  m[I.CO2]! +
  m[I.HCO3]! +
  m[I.CO3]! +
  m[I.CaHCO3]! +
  m[I.CaCO3]! +
  m[I.MgHCO3]! +
  m[I.MgCO3]! +
  m[I.NaHCO3]! +
  m[I.NaCO3]!;

/** Alkalinity that a set of molalities adds up to [eq/kg], species by species. */
export const alkalinityIn = (m: Float64Array): number =>
  m[I.HCO3]! +
  2 * m[I.CO3]! +
  m[I.OH]! +
  m[I.CaHCO3]! +
  2 * m[I.CaCO3]! +
  m[I.CaOH]! +
  m[I.MgHCO3]! +
  2 * m[I.MgCO3]! +
  m[I.MgOH]! +
  m[I.NaHCO3]! +
  2 * m[I.NaCO3]! -
  m[I.H]! -
  m[I.HSO4]!;

/** Molality of one species [mol/kg]. */
export const molalityOf = (of: Speciation, name: SpeciesName): number => of.molality[I[name]]!;

/** log10 of the activity of one species. */
export const logActivity = (of: Speciation, name: SpeciesName): number =>
  (Math.log(of.molality[I[name]]!) + of.lnGamma[I[name]]!) / LN10;

/** Pressure of CO2 that the water agrees with [atm]. */
export const co2Pressure = (of: Speciation): number =>
  Math.exp(Math.log(of.molality[I.CO2]!) + of.lnGamma[I.CO2]! - of.medium.lnHenry);

/** Every species by name [mmol/kg], for a face to draw. */
export const speciesTable = (of: Speciation): Record<SpeciesName, number> =>
  Object.fromEntries(SPECIES_NAMES.map((name, i) => [name, 1e3 * of.molality[i]!])) as Record<
    SpeciesName,
    number
  >;

/** One part of a mixture: a water and its mass in any unit, the same for all. */
export interface MixPart {
  of: Readonly<Composition>;
  mass: number;
}

/**
 * What waters make together. Every ion, alkalinity and carbon mixes by mass; pH does not, so it has to be solved again with
 * {@link speciate}. The salts' own mass is neglected beside the water's (below 0.1 %).
 * @throws RangeError when a mass is negative or not finite, or when all are zero.
 */
export function mixWaters(parts: readonly MixPart[]): Composition {
  let mass = 0;
  for (const part of parts) {
    if (!(part.mass >= 0 && Number.isFinite(part.mass)))
      throw new RangeError(`mixWaters: mass ${part.mass} is not a finite mass of 0 or more`);
    mass += part.mass;
  }
  if (mass === 0) throw new RangeError('mixWaters: no mass at all');
  return combine(parts.map(({ of, mass: m }) => ({ of, share: m / mass })));
}
