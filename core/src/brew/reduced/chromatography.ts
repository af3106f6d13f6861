import type { BrewCase } from '../case.ts';
import { type Column, poreTime, saturatedColumn } from './column.ts';
import { type LinearColumn, sphereGrains } from './column-theory.ts';

/** Mode 3b: a column of equal spheres, and the same as theory sees it. */
export interface SphereColumn {
  case: BrewCase;
  theory: LinearColumn;
  /** Time at rest, in which pores and spheres come into equilibrium [s]. */
  rest: number;
}

/** What may be chosen about a sphere column. */
export interface SphereColumnChoice {
  /** [m] */
  diameter: number;
  /** [m²/s] */
  diffusivity: number;
  partition: number;
  /** Longitudinal spreading [m]; 0 for plug flow. */
  dispersivity: number;
  /** Length of the wash in pore volumes. */
  poreVolumes: number;
  cells: number;
  /** [s]; a power of two, so that moments of the grid are exact. */
  step: number;
  bins: number;
}

const DEPTH = 0.03;
const POROSITY = 0.4;
/** Superficial velocity [m/s]: a pore volume in twelve seconds. */
const VELOCITY = 1e-3;
const RADIUS = 0.025;

/** Spheres of 300 µm that lose half their solute in a few pore volumes: neither local equilibrium nor frozen. */
export const SPHERE_COLUMN: SphereColumnChoice = {
  diameter: 300e-6,
  diffusivity: 3e-10,
  partition: 1.5,
  dispersivity: 0.6e-3,
  poreVolumes: 7,
  cells: 60,
  step: 1 / 16,
  bins: 30,
};

/**
 * One size of homogeneous spheres with linear partition in a saturated bed at constant flow. The bed first stands closed for R²/D (whole seconds), so that
 * grains and pores are in equilibrium to 10⁻⁵; then pure water washes it.
 */
export function sphereColumn(choice: SphereColumnChoice = SPHERE_COLUMN): SphereColumn {
  const radius = choice.diameter / 2;
  const rest = Math.ceil(radius ** 2 / choice.diffusivity);
  const geometry = {
    radius: RADIUS,
    depth: DEPTH,
    porosity: POROSITY,
    flow: VELOCITY * Math.PI * RADIUS ** 2,
  };
  const passing = poreTime(geometry);
  const column: Column = {
    ...geometry,
    temperature: 363.15,
    rest,
    wash: Math.ceil(choice.poreVolumes * passing),
    diameter: choice.diameter,
    dispersivity: choice.dispersivity,
    solutes: [
      {
        key: 'one',
        extractable: STOCK,
        diffusivity: choice.diffusivity,
        activation: 0,
        partition: choice.partition,
        surfaceRate: 0,
      },
    ],
    cells: choice.cells,
    bins: choice.bins,
    step: choice.step,
  };
  return {
    case: saturatedColumn(column),
    rest,
    theory: {
      poreTime: passing,
      peclet: choice.dispersivity > 0 ? DEPTH / choice.dispersivity : Number.POSITIVE_INFINITY,
      start: startOf(choice.partition),
      grains: sphereGrains({
        porosity: POROSITY,
        partition: choice.partition,
        diffusivity: choice.diffusivity,
        radius,
      }),
    },
  };
}

/** Solute in the whole column [kg]: dilute. */
const STOCK = 1e-4;

/** Concentration of the pores once grains and pores are in equilibrium [kg/m³]. */
function startOf(partition: number): number {
  const bed = Math.PI * RADIUS ** 2 * DEPTH;
  return STOCK / (bed * (POROSITY + (1 - POROSITY) * partition));
}
