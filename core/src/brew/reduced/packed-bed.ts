import { GRAVITY, liquidDensity, liquidViscosity } from '../../units/index.ts';
import type { BrewCase } from '../case.ts';
import { kozenyCarman } from '../compile.ts';
import { LIQUID_DENSITY } from '../liquid.ts';
import { blankCase } from './blank-case.ts';
import { poreTime, saturatedColumn } from './column.ts';
import { type LinearColumn, storeGrains } from './column-theory.ts';
import { KAPPA, RIG_FLOW, type Rig, type RigStart, rigStart, SOLID_DENSITY } from './double-porosity.ts';
import { fixedSteps } from './read.ts';

/** Temperature of the rig [K]. */
export const RIG_TEMPERATURE = 363.15;
/** Nominal grain [m]: only rates count, since each store is one pool. */
const NOMINAL = 500e-6;

/** Permeability of a rig's bed [m²]: the engine's Kozeny–Carman (constant 5) at the constant of the rig's papers. */
export const rigPermeability = (rig: Rig): number => (kozenyCarman(rig.porosity, 6 / rig.sauter) * 5) / KAPPA;

/** Pressure drop by Darcy's law at the rig's flow [Pa]. */
export const rigPressureDrop = (rig: Rig): number =>
  (liquidViscosity(RIG_TEMPERATURE) * RIG_FLOW * rig.depth) /
  (Math.PI * rig.radius ** 2 * rigPermeability(rig));

/**
 * The rig's bed in the engine under a column of water that weighs `pressure` [Pa], run for a second: the drip tells the flow that
 * this pressure drives.
 */
export function pressedBed(rig: Rig, pressure: number): BrewCase {
  const blank = blankCase();
  const area = Math.PI * rig.radius ** 2;
  const head = pressure / (liquidDensity(RIG_TEMPERATURE) * GRAVITY) - rig.depth;
  const mass = area * rig.depth * (1 - rig.porosity) * blank.grains.envelopeDensity;
  return blankCase({
    vessel: { r0: rig.radius, slope: 0, height: 2 * head },
    dose: mass,
    dryMass: mass,
    bed: { ...blank.bed, porosity: rig.porosity, permeability: rigPermeability(rig), storageHead: 1e4 },
    server: { ...blank.server, capacity: 1e3 },
    initial: {
      saturation: 1,
      absorbed: 1,
      head: area * head * LIQUID_DENSITY,
      temperature: RIG_TEMPERATURE,
    },
    horizon: 1,
    numerics: fixedSteps(24, 1, 1 / 64),
  });
}

/** Mode 3a: the rig's column in the engine, and the same as theory sees it. */
export interface PackedBed {
  case: BrewCase;
  theory: LinearColumn;
  /** What the published equations start from. */
  start: RigStart;
  /** Time at rest before the wash [s]. */
  rest: number;
}

/** How the bed stands when the wash begins: with clean water in its pores, or filled so long ago that all is in equilibrium. */
export type RigFilling = 'clean' | 'rested';

/**
 * A double-porosity bed in the engine: one solute in a broken layer and one well-mixed store in the intact core. The layer is as thick as
 * the published share of solubles on surfaces asks; the partition lets the core hold what the published grain liquid holds. What the engine
 * does not have is the published slowing of the surface as the liquid nears saturation: it has a partition there instead.
 *
 * A rested bed has emptied its surfaces: all stock stands in one store, in equilibrium with the pores. Three slow times are enough, since the store
 * holds more than the pores and empties into them all the faster.
 */
export function packedBed(rig: Rig, filling: RigFilling, wash: number, cells = 60, step = 1 / 16): PackedBed {
  const solids = 1 - rig.porosity;
  const start = rigStart(rig, filling === 'clean' ? 0 : 1);
  const stock = solids * rig.soluble * SOLID_DENSITY;
  const inside = filling === 'clean' ? rig.inside : 1;
  const partition = rig.grainPorosity / inside;
  const radius = NOMINAL / 2;
  const core = radius * Math.cbrt(inside);
  const rest = filling === 'clean' ? 0 : Math.ceil(3 * rig.slowTime);
  const geometry = { radius: rig.radius, depth: rig.depth, porosity: rig.porosity, flow: RIG_FLOW };
  // As much as the grid spreads by itself, so that theory and engine mean the same column.
  const dispersivity = rig.depth / cells;
  const column = saturatedColumn({
    ...geometry,
    temperature: RIG_TEMPERATURE,
    rest,
    wash,
    diameter: NOMINAL,
    dispersivity,
    solutes: [
      {
        key: 'all',
        extractable: stock * Math.PI * rig.radius ** 2 * rig.depth,
        diffusivity: (core / Math.PI) ** 2 / rig.slowTime,
        activation: 0,
        partition,
        surfaceRate: 1 / rig.fastTime,
      },
    ],
    cells,
    bins: 1,
    step,
  });
  const pools = [
    { rate: 1 / rig.fastTime, share: 1 - inside },
    { rate: 1 / rig.slowTime, share: inside },
  ].map(({ rate, share }) => ({
    rate,
    capacity: (solids * partition * share) / rig.porosity,
    content: (stock * share) / rig.porosity,
  }));
  const grains = storeGrains(pools);
  return {
    case: { ...column, grains: { ...column.grains, brokenLayer: radius - core } },
    rest,
    start,
    theory: {
      poreTime: poreTime(geometry),
      peclet: rig.depth / dispersivity,
      start: filling === 'clean' ? 0 : stock / (rig.porosity + solids * rig.grainPorosity),
      grains: filling === 'clean' ? grains : { ...grains, given: null },
    },
  };
}
