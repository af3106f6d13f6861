import type { Amounts } from './amounts.ts';
import type { BrewCase } from './case.ts';
import { factorColumns, solveColumns } from './columns.ts';
import { readRates } from './rates.ts';
import { poolsOf, type State } from './state.ts';

/** Least liquid that dissolves [kg]; what a drier node still holds counts as dissolved in this much. */
const DRY = 1e-10;
/** Ratio expected of one solute where liquid has only just come [kg/kg]. */
const STRONG = 0.05;
/** Relative distance to the expected ratio within which the tangent of the balance stands, and how often it is laid anew. */
const NEAR = 0.1;
const MOST_ROUNDS = 5;
/** Liquid share at which broken cells release at half their wet rate. */
const WETTING_SHARE = 0.05;

/**
 * Solves every solute of one implicit stage with the water moved in the same stage: carried downwards, exchanged by
 * agitation and dispersion, taken into grains with the water they absorb, released from the pools of the grains.
 *
 * A pool relaxes at its rate towards what it would hold in balance with the liquid, capacity·ratio/(1 + ratio/half); over a
 * stage it gives gain·(content − balance), gain = x/(1 + x), x = rate·dt. The balance is taken along its tangent at the
 * expected ratio, so that each solute needs one solve, or a few where the ratio came out elsewhere (Newton). Content is
 * updated with the same numbers, which conserves it to rounding.
 */
export function stepSolutes(c: BrewCase, s: State, from: Amounts, dt: number): void {
  followFront(s, from);
  setCarrying(s);
  setWetting(c, s, dt);
  let solids = 0;
  for (let q = 0; q < s.solutes; q++) {
    weighPools(c, s, from, q);
    expectRatios(s, from, q);
    for (let round = 1; ; round++) {
      assemble(c, s, from, q);
      factorColumns(s.matrix, s.wetTo);
      solveColumns(s.matrix, s.right, s.wetTo);
      if (round === MOST_ROUNDS || asExpected(c, s, q)) break;
    }
    updatePools(s, from, q);
    solids += serve(s, from, q);
  }
  s.drip.ratio = s.drip.flow > 0 ? solids / (s.drip.flow * dt) : Number.NaN;
}

/** Cells that liquid has never reached give and carry nothing: they are left out until it does. */
function followFront(s: State, from: Amounts): void {
  const { wetTo, cells, enters } = s;
  const { water } = s.now;
  for (let p = 0; p < s.paths; p++) {
    let i = (p + 1) * cells;
    while (i > wetTo[p]! && !(water[i]! > 0 || from.water[i]! > 0 || enters[i]! > 0)) i--;
    wetTo[p] = i;
  }
}

/**
 * What solutes and tags share in a stage: what passes each face with the liquid, and what leaves a node or is exchanged
 * with its neighbours [kg].
 */
function setCarrying(s: State): void {
  const { above, below, headTo } = s.matrix;
  const { enters, mixed, leaves, exchanged, aside, cells, wetTo } = s;
  leaves[0] = aside[0]!;
  exchanged[0] = 0;
  for (let p = 0; p < s.paths; p++) {
    const top = p * cells + 1;
    const bottom = top + cells - 1;
    const last = wetTo[p]!;
    headTo[p] = 0;
    for (let i = top; i <= last; i++) {
      const flow = enters[i]!;
      const both = mixed[i]!;
      above[i] = -(flow + both);
      leaves[i] = aside[i]!;
      exchanged[i] = both;
      if (i === top) {
        headTo[p] = -both;
        leaves[0]! += flow;
        exchanged[0]! += both;
      } else {
        below[i - 1] = -both;
        leaves[i - 1]! += flow;
        exchanged[i - 1]! += both;
      }
    }
    if (last === bottom) leaves[bottom]! += s.drips[p]!;
  }
}

/** What the pools of all solutes have in common in a stage: how far a cell's grains are wetted and soaked, and how warm. */
function setWetting(c: BrewCase, s: State, dt: number): void {
  const { solutes, cells, wetTo, wetting, soaking, rateOf, absorbMax, leaves, aside } = s;
  const { water, absorbed } = s.now;
  const { temperature } = s.levels;
  for (let p = 0; p < s.paths; p++)
    for (let i = p * cells + 1; i <= wetTo[p]!; i++) {
      readRates(s.rates, solutes, temperature[i]!, rateOf, i * solutes);
      const soaked = c.grains.poreVolume > 0 ? absorbed[i]! / absorbMax[i]! : 1;
      const liquid = water[i]! + leaves[i]! - aside[i]!;
      // A node without liquid gives nothing.
      const on = liquid < DRY ? 0 : dt;
      wetting[i] = on > 0 ? (dt * water[i]!) / (water[i]! + WETTING_SHARE * (water[i]! + absorbMax[i]!)) : 0;
      soaking[i] = soaked * on;
    }
}

