import { GAS_CONSTANT, ZERO_CELSIUS } from '../units/index.ts';
import type { BrewCase } from './case.ts';
import { LIQUID_DENSITY } from './flow.ts';
import { heightOf, radiusAt } from './geometry.ts';

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
  /**
   * Mass in the pools [kg], [cell][solute][block]. A block holds one broken-layer pool per class, then the core pools
   * [class][mode], the remainder last.
   */
  readonly pool: Float64Array;
  /** What a pool gives of its excess in this step, same shape. */
  readonly gain: Float64Array;
  /** Equilibrium content per unit ratio [kg], [solute][block]. */
  readonly capacity: Float64Array;
  /** Rate of each core pool over the diffusivity [1/m²], [block]; unused for the broken layer. */
  readonly poolRate: Float64Array;
  /** Share of each pool in a solute's stock, [block]. */
  readonly poolShare: Float64Array;
  /** Pools per block and per core. */
  readonly block: number;
  readonly corePools: number;
  /** Mass share of each class. */
  readonly classShare: Float64Array;

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
  /** Solids that left each class [kg]. */
  classReleased: Float64Array;
  dripFlow: number;
  dripTemperature: number;
  dripRatio: number;
}

/** Builds the state of a case at time 0. */
export function createState(c: BrewCase): State {
  const cells = c.numerics.cells;
  const nodes = cells + 1;
  const classes = c.sizes.diameter.length;
  const solutes = c.solutes.length;
  const corePools = c.numerics.modes + 1;
  const block = classes * (1 + corePools);
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
  const capacityRows = buildPools(c, dryCell, classes, solutes, corePools);
  const state: State = {
    cells,
    nodes,
    classes,
    solutes,
    block,
    corePools,
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
    pool: new Float64Array(cells * solutes * block),
    gain: new Float64Array(cells * solutes * block),
    ...capacityRows,
    classShare: c.sizes.share,
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
      classReleased: new Float64Array(classes),
      dripFlow: 0,
      dripTemperature: Number.NaN,
      dripRatio: Number.NaN,
    },
  };
  fillInitial(c, state);
  return state;
}

function fillInitial(c: BrewCase, s: State): void {
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
      for (let e = 0; e < s.block; e++)
        s.pool[(k * s.solutes + q) * s.block + e] = (c.solutes[q]!.extractable / s.cells) * s.poolShare[e]!;
}

/**
 * The pools of a grain. A sphere whose surface content follows the liquid takes up or gives off mass exactly like
 * parallel first-order pools of weight 6/(π²n²) and rate D n²π²/R² (Crank, The Mathematics of Diffusion, eq. 6.20).
 * The first M are kept; the rest is one pool with the rate that keeps Σ weight/rate = R²/(15 D). The broken outer layer
 * is one more pool, with a rate of its own.
 */
function buildPools(c: BrewCase, dryCell: number, classes: number, solutes: number, corePools: number) {
  const modes = corePools - 1;
  const block = classes * (1 + corePools);
  const poolRate = new Float64Array(block);
  const poolShare = new Float64Array(block);
  for (let j = 0; j < classes; j++) {
    const r = c.sizes.diameter[j]! / 2;
    const core = Math.max(0, r - c.grains.brokenLayer);
    const whole = (core / r) ** 3;
    const mass = c.sizes.share[j]!;
    const first = classes + j * corePools;
    const perArea = core > 0 ? 1 / (core * core) : 0;
    poolShare[j] = mass * (1 - whole);
    let restWeight = 1;
    let restTime = 1 / 15;
    for (let n = 1; n <= modes; n++) {
      const weight = 6 / (Math.PI * Math.PI * n * n);
      const rate = Math.PI * Math.PI * n * n;
      restWeight -= weight;
      restTime -= weight / rate;
      poolShare[first + n - 1] = mass * whole * weight;
      poolRate[first + n - 1] = rate * perArea;
    }
    poolShare[first + modes] = mass * whole * restWeight;
    poolRate[first + modes] = (restWeight / restTime) * perArea;
  }
  const volume = dryCell / c.grains.envelopeDensity;
  const capacity = new Float64Array(solutes * block);
  for (let q = 0; q < solutes; q++)
    for (let e = 0; e < block; e++)
      capacity[q * block + e] = c.solutes[q]!.partition * volume * LIQUID_DENSITY * poolShare[e]!;
  return { capacity, poolRate, poolShare };
}

/** Arrhenius factor relative to 90 °C, for a temperature in °C. */
export const arrhenius = (activation: number, celsius: number): number =>
  Math.exp((-activation / GAS_CONSTANT) * (1 / (celsius + ZERO_CELSIUS) - 1 / REFERENCE_TEMPERATURE));
