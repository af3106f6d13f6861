import { ZERO_CELSIUS } from '../units/index.ts';
import { type Amounts, amountsOf, LEDGER, type Levels, levelsOf, type Sizes, sizesOf } from './amounts.ts';
import type { BrewCase } from './case.ts';
import { type Columns, columnsOf } from './columns.ts';
import { heightOf, radiusAt } from './geometry.ts';
import { LIQUID_DENSITY, LIQUID_HEAT_CAPACITY } from './liquid.ts';
import { rateTable } from './rates.ts';
import { spectrumOf } from './spectrum.ts';

/**
 * Everything a run changes or needs per step, allocated once. Faces are counted by the cell below them: face i lies
 * between cell i and the node above it, the head for the top cell of a path.
 */
export interface State extends Sizes {
  readonly classes: number;

  // --- the bed, per node (0 where it is the head)
  /** Thickness of a cell [m]. */
  readonly thickness: Float64Array;
  /** Hydraulic cross-section of a cell [m²]. */
  readonly area: Float64Array;
  /** Half a cell's thickness over area and permeability [1/m]. */
  readonly halfResistance: Float64Array;
  /** Contact with the wall [m²]. */
  readonly wallArea: Float64Array;
  /** Liquid that fills the space between the grains [kg]. */
  readonly full: Float64Array;
  /** Dry grounds [kg]. */
  readonly dry: Float64Array;
  /** Water that the grains take up at most [kg]. */
  readonly absorbMax: Float64Array;
  readonly bedDepth: number;
  readonly bedTopRadius: number;
  /** Liquid that stands over the bed when it reaches the rim [kg]. */
  readonly headRoom: number;
  /** Paper under each path [m²]. */
  readonly paperArea: Float64Array;
  readonly paperTotal: number;

  // --- amounts: at the start of a step, in its middle, and now
  readonly begin: Amounts;
  readonly middle: Amounts;
  readonly now: Amounts;
  // --- levels: at the start of a step, after its first stage, now; their slopes [1/s]; and as expected for a stage
  readonly levelsBegin: Levels;
  readonly levelsMiddle: Levels;
  readonly levels: Levels;
  readonly slope: Levels;
  readonly guess: Levels;

  // --- what a stage moves [kg]
  /** Down through the face above a cell. */
  readonly enters: Float64Array;
  /** Both ways through it. */
  readonly mixed: Float64Array;
  /** Out of the bottom of each path. */
  readonly drips: Float64Array;
  /** Leaving sideways: the head past the bed along the wall, cells into their grains. */
  readonly aside: Float64Array;
  readonly evaporated: Float64Array;
  /** Conductance of each face, and below each path [kg per m of head]. */
  readonly conductance: Float64Array;
  readonly outlet: Float64Array;
  /** Uptake by grains over time constants [-]. */
  readonly uptake: Float64Array;
  /** Saturation at the lower edge of a cell less its mean [-]. */
  readonly edge: Float64Array;
  /** How wet a cell is, 0–1. */
  readonly wetness: Float64Array;

  // --- solutes
  /** Liquid that leaves a node, down or aside, and that it exchanges with its neighbours, in a stage [kg]. */
  readonly leaves: Float64Array;
  readonly exchanged: Float64Array;
  /**
   * Of the solute in hand: what grains hold in balance, over the capacity of a pool, as slope per ratio and as its value
   * at none [kg].
   */
  readonly holding: Float64Array;
  readonly heldAtNone: Float64Array;
  /** What a pool of the solute in hand gives of its excess in a stage, [node][pool]. */
  readonly gain: Float64Array;
  /** What the pools of the solute in hand give to pure water in a stage [kg], and how much less per unit of balance, [node]. */
  readonly given: Float64Array;
  readonly taken: Float64Array;
  /** Time in which broken cells, and intact ones, release at their full rate in a stage [s], [node]. */
  readonly wetting: Float64Array;
  readonly soaking: Float64Array;
  /** Lowest node of each path that liquid has ever reached; one above the top while there is none. */
  readonly wetTo: Int32Array;
  /** Equilibrium content per unit of ratio in dilute liquid [kg per kg of dry grounds], [solute][pool]. */
  readonly capacity: Float64Array;
  /** Rate of each core pool over the diffusivity [1/m²], [pool]; unused for the broken layer. */
  readonly poolRate: Float64Array;
  /** Share of each size class in each pool, [class][pool]. */
  readonly classPart: Float64Array;
  /** Share of the stock in each pool at the start, [pool]. */
  readonly poolShare: Float64Array;
  /** Arrhenius factors by temperature, see rates.ts; as read for this stage, [node][solute]. */
  readonly rates: Float64Array;
  readonly rateOf: Float64Array;