/**
 * Gains of all pools of a solute in all cells, at the temperatures of this stage; what they would give to pure water, and
 * how much less per unit of balance.
 */
function weighPools(c: BrewCase, s: State, from: Amounts, q: number): void {
  const { solutes, pools, cells, wetTo, gain, capacity, poolRate, rateOf, wetting, soaking, given, taken } =
    s;
  const { pool } = from;
  const solute = c.solutes[q]!;
  const row = q * pools;
  for (let p = 0; p < s.paths; p++)
    for (let i = p * cells + 1; i <= wetTo[p]!; i++) {
      const rate = rateOf[i * solutes + q]!;
      const at = i * pools;
      const base = poolsOf(s, q, i);
      const surface = solute.surfaceRate * rate * wetting[i]!;
      const core = solute.diffusivity * rate * soaking[i]!;
      let g = surface / (1 + surface);
      gain[at] = g;
      let gives = g * pool[base]!;
      let takes = g * capacity[row]!;
      for (let e = 1; e < pools; e++) {
        const x = core * poolRate[e]!;
        g = x / (1 + x);
        gain[at + e] = g;
        gives += g * pool[base + e]!;
        takes += g * capacity[row + e]!;
      }
      given[i] = gives;
      taken[i] = takes;
    }
}

/** Expected ratios; a cell that had no liquid is taken to come out strong, for Newton comes from there. */
function expectRatios(s: State, from: Amounts, q: number): void {
  const { ratio: expected } = s.guess;
  const at = q * s.nodes;
  for (let i = 1; i < s.nodes; i++) if (from.water[i]! < DRY) expected[at + i] = STRONG;
}

/** Whether the solved ratios lie so near the expected ones that the tangent stands; if not, they are expected next. */
function asExpected(c: BrewCase, s: State, q: number): boolean {
  const { halfRatio } = c.solutes[q]!;
  if (halfRatio === undefined) return true;
  const { right, leaves, cells, wetTo } = s;
  const { water } = s.now;
  const { ratio: expected } = s.guess;
  const at = q * s.nodes;
  let near = true;
  for (let p = 0; p < s.paths; p++)
    for (let i = p * cells + 1; i <= wetTo[p]!; i++) {
      if (water[i]! + leaves[i]! < DRY) continue;
      const found = Math.max(0, right[i]!);
      if (Math.abs(found - expected[at + i]!) > NEAR * (halfRatio + Math.min(found, expected[at + i]!)))
        near = false;
      expected[at + i] = found;
    }
  return near;
}

/** Row i: liquid now, what leaves, what is exchanged, what pools give, against what was there. */
function assemble(c: BrewCase, s: State, from: Amounts, q: number): void {
  const { nodes, cells, wetTo, given, taken, right, leaves, exchanged, dry, holding, heldAtNone } = s;
  const { own } = s.matrix;
  const { water } = s.now;
  const { dissolved } = from;
  const { ratio: expected } = s.guess;
  const perHalf = 1 / (c.solutes[q]!.halfRatio ?? Number.POSITIVE_INFINITY);
  const at = q * nodes;
  own[0] = Math.max(DRY, water[0]! + leaves[0]!) + exchanged[0]!;
  right[0] = dissolved[at]!;
  for (let p = 0; p < s.paths; p++)
    for (let i = p * cells + 1; i <= wetTo[p]!; i++) {
      // Tangent of the balance at the expected ratio: slope and what it is at none, over capacity.
      const strength = expected[at + i]! * perHalf;
      const slope = dry[i]! / ((1 + strength) * (1 + strength));
      const atNone = slope * strength * expected[at + i]!;
      holding[i] = slope;
      heldAtNone[i] = atNone;
      own[i] = Math.max(DRY, water[i]! + leaves[i]!) + exchanged[i]! + taken[i]! * slope;
      right[i] = dissolved[at + i]! + given[i]! - taken[i]! * atNone;
    }
}

