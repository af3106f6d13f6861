import type { BrewCase } from './case.ts';

/** Places in {@link Amounts.ledger}. Masses in kg, heat in J above 0 °C. */
export const LEDGER = {
  poured: 0,
  served: 1,
  evaporated: 2,
  spilled: 3,
  heatIn: 4,
  heatOut: 5,
  heatSpilled: 6,
  wallHeat: 7,
  serverHeat: 8,
} as const;
const LEDGER_LENGTH = 9;

/**
 * Everything that a run conserves or counts, in one array, so that a step in time is arithmetic on the whole of it. Node
 * 0 is the head, cells follow path by path from top to bottom. Masses in kg, heat in J above 0 °C.
 */
export interface Amounts {
  readonly all: Float64Array;
  /** Mobile liquid, [node]. */
  readonly water: Float64Array;
  /** Water inside the grains, [node]. */
  readonly absorbed: Float64Array;
  /** CO2 left in the grounds, [node]. */
  readonly gas: Float64Array;
  /** Heat of liquid and grains, [node]. */
  readonly heat: Float64Array;
  /** Dissolved in the mobile liquid, [solute][node]. */
  readonly dissolved: Float64Array;
  /** Water by the pour it came from, [tag][node]. */
  readonly tag: Float64Array;
  /** In the grains, [solute][cell][pool]; see spectrum.ts for what the pools are. */
  readonly pool: Float64Array;
  /** See {@link LEDGER}. */
  readonly ledger: Float64Array;
  /** In the server, lost over the rim, and ever released by the grains, [solute]. */
  readonly served: Float64Array;
  readonly spilled: Float64Array;
  readonly released: Float64Array;
  /** Water of each pour in the server, and the solids it carried there, [tag]. */
  readonly tagServed: Float64Array;
  readonly tagSolids: Float64Array;
}

/** Sizes that the arrays of a run follow from. */
export interface Sizes {
  paths: number;
  /** Cells of one path. */
  cells: number;
  /** All cells and the head. */
  nodes: number;
  solutes: number;
  pools: number;
  tags: number;
}

export function sizesOf(c: BrewCase): Sizes {
  const paths = c.bed.paths.length;
  const { cells } = c.numerics;
  return {
    paths,
    cells,
    nodes: paths * cells + 1,
    solutes: c.solutes.length,
    pools: c.numerics.bins + 1,
    tags: c.pours.length,
  };
}

/** Lays out amounts, all 0. */
export function amountsOf(z: Sizes): Amounts {
  const { nodes, solutes, pools, tags } = z;
  const cells = nodes - 1;
  const lengths = {
    water: nodes,
    absorbed: nodes,
    gas: nodes,
    heat: nodes,
    dissolved: solutes * nodes,
    tag: tags * nodes,
    pool: cells * solutes * pools,
    ledger: LEDGER_LENGTH,
    served: solutes,
    spilled: solutes,
    released: solutes,
    tagServed: tags,
    tagSolids: tags,
  };
  const all = new Float64Array(Object.values(lengths).reduce((sum, n) => sum + n, 0));
  let at = 0;
  const view = (length: number) => {
    at += length;
    return all.subarray(at - length, at);
  };
  return {
    all,
    water: view(lengths.water),
    absorbed: view(lengths.absorbed),
    gas: view(lengths.gas),
    heat: view(lengths.heat),
    dissolved: view(lengths.dissolved),
    tag: view(lengths.tag),
    pool: view(lengths.pool),
    ledger: view(lengths.ledger),
    served: view(lengths.served),
    spilled: view(lengths.spilled),
    released: view(lengths.released),
    tagServed: view(lengths.tagServed),
    tagSolids: view(lengths.tagSolids),
  };
}

/**
 * What laws are evaluated at: levels that follow from amounts, in one array so that they can be carried forward along
 * their slopes. Temperatures in °C, so that enthalpies stand on 0 °C.
 */
export interface Levels {
  readonly all: Float64Array;
  readonly water: Float64Array;
  readonly gas: Float64Array;
  readonly temperature: Float64Array;
  /** Dissolved over water [kg/kg], [solute][node]. */
  readonly ratio: Float64Array;
  /** `[0]` liquid that has passed the paper [kg]. */
  readonly passed: Float64Array;
}

/** Lays out levels, all 0. */
export function levelsOf(z: Sizes): Levels {
  const { nodes, solutes } = z;
  const all = new Float64Array(nodes * (3 + solutes) + 1);
  return {
    all,
    water: all.subarray(0, nodes),
    gas: all.subarray(nodes, 2 * nodes),
    temperature: all.subarray(2 * nodes, 3 * nodes),
    ratio: all.subarray(3 * nodes, (3 + solutes) * nodes),
    passed: all.subarray((3 + solutes) * nodes),
  };
}