  // --- scratch
  readonly matrix: Columns;
  readonly right: Float64Array;
  readonly right2: Float64Array;
  readonly scratch: Float64Array;

  // --- as it left the last stage
  readonly drip: { flow: number; temperature: number; ratio: number };
}

/** Builds the state of a case at time 0. */
export function createState(c: BrewCase): State {
  const z = sizesOf(c);
  const { nodes, solutes, paths, cells } = z;
  const row = () => new Float64Array(nodes);
  const spectrum = spectrumOf(c.sizes, c.grains.brokenLayer, c.numerics.bins);
  const bed = layBed(c, z);
  const s: State = {
    ...z,
    ...bed,
    classes: c.sizes.length,
    begin: amountsOf(z),
    middle: amountsOf(z),
    now: amountsOf(z),
    levelsBegin: levelsOf(z),
    levelsMiddle: levelsOf(z),
    levels: levelsOf(z),
    slope: levelsOf(z),
    guess: levelsOf(z),
    enters: row(),
    mixed: row(),
    drips: new Float64Array(paths),
    aside: row(),
    evaporated: row(),
    conductance: row(),
    outlet: new Float64Array(paths),
    uptake: row(),
    edge: row(),
    wetness: row(),
    leaves: row(),
    exchanged: row(),
    holding: row(),
    heldAtNone: row(),
    gain: new Float64Array(nodes * z.pools),
    given: row(),
    taken: row(),
    wetting: row(),
    soaking: row(),
    wetTo: Int32Array.from({ length: paths }, (_, p) => p * cells),
    capacity: capacities(c, spectrum.share),
    poolRate: spectrum.rate,
    classPart: spectrum.classPart,
    poolShare: spectrum.share,
    rates: rateTable(c.solutes.map((q) => q.activation)),
    rateOf: new Float64Array(nodes * solutes),
    matrix: columnsOf(paths, cells),
    right: row(),
    right2: row(),
    scratch: row(),
    drip: { flow: 0, temperature: Number.NaN, ratio: Number.NaN },
  };
  fillInitial(c, s, spectrum.share);
  return s;
}

/** Cells of equal dry mass within a path; a path takes its share of the area over the whole depth. */
function layBed(c: BrewCase, z: Sizes) {
  const { cells, nodes } = z;
  const row = () => new Float64Array(nodes);
  const cellVolume = c.dryMass / cells / c.grains.envelopeDensity / (1 - c.bed.porosity);
  const bedDepth = heightOf(c.vessel, cellVolume * cells);
  const bedTopRadius = radiusAt(c.vessel, bedDepth);
  const paperRadius = c.shape === 'cone' ? bedTopRadius : c.vessel.r0;
  const bed = {
    thickness: row(),
    area: row(),
    halfResistance: row(),
    wallArea: row(),
    full: row(),
    dry: row(),
    absorbMax: row(),
    bedDepth,
    bedTopRadius,
    headRoom: Math.max(0, roomOver(c, bedDepth)),
    paperArea: Float64Array.from(c.bed.paths, (path) => path.share * Math.PI * paperRadius ** 2),
    paperTotal: Math.PI * paperRadius ** 2,
  };
  c.bed.paths.forEach(({ share, permeability }, p) => {
    let top = bedDepth;
    for (let k = 1; k <= cells; k++) {
      const i = p * cells + k;
      const bottom = k === cells ? 0 : heightOf(c.vessel, cellVolume * (cells - k));
      const dz = top - bottom;
      const r = radiusAt(c.vessel, (top + bottom) / 2);
      const hydraulic = c.shape === 'cone' ? Math.max(r, c.bed.openTip * bedTopRadius) : r;
      const floor = k === cells ? Math.PI * c.vessel.r0 * c.vessel.r0 : 0;
      bed.thickness[i] = dz;
      bed.area[i] = share * Math.PI * hydraulic * hydraulic;
      bed.halfResistance[i] = dz / (2 * bed.area[i]! * c.bed.permeability * permeability);
      bed.wallArea[i] = share * (2 * Math.PI * r * dz + floor);
      bed.full[i] = share * cellVolume * c.bed.porosity * LIQUID_DENSITY;
      bed.dry[i] = (share * c.dryMass) / cells;
      bed.absorbMax[i] = bed.dry[i]! * c.grains.poreVolume * LIQUID_DENSITY;
      top = bottom;
    }
  });
  return bed;
}

