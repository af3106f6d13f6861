import { GRAVITY, liquidDensity, liquidViscosity } from '../../units/index.ts';
import type { BrewCase, CaseSolute } from '../case.ts';
import { LIQUID_DENSITY } from '../liquid.ts';
import { blankCase } from './blank-case.ts';
import { fixedSteps } from './read.ts';

/** Stiff enough that a filled cell holds no more than half a thousandth too much. */
const STIFF = 100;
/** Head that drives the flow, over the depth of the bed: small, so that what is poured enters the bed at once. */
const HEAD_SHARE = 0.03;

/** A bed that is full of water from the start and is washed at a constant rate. */
export interface Column {
  /** [m] */
  radius: number;
  depth: number;
  porosity: number;
  /** Volume flow of the wash [m³/s]. */
  flow: number;
  /** [K] */
  temperature: number;
  /** How long it stands closed before the wash [s]: grains and pores come to rest with each other. */
  rest: number;
  /** How long the wash lasts [s]. */
  wash: number;
  /** Spheres [m]. */
  diameter: number;
  /** Longitudinal spreading [m]. */
  dispersivity: number;
  solutes: readonly CaseSolute[];
  cells: number;
  /** Pools of the release: 1 lets every grain be one well-mixed store. */
  bins: number;
  /** [s] */
  step: number;
}

/**
 * The column that modes 3 and 5 share: saturated, isothermal, constant flow, no paper, no wall. Permeability follows from
 * the flow, so that a head of 3 % of the depth keeps it constant.
 */
export function saturatedColumn(column: Column): BrewCase {
  const blank = blankCase();
  const area = Math.PI * column.radius ** 2;
  const mass = area * column.depth * (1 - column.porosity) * blank.grains.envelopeDensity;
  const head = HEAD_SHARE * column.depth;
  const flow = column.flow * LIQUID_DENSITY;
  const { rest, temperature } = column;
  return blankCase({
    vessel: { r0: column.radius, slope: 0, height: column.depth * 4 },
    dose: mass,
    dryMass: mass,
    sizes: [{ diameter: Float64Array.of(column.diameter), share: Float64Array.of(1) }],
    grains: { ...blank.grains, temperature },
    bed: {
      ...blank.bed,
      porosity: column.porosity,
      permeability: permeabilityFor(column, head),
      storageHead: STIFF,
      dispersivity: column.dispersivity,
    },
    server: { ...blank.server, temperature },
    pours: [
      { id: 'wash', start: rest, end: rest + column.wash, flow, temperature, mixingDepth: 0, power: 0 },
    ],
    outletOpens: rest,
    initial: { saturation: 1, absorbed: 1, head: area * head * LIQUID_DENSITY, temperature },
    solutes: column.solutes,
    horizon: rest + column.wash,
    numerics: fixedSteps(column.cells, column.bins, column.step),
  });
}

/** Darcy: k = µ u L/(ρ g (L + h)) [m²]. */
function permeabilityFor(column: Column, head: number): number {
  const velocity = column.flow / (Math.PI * column.radius ** 2);
  const weight = liquidDensity(column.temperature) * GRAVITY;
  return (liquidViscosity(column.temperature) * velocity * column.depth) / (weight * (column.depth + head));
}

/** Time in which the wash passes one pore volume [s]. */
export const poreTime = (column: Pick<Column, 'radius' | 'depth' | 'porosity' | 'flow'>): number =>
  (Math.PI * column.radius ** 2 * column.depth * column.porosity) / column.flow;

/** What leaves a column: time since the wash began [s] and concentration of all solutes [kg/m³ of liquid]. */
export interface Outflow {
  time: Float64Array;
  concentration: Float64Array;
}

/** Reads the outflow of a column from the trace of its run. */
export function outflowOf(
  trace: { time_s: Float64Array; drip_strength_pct: Float64Array },
  rest: number,
): Outflow {
  const at = [...trace.time_s.keys()].filter(
    (i) => trace.time_s[i]! > rest && Number.isFinite(trace.drip_strength_pct[i]!),
  );
  return {
    time: Float64Array.from(at, (i) => trace.time_s[i]! - rest),
    concentration: Float64Array.from(at, (i) => {
      const share = trace.drip_strength_pct[i]! / 100;
      return (share / (1 - share)) * LIQUID_DENSITY;
    }),
  };
}
