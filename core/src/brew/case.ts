import type { SizeTable } from '../grind/index.ts';
import type { Frustum } from './geometry.ts';

/** A pour in SI. */
export interface CasePour {
  id: string;
  start: number;
  end: number;
  /** [kg/s] */
  flow: number;
  /** Temperature where the stream meets the slurry [K], when the pour starts. */
  temperature: number;
  /** The same when it ends [K]; absent when it stays. In between it changes linearly. */
  temperatureEnd?: number;
  /** Depth below the liquid surface that the jet stirs [m]. */
  mixingDepth: number;
  /** Power of the jet at the surface [W]. */
  power: number;
}

/** Temperature of a pour's stream where it meets the slurry [K] at a moment of it [s]. */
export function streamAt(pour: CasePour, time: number): number {
  if (pour.temperatureEnd === undefined) return pour.temperature;
  const share = Math.min(1, Math.max(0, (time - pour.start) / (pour.end - pour.start)));
  return pour.temperature + share * (pour.temperatureEnd - pour.temperature);
}

/** A stir or swirl: the share of the bed it moves, and the turnover rate there [1/s]. */
export interface CaseAction {
  start: number;
  end: number;
  depthShare: number;
  rate: number;
}

/** A solute in SI, with the mass that the whole dose could give. */
export interface CaseSolute {
  key: string;
  /** [kg] in the dose at the start. */
  extractable: number;
  /** In a grain at 90 °C [m²/s]. */
  diffusivity: number;
  /** [J/mol] */
  activation: number;
  /** Content of the grains over that of dilute liquid at equilibrium, both per volume. */
  partition: number;
  /**
   * Ratio of solute to water at which the grains hold half of what they can hold [kg/kg]: content at equilibrium is
   * capacity · ratio / (1 + ratio/halfRatio). Absent where it stays proportional.
   */
  halfRatio?: number;
  /** Release from broken cells at 90 °C [1/s]. */
  surfaceRate: number;
}

/** How finely the case is solved. */
export interface Numerics {
  cells: number;
  /** Bins of the release spectrum: first-order pools of the intact cores by rate. */
  bins: number;
  /** Allowed error of a step, in the scales of stages.ts; Infinity for steps of fixed length. */
  tolerance: number;
  /** Longest step [s]. */
  longestStep: number;
  /** Step right after an event, and the shortest that is tried for accuracy [s]. */
  firstStep: number;
}

/** A part of the bed that water takes on its own way: uneven flow as parallel paths under one head. */
export interface CasePath {
  /** Share of the bed's area and grounds. */
  share: number;
  /** Factor on the permeability. */
  permeability: number;
}

/** Where a run starts when it does not start dry; for cases with known answers. */
export interface InitialWater {
  /** Share of the pore space filled, and of the grains' own pores. */
  saturation: number;
  absorbed: number;
  /** Liquid over the bed [kg]. */
  head: number;
  temperature: number;
}

/**
 * A brew as the solver sees it: numbers only, SI, no documents. Parts are switched off by zeros (no wall, no loss, no
 * solutes), which is how the cases with known answers are run.
 */
export interface BrewCase {
  vessel: Frustum;
  shape: 'flat' | 'cone';
  /** Mass of dry grounds [kg]. */
  dryMass: number;
  /** Dose as weighed [kg], the reference of yield. */
  dose: number;
  /** Grain sizes by class, each a table; all shares together sum to 1. */
  sizes: readonly SizeTable[];
  grains: {
    temperature: number;
    heatCapacity: number;
    /** Mass over outer volume [kg/m³]. */
    envelopeDensity: number;
    /** Water the grains' own pores take [m³/kg]. */
    poreVolume: number;
    /** Water in them at the start [kg/kg]. */
    moisture: number;
    /** Thickness of the broken outer layer [m]. */
    brokenLayer: number;
    absorptionTime: number;
    /** Biot number of a median grain and the time it lags the liquid [s], for the report. */
    biot: number;
    lag: number;
  };
  bed: {
    porosity: number;
    /** [m²] */
    permeability: number;
    residualSaturation: number;
    relativeExponent: number;
    /** [m] */
    suction: number;
    /** [m] */
    storageHead: number;
    dispersivity: number;
    dryConductivity: number;
    wetConductivity: number;
    /** Least hydraulic radius over the radius at the bed top. */
    openTip: number;
    /** One path for even flow; shares sum to 1. */
    paths: readonly CasePath[];
  };
  gas: {
    /** CO2 at first wetting [kg per kg dose]. */
    content: number;
    releaseTime: number;
    absorptionDelay: number;
    flowHindrance: number;
  };
  paper: {
    /** [1/m] */
    resistance: number;
    /** Growth of the resistance per kg of liquid passed [1/kg]. */
    clogging: number;
    /** Share of bare wall above the bed that lets water past. */
    wallBypass: number;
  };
  wall: {
    /** [J/K]; 0 for no wall. */
    heatCapacity: number;
    temperature: number;
    /** [W/m²/K] */
    contact: number;
    outside: number;
    /** [m²] */
    outerArea: number;
  };
  server: {
    heatCapacity: number;
    temperature: number;
    /** [W/K] */
    loss: number;
    capacity: number;
  };
  air: {
    temperature: number;
    pressure: number;
    /** Of water [Pa]. */
    vapourPressure: number;
    surfaceFactor: number;
  };
  pours: readonly CasePour[];
  actions: readonly CaseAction[];
  /** [kg/J] turnover of the mixed layer by a jet, per power and mass. */
  jetExchange: number;
  outletOpens: number;
  /** Infinity when the dripper stays. */
  lift: number;
  bypass: { mass: number; temperature: number } | null;
  solutes: readonly CaseSolute[];
  initial: InitialWater | null;
  /** The run ends then at the latest [s]. */
  horizon: number;
  numerics: Numerics;
}
