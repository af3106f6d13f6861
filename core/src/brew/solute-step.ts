import type { BrewCase } from './case.ts';
import { arrhenius, type State } from './state.ts';
import { backTridiagonal, factorTridiagonal } from './tridiagonal.ts';

/** Smallest diagonal that counts as liquid [kg]; a drier node has no concentration. */
const DRY = 1e-14;
/** Liquid share at which broken cells release at half their wet rate. */
const WETTING_SHARE = 0.05;

/**
 * Advances every solute by one implicit step with the water moved in the same step: carried downwards, exchanged by
 * agitation and dispersion, taken into grains with the water they absorb, released from the pools of the grains.
 *
 * A pool relaxes towards capacity·ratio at its rate; over the step it gives `gain·(content − capacity·ratio)` with
 * gain = (x + x²/2)/(1 + x + x²/2), x = rate·dt, the second-order L-stable approximation of 1 − e⁻ˣ. That is linear in
 * the new ratio, so each solute needs one tridiagonal solve; content is then updated with the same numbers, which
 * conserves it to rounding.
 */
export function stepSolutes(c: BrewCase, s: State, dt: number): void {
  const n = s.nodes;
  const t = s.totals;
  t.dripRatio = 0;
  const served = s.down[n - 1]! + s.aside[0]!;
  for (let q = 0; q < s.solutes; q++) {
    assemble(c, s, q, dt);
    factorTridiagonal(n, s.lower, s.diagonal, s.upper, s.scratch);
    backTridiagonal(n, s.lower, s.upper, s.right, s.scratch);
    s.ratio.set(s.right, q * n);
    updatePools(s, q);
    const gained = s.down[n - 1]! * s.right[n - 1]! + s.aside[0]! * s.right[0]!;
    t.servedSolute[q]! += gained;
    if (served > 0) t.dripRatio += gained / served;
  }
}

/** Row i: liquid now, what leaves, what is exchanged, what pools give, against what was there. */
function assemble(c: BrewCase, s: State, q: number, dt: number): void {
  const { nodes: n } = s;
  for (let i = 0; i < n; i++) {
    const above = i === 0 ? 0 : s.exchange[i - 1]!;
    const below = i === n - 1 ? 0 : s.exchange[i]!;
    const own = s.water[i]! + s.down[i]! + s.aside[i]!;
    if (own < DRY) {
      s.diagonal[i] = 1;
      s.lower[i] = 0;
      s.upper[i] = 0;
      s.right[i] = 0;
      if (i > 0) standStill(s, q, i - 1);
      continue;
    }
    s.lower[i] = i === 0 ? 0 : -(s.down[i - 1]! + above);
    s.upper[i] = -below;
    s.diagonal[i] = own + above + below;
    s.right[i] = s.waterBefore[i]! * s.ratio[q * n + i]!;
    if (i > 0) addPools(c, s, q, i, dt);
  }
}

/** A node without liquid: its pools stand still. */
function standStill(s: State, q: number, k: number): void {
  const base = (k * s.solutes + q) * s.pools;
  s.gain.fill(0, base, base + s.pools);
}

/** Gains of all pools of one solute in one cell, and what they add to its row. */
function addPools(c: BrewCase, s: State, q: number, i: number, dt: number): void {
  const { pools } = s;
  const solute = c.solutes[q]!;
  const heat = dt * arrhenius(solute.activation, s.temperature[i]!);
  const soaked = c.grains.poreVolume > 0 ? s.absorbed[i]! / s.absorbMax : 1;
  const liquid = s.water[i]! + s.down[i]!;
  const wet = liquid / (liquid + WETTING_SHARE * (s.waterBefore[i]! + s.absorbMax));
  const surface = gainOf(solute.surfaceRate * heat * wet);
  const core = solute.diffusivity * heat * soaked;
  const base = ((i - 1) * s.solutes + q) * pools;
  const row = q * pools;
  s.gain[base] = surface;
  let given = surface * s.pool[base]!;
  let taken = surface * s.capacity[row]!;
  for (let e = 1; e < pools; e++) {
    const gain = gainOf(core * s.poolRate[e]!);
    s.gain[base + e] = gain;
    given += gain * s.pool[base + e]!;
    taken += gain * s.capacity[row + e]!;
  }
  s.diagonal[i]! += taken;
  s.right[i]! += given;
}