function roomOver(c: BrewCase, bedDepth: number): number {
  const volume = (z: number) => {
    const r = radiusAt(c.vessel, z);
    return (Math.PI / 3) * z * (c.vessel.r0 ** 2 + c.vessel.r0 * r + r * r);
  };
  return (volume(c.vessel.height) - volume(bedDepth)) * LIQUID_DENSITY;
}

function fillInitial(c: BrewCase, s: State, share: Float64Array): void {
  const start = c.initial;
  const { now, levels } = s;
  const T = (start?.temperature ?? c.grains.temperature) - ZERO_CELSIUS;
  levels.temperature.fill(T);
  for (let i = 1; i < s.nodes; i++) {
    now.absorbed[i] = Math.max(c.grains.moisture * s.dry[i]!, (start?.absorbed ?? 0) * s.absorbMax[i]!);
    now.water[i] = (start?.saturation ?? 0) * s.full[i]!;
    now.gas[i] = (c.gas.content * c.dose * s.dry[i]!) / c.dryMass;
  }
  now.water[0] = start?.head ?? 0;
  for (let i = 0; i < s.nodes; i++) {
    const liquid = now.water[i]! + now.absorbed[i]!;
    now.heat[i] = (s.dry[i]! * c.grains.heatCapacity + LIQUID_HEAT_CAPACITY * liquid) * T;
  }
  levels.water.set(now.water);
  levels.gas.set(now.gas);
  for (let q = 0; q < s.solutes; q++)
    for (let i = 1; i < s.nodes; i++)
      for (let e = 0; e < s.pools; e++) now.pool[poolsOf(s, q, i) + e] = stockOf(c, s, q, i) * share[e]!;
  now.ledger[LEDGER.wallHeat] = c.wall.heatCapacity * (c.wall.temperature - ZERO_CELSIUS);
  now.ledger[LEDGER.serverHeat] = c.server.heatCapacity * (c.server.temperature - ZERO_CELSIUS);
}

/** Place of the first pool of a solute in a node. */
export const poolsOf = (s: Sizes, q: number, i: number): number => (q * (s.nodes - 1) + i - 1) * s.pools;

/** What the grains of a node hold of a solute at the start [kg]. */
export const stockOf = (c: BrewCase, s: State, q: number, i: number): number =>
  (c.solutes[q]!.extractable * s.dry[i]!) / c.dryMass;

/** Partition × volume of grains × share of the pool, per kg of dry grounds. */
function capacities(c: BrewCase, share: Float64Array): Float64Array {
  const liquid = LIQUID_DENSITY / c.grains.envelopeDensity;
  return Float64Array.from(
    c.solutes.flatMap((q) => Array.from(share, (part) => q.partition * liquid * part)),
  );
}

/** Temperature of the server [°C]; the case's own while it holds no heat capacity at all. */
export function serverTemperature(c: BrewCase, s: State): number {
  const capacity = c.server.heatCapacity + LIQUID_HEAT_CAPACITY * s.now.ledger[LEDGER.served]!;
  return capacity > 0 ? s.now.ledger[LEDGER.serverHeat]! / capacity : c.server.temperature - ZERO_CELSIUS;
}

/** Temperature of the wall [°C]. */
export const wallTemperature = (c: BrewCase, s: State): number =>
  c.wall.heatCapacity > 0 ? s.now.ledger[LEDGER.wallHeat]! / c.wall.heatCapacity : Number.NaN;

/** Water in the bed, between the grains and in them [kg]. */
export function heldWater(s: State): number {
  let sum = 0;
  for (let i = 1; i < s.nodes; i++) sum += s.now.water[i]! + s.now.absorbed[i]!;
  return sum;
}
