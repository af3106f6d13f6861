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
  setGains(c, s, dt);
  const n = s.nodes;
  const t = s.totals;
  t.dripRatio = 0;
  const served = s.down[n - 1]! + s.aside[0]!;
  for (let q = 0; q < s.solutes; q++) {
    assemble(s, q);
    factorTridiagonal(n, s.lower, s.diagonal, s.upper, s.scratch);
    backTridiagonal(n, s.lower, s.upper, s.right, s.scratch);
    s.ratio.set(s.right, q * n);
    updatePools(s, q);
    const gained = s.down[n - 1]! * s.right[n - 1]! + s.aside[0]! * s.right[0]!;
    t.servedSolute[q]! += gained;
    if (served > 0) t.dripRatio += gained / served;
  }
}

function setGains(c: BrewCase, s: State, dt: number): void {
  const { classes, solutes, pools, cells } = s;
  const perCell = classes * solutes * pools;
  for (let k = 0; k < cells; k++) {
    const T = s.temperature[k + 1]!;
    const soaked = c.grains.poreVolume > 0 ? s.absorbed[k + 1]! / s.absorbMax : 1;
    const saturation = s.water[k + 1]! + s.down[k + 1]!;
    const wet = saturation / (saturation + WETTING_SHARE * (s.waterBefore[k + 1]! + s.absorbMax));
    for (let q = 0; q < solutes; q++) {
      const solute = c.solutes[q]!;
      const heat = arrhenius(solute.activation, T);
      const surface = dt * solute.surfaceRate * heat * wet;
      const core = dt * solute.diffusivity * heat * soaked;
      for (let j = 0; j < classes; j++) {
        const base = k * perCell + (j * solutes + q) * pools;
        for (let m = 0; m < pools; m++) {
          const x = (m === 0 ? surface : core) * s.poolRate[j * pools + m]!;
          const y = x * (1 + 0.5 * x);
          s.gain[base + m] = y / (1 + y);
        }
      }
    }
  }
}

/** Row i: liquid now, what leaves, what is exchanged, what pools give, against what was there. */
function assemble(s: State, q: number): void {
  const { nodes: n, classes, solutes, pools } = s;
  const perCell = classes * solutes * pools;
  for (let i = 0; i < n; i++) {
    const above = i === 0 ? 0 : s.exchange[i - 1]!;
    const below = i === n - 1 ? 0 : s.exchange[i]!;
    let diagonal = s.water[i]! + s.down[i]! + s.aside[i]! + above + below;
    let right = s.waterBefore[i]! * s.ratio[q * n + i]!;
    if (i > 0) {
      for (let j = 0; j < classes; j++) {
        const row = (j * solutes + q) * pools;
        const base = (i - 1) * perCell + row;
        for (let m = 0; m < pools; m++) {
          const gain = s.gain[base + m]!;
          right += gain * s.pool[base + m]!;
          diagonal += gain * s.capacity[row + m]!;
        }
      }
    }
    if (s.water[i]! + s.down[i]! + s.aside[i]! < DRY) {
      s.diagonal[i] = 1;
      s.lower[i] = 0;
      s.upper[i] = 0;
      s.right[i] = 0;
      if (i > 0) dryPools(s, q, i - 1);
    } else {
      s.diagonal[i] = diagonal;
      s.lower[i] = i === 0 ? 0 : -(s.down[i - 1]! + above);
      s.upper[i] = -below;
      s.right[i] = right;
    }
  }
}

/** A node without liquid takes nothing up: its pools stand still. */
function dryPools(s: State, q: number, k: number): void {
  const perCell = s.classes * s.solutes * s.pools;
  for (let j = 0; j < s.classes; j++) {
    const base = k * perCell + (j * s.solutes + q) * s.pools;
    s.gain.fill(0, base, base + s.pools);
  }
}

/** Updates the pools with the solved ratios and books what left the grounds. */
function updatePools(s: State, q: number): void {
  const { nodes: n, classes, solutes, pools } = s;
  const perCell = classes * solutes * pools;
  let released = 0;
  for (let i = 1; i < n; i++) {
    const ratio = s.right[i]!;
    // Liquid drawn into grains carries its solutes into the broken outer cells, by mass of each class.
    const drawn = s.aside[i]! * ratio;
    let cell = -drawn;
    for (let j = 0; j < classes; j++) {
      const row = (j * solutes + q) * pools;
      const base = (i - 1) * perCell + row;
      let given = 0;
      for (let m = 0; m < pools; m++) {
        const flow = s.gain[base + m]! * (s.pool[base + m]! - s.capacity[row + m]! * ratio);
        s.pool[base + m]! -= flow;
        given += flow;
      }
      const back = drawn * s.classShare[j]!;
      s.pool[base]! += back;
      s.totals.classReleased[j]! += given - back;
      cell += given;
    }
    s.totals.cellReleased[i - 1]! += cell;
    released += cell;
  }
  s.totals.releasedSolute[q] = released;
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
  const { nodes: n, classes, solutes, pools, cells } = s;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += s.water[i]! * s.ratio[q * n + i]!;
  const perCell = classes * solutes * pools;
  for (let k = 0; k < cells; k++)
    for (let j = 0; j < classes; j++) {
      const base = k * perCell + (j * solutes + q) * pools;
      for (let m = 0; m < pools; m++) sum += s.pool[base + m]!;
    }
  return sum;
}
