import { GAS_CONSTANT, ZERO_CELSIUS } from '../units/index.ts';
import type { BrewCase } from './case.ts';
import { LIQUID_DENSITY } from './flow.ts';
import { heightOf, radiusAt } from './geometry.ts';
import { spectrumOf } from './spectrum.ts';

/** Temperature at which diffusivities are given [K]. */
export const REFERENCE_TEMPERATURE = 363.15;

/**
 * Everything a run changes or needs per step, allocated once. Node 0 is the head (liquid over the bed), nodes 1…N
 * are the bed cells from top to bottom. Temperatures are °C inside the solver, so that enthalpies stand on 0 °C.
 */
export interface State {
  readonly cells: number;
  readonly nodes: number;
  readonly classes: number;
  readonly solutes: number;
  readonly tags: number;

  // --- geometry per node
  /** Thickness of a cell [m]. */
  readonly thickness: Float64Array;
  /** Hydraulic cross-section [m²]. */
  readonly area: Float64Array;
  /** Contact with the wall [m²]. */
  readonly wallArea: Float64Array;
  /** Space between grains [m³]. */
  readonly poreVolume: Float64Array;
  readonly bedDepth: number;
  readonly bedTopRadius: number;
  readonly dryCell: number;

  // --- water [kg]
  readonly water: Float64Array;
  readonly waterBefore: Float64Array;
  readonly absorbed: Float64Array;
  /** Leaving sideways in this step [kg]: node 0 down the wall past the bed, cells into their grains. */
  readonly aside: Float64Array;
  /** Evaporated in this step [kg]. */
  readonly evaporated: Float64Array;
  readonly absorbMax: number;
  /** Mass leaving node i downwards in this step [kg]; the last goes to the drip. */
  readonly down: Float64Array;
  /** Mass exchanged both ways between node i and i+1 in this step [kg]. */
  readonly exchange: Float64Array;
  readonly gas: Float64Array;

  // --- heat [°C]
  readonly temperature: Float64Array;
  readonly temperatureBefore: Float64Array;

  // --- solutes
  /** Ratio in the liquid, kg per kg water, [solute][node]. */
  readonly ratio: Float64Array;
  /** Mass in the pools of the grains [kg], [cell][solute][pool]; see spectrum.ts for what the pools are. */
  readonly pool: Float64Array;
  /** What a pool gives of its excess in this step, same shape. */
  readonly gain: Float64Array;
  /** Equilibrium content per unit ratio [kg], [solute][pool]. */
  readonly capacity: Float64Array;
  /** Rate of each core pool over the diffusivity [1/m²], [pool]; unused for the broken layer. */
  readonly poolRate: Float64Array;
  /** Share of each size class in each pool, [class][pool]. */
  readonly classPart: Float64Array;
  readonly pools: number;

  // --- water tags by pour [kg], [tag][node]
  readonly tag: Float64Array;

  // --- scratch rows
  readonly lower: Float64Array;
  readonly diagonal: Float64Array;
  readonly upper: Float64Array;
  readonly right: Float64Array;
  readonly right2: Float64Array;
  readonly scratch: Float64Array;
  readonly scratch2: Float64Array;
  readonly scratch3: Float64Array;

  // --- ledger
  readonly totals: Totals;
}

/** Running sums of a run: what the closure and the cup are read from. Masses in kg, heat in J above 0 °C. */
export interface Totals {
  poured: number;
  served: number;
  evaporated: number;
  spilled: number;
  bypass: number;
  wallTemperature: number;
  serverTemperature: number;
  heatIn: number;
  heatOut: number;
  heatSpilled: number;
  /** Per solute [kg]. */
  servedSolute: Float64Array;
  spilledSolute: Float64Array;
  /** Released in the last step [kg]. */
  releasedSolute: Float64Array;
  /** Water of each pour in the server, and solids it carried [kg]. */
  tagServed: Float64Array;
  tagSolids: Float64Array;
  /** Solids that left each cell's grounds [kg]. */
  cellReleased: Float64Array;
  /** Solids that left each pool of the grains, over all cells and solutes [kg]. */
  poolReleased: Float64Array;
  dripFlow: number;
  dripTemperature: number;
  dripRatio: number;
}

