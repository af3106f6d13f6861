import type { BrewCase } from '../case.ts';

/**
 * A case with every part switched off, for problems with known answers: a bed of one size in a cylinder, isothermal at
 * 90 °C, no wall, no losses, no gas, no paper, no solutes, nothing poured. Each reduced mode switches on what it asks about.
 */
export function blankCase(change: Partial<BrewCase> = {}): BrewCase {
  return {
    vessel: { r0: 0.025, slope: 0, height: 0.5 },
    shape: 'flat',
    dose: 0.02,
    dryMass: 0.02,
    sizes: [{ diameter: Float64Array.of(800e-6), share: Float64Array.of(1) }],
    grains: {
      temperature: 363.15,
      heatCapacity: 1620,
      envelopeDensity: 616,
      poreVolume: 0,
      moisture: 0,
      brokenLayer: 0,
      absorptionTime: 2,
      biot: 0,
      lag: 0,
    },
    bed: {
      porosity: 0.4,
      permeability: 2e-11,
      residualSaturation: 0.75,
      relativeExponent: 3,
      suction: 0,
      storageHead: 20,
      dispersivity: 0,
      dryConductivity: 0,
      wetConductivity: 0,
      openTip: 1,
      paths: [{ share: 1, permeability: 1 }],
    },
    gas: { content: 0, releaseTime: 25, absorptionDelay: 0, flowHindrance: 0 },
    paper: { resistance: 0, clogging: 0, wallBypass: 0 },
    wall: { heatCapacity: 0, temperature: 363.15, contact: 0, outside: 0, outerArea: 0 },
    server: { heatCapacity: 0, temperature: 363.15, loss: 0, capacity: 1 },
    air: { temperature: 293.15, pressure: 101_325, vapourPressure: 1_200, surfaceFactor: 0 },
    pours: [],
    actions: [],
    jetExchange: 0,
    outletOpens: 0,
    lift: Number.POSITIVE_INFINITY,
    bypass: null,
    solutes: [],
    initial: null,
    horizon: 600,
    numerics: {
      cells: 24,
      bins: 10,
      tolerance: 0.1,
      longestStep: 2,
      firstStep: 0.05,
    },
    ...change,
  };
}
