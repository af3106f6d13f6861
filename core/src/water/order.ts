import { type Composition, pureWater } from './composition.ts';
import type { Meter } from './meter.ts';
import type { Quantity } from './quantities.ts';
import type { SaltForm } from './salts.ts';

/** One thing a water is asked for, in the unit of its quantity. Without an aim only the range counts. */
export interface Target {
  of: Quantity;
  aim: number | null;
  low: number | null;
  high: number | null;
  /** How much it counts beside others; 1 is usual. */
  weight: number;
  /** The range must be kept; otherwise it is kept as well as may be. */
  hard: boolean;
}

/** A water at hand: purified, tap or bottled. */
export interface BaseWater {
  id: string;
  name: string;
  of: Composition;
  price_per_L: number | null;
  /** How far its analysis may be off [%, standard uncertainty]. */
  uncertainty_pct: number;
}

/** What is assumed when there is no water on the shelf. */
export const assumedBase = (): BaseWater => ({
  id: 'pure',
  name: 'purified water',
  of: pureWater(),
  price_per_L: null,
  uncertainty_pct: 0,
});

/** A jar of salt at hand. */
export interface SaltJar {
  id: string;
  name: string;
  form: SaltForm;
  /** What it may hold, in % of the formula on its label. */
  assay_pct: readonly [low: number, high: number];
  amount_g: number | null;
  price_per_kg: number | null;
}

/** A bottle of concentrate at hand. */
export interface Concentrate {
  id: string;
  name: string;
  /** Conserved amounts per kilogram of the solution [mol/kg, alkalinity eq/kg]. */
  per_kg: Composition;
  /** Density near 20 °C [kg/L]. */
  density: number;
  amount_g: number | null;
  /** Standard uncertainty of its strength [%]. */
  uncertainty_pct: number;
  /** Salts it was made of [g per kg of solution], where they are known: mistakes about them can then be seen. */
  made_of: readonly { form: SaltForm; g_per_kg: number }[];
  /** Which instrument it is given with. */
  given_by: 'balance' | 'syringe' | 'drops';
}

export interface Instruments {
  /** Balance for salts and concentrates. */
  balance: { step_g: number; capacity_g: number };
  /** Balance for the water itself. */
  water_balance: { step_g: number };
  syringe: { step_mL: number; accuracy_mL: number; capacity_mL: number } | null;
  /** Mass of a drop, from weighing fifty of them, and how it scatters from drop to drop [%]. */
  drop: { mass_g: number; scatter_pct: number } | null;
  meter: Meter;
}

/** One water to be made. */
export interface WantedWater {
  id: string;
  name: string;
  batch_g: number;
  targets: readonly Target[];
  /** How much of it one brew takes [g]; null leaves it out of the composite water. */
  poured_g: number | null;
}

/** Waters to be made together from one shelf. */
export interface WaterOrder {
  waters: readonly WantedWater[];
  bases: readonly BaseWater[];
  jars: readonly SaltJar[];
  concentrates: readonly Concentrate[];
  instruments: Instruments;
}

/** Instruments of a usual kit: a 0.01 g balance, a 1 mL syringe, a factor-0.5 meter. */
export const usualInstruments = (meter: Meter): Instruments => ({
  balance: { step_g: 0.01, capacity_g: 200 },
  water_balance: { step_g: 1 },
  syringe: { step_mL: 0.1, accuracy_mL: 0.05, capacity_mL: 10 },
  drop: null,
  meter,
});