/** Updates the pools with the solved ratios and books what left the grounds. */
function updatePools(s: State, from: Amounts, q: number): void {
  const { pools, cells, wetTo, gain, capacity, right, holding, heldAtNone, aside } = s;
  const { pool } = s.now;
  const { pool: before } = from;
  const row = q * pools;
  let released = 0;
  for (let p = 0; p < s.paths; p++)
    for (let i = p * cells + 1; i <= wetTo[p]!; i++) {
      const at = i * pools;
      const base = poolsOf(s, q, i);
      const ratio = right[i]!;
      const balance = ratio * holding[i]! + heldAtNone[i]!;
      // Liquid drawn into grains carries its solutes into the broken outer cells.
      const drawn = aside[i]! * ratio;
      released -= drawn;
      for (let e = 0; e < pools; e++) {
        const content = before[base + e]!;
        const gift = gain[at + e]! * (content - capacity[row + e]! * balance);
        pool[base + e] = content - gift;
        released += gift;
      }
      pool[base]! += drawn;
    }
  s.now.released[q] = from.released[q]! + released;
}

/** Keeps the solved ratios and books what reached the server [kg]. */
function serve(s: State, from: Amounts, q: number): number {
  const at = q * s.nodes;
  const { right } = s;
  const { ratio } = s.levels;
  const { water, dissolved } = s.now;
  const { leaves } = s;
  ratio[at] = right[0]!;
  dissolved[at] = Math.max(water[0]!, DRY - leaves[0]!) * right[0]!;
  let arrived = s.aside[0]! * right[0]!;
  for (let p = 0; p < s.paths; p++) {
    const last = s.wetTo[p]!;
    for (let i = p * s.cells + 1; i <= last; i++) {
      ratio[at + i] = right[i]!;
      dissolved[at + i] = Math.max(water[i]!, DRY - leaves[i]!) * right[i]!;
    }
    if (last === (p + 1) * s.cells) arrived += s.drips[p]! * right[last]!;
  }
  s.now.served[q] = from.served[q]! + arrived;
  s.now.spilled[q] = from.spilled[q]!;
  return arrived;
}

/**
 * Follows which pour the water came from: the same carrying and exchange as for solutes, without release. What drips
 * in a stage is shared among pours by the water in it, and so are the solids that water carries.
 */
export function stepTags(s: State, from: Amounts, inflow: number, pouring: number): void {
  const { now, right, cells, wetTo } = s;
  const { own } = s.matrix;
  followFront(s, from);
  setCarrying(s);
  own[0] = tagged(s, 0);
  for (let p = 0; p < s.paths; p++) for (let i = p * cells + 1; i <= wetTo[p]!; i++) own[i] = tagged(s, i);
  factorColumns(s.matrix, wetTo);
  for (let t = 0; t < s.tags; t++) {
    const at = t * s.nodes;
    for (let i = 0; i < s.nodes; i++) right[i] = from.tag[at + i]!;
    if (t === pouring) right[0]! += inflow;
    solveColumns(s.matrix, right, wetTo);
    let water = s.aside[0]! * right[0]!;
    let solids = water * solidsAt(s, 0);
    now.tag[at] = now.water[0]! * right[0]!;
    for (let p = 0; p < s.paths; p++) {
      const last = wetTo[p]!;
      for (let i = p * cells + 1; i <= last; i++) now.tag[at + i] = now.water[i]! * right[i]!;
      if (last < (p + 1) * cells) continue;
      const part = s.drips[p]! * right[last]!;
      water += part;
      solids += part * solidsAt(s, last);
    }
    now.tagServed[t] = from.tagServed[t]! + water;
    now.tagSolids[t] = from.tagSolids[t]! + solids;
  }
}

/** The row of a node for tags: water now, and what leaves, dries up or is exchanged [kg]. */
const tagged = (s: State, i: number): number =>
  Math.max(DRY, s.now.water[i]! + s.leaves[i]! + s.evaporated[i]!) + s.exchanged[i]!;

/** Solids of all kinds per water in a node [kg/kg]. */
function solidsAt(s: State, i: number): number {
  let sum = 0;
  for (let q = 0; q < s.solutes; q++) sum += s.levels.ratio[q * s.nodes + i]!;
  return sum;
}

/** Mass of one solute held outside the server [kg]: in liquid and in grains. */
export function soluteHeld(s: State, q: number): number {
  let sum = soluteInGrains(s, q);
  for (let i = 0; i < s.nodes; i++) sum += s.now.dissolved[q * s.nodes + i]!;
  return sum;
}

/** Mass of one solute still in the grains [kg]. */
export function soluteInGrains(s: State, q: number): number {
  const { pool } = s.now;
  const count = (s.nodes - 1) * s.pools;
  let sum = 0;
  for (let k = q * count; k < (q + 1) * count; k++) sum += pool[k]!;
  return sum;
}