/** Builds the state of a case at time 0. */
export function createState(c: BrewCase): State {
  const cells = c.numerics.cells;
  const nodes = cells + 1;
  const classes = c.sizes.length;
  const solutes = c.solutes.length;
  const pools = c.numerics.bins + 1;
  const tags = c.pours.length;
  const row = () => new Float64Array(nodes);
  const dryCell = c.dryMass / cells;
  const cellVolume = dryCell / c.grains.envelopeDensity / (1 - c.bed.porosity);
  const bedDepth = heightOf(c.vessel, cellVolume * cells);
  const bedTopRadius = radiusAt(c.vessel, bedDepth);
  const thickness = row();
  const area = row();
  const wallArea = row();
  const poreVolume = row();
  let top = bedDepth;
  for (let i = 1; i <= cells; i++) {
    const bottom = i === cells ? 0 : heightOf(c.vessel, cellVolume * (cells - i));
    const dz = top - bottom;
    const r = radiusAt(c.vessel, (top + bottom) / 2);
    const hydraulic = c.shape === 'cone' ? Math.max(r, c.bed.openTip * bedTopRadius) : r;
    thickness[i] = dz;
    area[i] = Math.PI * hydraulic * hydraulic;
    wallArea[i] = 2 * Math.PI * r * dz + (i === cells ? Math.PI * c.vessel.r0 * c.vessel.r0 : 0);
    poreVolume[i] = cellVolume * c.bed.porosity;
    top = bottom;
  }
  const spectrum = spectrumOf(c.sizes, c.grains.brokenLayer, c.numerics.bins);
  const state: State = {
    cells,
    nodes,
    classes,
    solutes,
    pools,
    tags,
    thickness,
    area,
    wallArea,
    poreVolume,
    bedDepth,
    bedTopRadius,
    dryCell,
    water: row(),
    waterBefore: row(),
    absorbed: row(),
    aside: row(),
    evaporated: row(),
    absorbMax: dryCell * c.grains.poreVolume * LIQUID_DENSITY,
    down: row(),
    exchange: row(),
    gas: row(),
    temperature: row(),
    temperatureBefore: row(),
    ratio: new Float64Array(solutes * nodes),
    pool: new Float64Array(cells * solutes * pools),
    gain: new Float64Array(cells * solutes * pools),
    capacity: capacities(c, dryCell, spectrum.share),
    poolRate: spectrum.rate,
    classPart: spectrum.classPart,
    tag: new Float64Array(tags * nodes),
    lower: row(),
    diagonal: row(),
    upper: row(),
    right: row(),
    right2: row(),
    scratch: row(),
    scratch2: row(),
    scratch3: row(),
    totals: {
      poured: 0,
      served: 0,
      evaporated: 0,
      spilled: 0,
      bypass: 0,
      wallTemperature: c.wall.temperature - ZERO_CELSIUS,
      serverTemperature: c.server.temperature - ZERO_CELSIUS,
      heatIn: 0,
      heatOut: 0,
      heatSpilled: 0,
      servedSolute: new Float64Array(solutes),
      spilledSolute: new Float64Array(solutes),
      releasedSolute: new Float64Array(solutes),
      tagServed: new Float64Array(tags),
      tagSolids: new Float64Array(tags),
      cellReleased: new Float64Array(cells),
      poolReleased: new Float64Array(pools),
      dripFlow: 0,
      dripTemperature: Number.NaN,
      dripRatio: Number.NaN,
    },
  };
  fillInitial(c, state, spectrum.share);
  return state;
}

function fillInitial(c: BrewCase, s: State, share: Float64Array): void {
  const start = c.initial;
  const T = (start?.temperature ?? c.grains.temperature) - ZERO_CELSIUS;
  s.temperature.fill(T);
  for (let i = 1; i < s.nodes; i++) {
    s.absorbed[i] = Math.max(c.grains.moisture * s.dryCell, (start?.absorbed ?? 0) * s.absorbMax);
    s.water[i] = (start?.saturation ?? 0) * s.poreVolume[i]! * LIQUID_DENSITY;
    s.gas[i] = c.gas.content * (c.dose / s.cells);
  }
  s.water[0] = start?.head ?? 0;
  for (let k = 0; k < s.cells; k++)
    for (let q = 0; q < s.solutes; q++)
      for (let e = 0; e < s.pools; e++)
        s.pool[(k * s.solutes + q) * s.pools + e] = (c.solutes[q]!.extractable / s.cells) * share[e]!;
}

/** Equilibrium content of each pool in a cell per unit ratio [kg], [solute][pool]: partition × volume × share. */
function capacities(c: BrewCase, dryCell: number, share: Float64Array): Float64Array {
  const liquid = (dryCell / c.grains.envelopeDensity) * LIQUID_DENSITY;
  return Float64Array.from(
    c.solutes.flatMap((q) => Array.from(share, (part) => q.partition * liquid * part)),
  );
}

/** Arrhenius factor relative to 90 °C, for a temperature in °C. */
export const arrhenius = (activation: number, celsius: number): number =>
  Math.exp((-activation / GAS_CONSTANT) * (1 / (celsius + ZERO_CELSIUS) - 1 / REFERENCE_TEMPERATURE));
