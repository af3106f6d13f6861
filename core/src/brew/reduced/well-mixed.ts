import type { BrewCase, CaseAction, CaseSolute } from '../case.ts';
import { LIQUID_DENSITY } from '../liquid.ts';
import { blankCase } from './blank-case.ts';
import { fixedSteps } from './read.ts';

/** A hand that never rests: the vessel is one liquid. */
const STIRRED: CaseAction = { start: 0, end: 1e6, depthShare: 1, rate: 1e5 };

/** What the bath cases could give [kg]: small, so that strength does not matter. */
const VESSEL_STOCK = 1e-4;

/** A closed, stirred, isothermal vessel with grains of one size. */
export interface SphereBath {
  /** [m] */
  diameter: number;
  /** [m²/s] */
  diffusivity: number;
  /** Volume of the bath over partition times volume of the grains; large for a bath that stays empty. */
  alpha: number;
  /** Dimensionless time D t/R² at which the run ends. */
  tau: number;
}

/**
 * Mode 1: well-mixed, isothermal, one size, a limited bath. What has left the grains at the end is
 * `releasedIntoBath(alpha, tau)` of its final share α/(1 + α).
 */
export function sphereBath(bath: SphereBath, steps = 400): BrewCase {
  const dose = 1e-3;
  const blank = blankCase();
  const grains = dose / blank.grains.envelopeDensity;
  const liquid = 0.2;
  const end = (bath.tau * (bath.diameter / 2) ** 2) / bath.diffusivity;
  return closedVessel({
    dose,
    liquid,
    diameter: bath.diameter,
    end,
    steps,
    solute: {
      key: 'one',
      extractable: VESSEL_STOCK,
      diffusivity: bath.diffusivity,
      activation: 0,
      partition: liquid / LIQUID_DENSITY / (bath.alpha * grains),
      surfaceRate: 0,
    },
  });
}

/** Long immersion at one ratio, by the equilibrium of Liang, Chan and Ristenpart 2021. */
export interface Equilibrium {
  /** Water over dose. */
  ratio: number;
  /** Share of the extractable stock that is dissolved in the end. */
  dissolved: number;
  /** Extractable over dose. */
  extractable: number;
}

/**
 * Mode 2: well-mixed, equilibrium only. The published rule is that dissolved and left stand as K : (1 − K) whatever the ratio; a
 * linear partition does so in a vessel whose partition is bath volume × (1 − K)/K over grain volume. So yield must come
 * to K E_max and strength to K E_max/(ratio + K E_max). This is what the published rule says, not what a fixed partition
 * predicts.
 */
export function equilibriumVessel(brew: Equilibrium): BrewCase {
  const dose = 0.02;
  const grains = dose / blankCase().grains.envelopeDensity;
  const liquid = brew.ratio * dose;
  return closedVessel({
    dose,
    liquid,
    diameter: 200e-6,
    end: 1_800,
    steps: 900,
    solute: {
      key: 'all',
      extractable: brew.extractable * dose,
      diffusivity: 4e-10,
      activation: 0,
      partition: ((liquid / LIQUID_DENSITY) * (1 - brew.dissolved)) / (brew.dissolved * grains),
      surfaceRate: 0,
    },
  });
}

interface ClosedVessel {
  dose: number;
  /** All liquid, pores and head [kg]. */
  liquid: number;
  diameter: number;
  end: number;
  steps: number;
  solute: CaseSolute;
}

function closedVessel(v: ClosedVessel): BrewCase {
  const blank = blankCase();
  const solid = v.dose / blank.grains.envelopeDensity;
  const pores = (solid * blank.bed.porosity * LIQUID_DENSITY) / (1 - blank.bed.porosity);
  return blankCase({
    dose: v.dose,
    dryMass: v.dose,
    sizes: [{ diameter: Float64Array.of(v.diameter), share: Float64Array.of(1) }],
    outletOpens: Number.POSITIVE_INFINITY,
    actions: [STIRRED],
    initial: { saturation: 1, absorbed: 1, head: v.liquid - pores, temperature: 363.15 },
    solutes: [v.solute],
    horizon: v.end,
    numerics: fixedSteps(1, 40, v.end / v.steps),
  });
}