/** Second-order L-stable approximation of 1 − e⁻ˣ, between 0 and 1. */
function gainOf(x: number): number {
  const y = x * (1 + 0.5 * x);
  return y / (1 + y);
}

/** Updates the pools with the solved ratios and books what left the grounds. */
function updatePools(s: State, q: number): void {
  const { nodes: n, pools } = s;
  const t = s.totals;
  const row = q * pools;
  let released = 0;
  for (let i = 1; i < n; i++) {
    const ratio = s.right[i]!;
    const base = ((i - 1) * s.solutes + q) * pools;
    // Liquid drawn into grains carries its solutes into the broken outer cells.
    const drawn = s.aside[i]! * ratio;
    let cell = -drawn;
    t.poolReleased[0]! -= drawn;
    for (let e = 0; e < pools; e++) {
      const flow = s.gain[base + e]! * (s.pool[base + e]! - s.capacity[row + e]! * ratio);
      s.pool[base + e]! -= flow;
      t.poolReleased[e]! += flow;
      cell += flow;
    }
    s.pool[base]! += drawn;
    t.cellReleased[i - 1]! += cell;
    released += cell;
  }
  t.releasedSolute[q] = released;
}

/**
 * Follows which pour the water came from: the same carrying and exchange as for solutes, without release. What drips
 * in a step is shared among pours by the water in it, and so are the solids that water carries.
 */
export function stepTags(s: State, inflow: number, pouring: number): void {
  const n = s.nodes;
  const t = s.totals;
  for (let i = 0; i < n; i++) {
    const above = i === 0 ? 0 : s.exchange[i - 1]!;
    const below = i === n - 1 ? 0 : s.exchange[i]!;
    const own = s.water[i]! + s.down[i]! + s.aside[i]! + s.evaporated[i]!;
    const dry = own < DRY;
    s.diagonal[i] = dry ? 1 : own + above + below;
    s.lower[i] = dry || i === 0 ? 0 : -(s.down[i - 1]! + above);
    s.upper[i] = dry ? 0 : -below;
  }
  factorTridiagonal(n, s.lower, s.diagonal, s.upper, s.scratch);
  let solidsDown = 0;
  let solidsSide = 0;
  for (let q = 0; q < s.solutes; q++) {
    solidsDown += s.down[n - 1]! * s.ratio[q * n + n - 1]!;
    solidsSide += s.aside[0]! * s.ratio[q * n]!;
  }
  for (let p = 0; p < s.tags; p++) {
    for (let i = 0; i < n; i++) s.right[i] = s.tag[p * n + i]!;
    if (p === pouring) s.right[0]! += inflow;
    backTridiagonal(n, s.lower, s.upper, s.right, s.scratch);
    t.tagServed[p]! += s.down[n - 1]! * s.right[n - 1]! + s.aside[0]! * s.right[0]!;
    t.tagSolids[p]! += solidsDown * s.right[n - 1]! + solidsSide * s.right[0]!;
    for (let i = 0; i < n; i++) s.tag[p * n + i] = s.water[i]! * s.right[i]!;
  }
}

/** Mass of one solute held outside the server [kg]: in liquid and in grains. */
export function soluteHeld(s: State, q: number): number {
  let sum = soluteInGrains(s, q);
  for (let i = 0; i < s.nodes; i++) sum += s.water[i]! * s.ratio[q * s.nodes + i]!;
  return sum;
}

/** Mass of one solute still in the grains [kg]. */
export function soluteInGrains(s: State, q: number): number {
  let sum = 0;
  for (let k = 0; k < s.cells; k++) {
    const base = (k * s.solutes + q) * s.pools;
    for (let e = 0; e < s.pools; e++) sum += s.pool[base + e]!;
  }
  return sum;
}
