import type { BrewCase } from './case.ts';
import { headCover, headHeight } from './flow.ts';
import type { State } from './state.ts';

/**
 * Least share of the flow that dispersion may take back from the upwind scheme. At −½ the scheme is central, which swings
 * where a front is sharper than a cell; a little less keeps it from that.
 */
const CENTRAL = -0.4;
/** Mixing this many e-foldings down counts as none. */
const GONE = 30;

/**
 * Sets the masses exchanged through each face in this stage [kg], both ways at once: turbulence of the jet, stirring or
 * swirling, and longitudinal dispersion by the flow.
 *
 * A jet that reaches `mixingDepth` below the liquid surface turns over the layer it reaches, jetExchange·power in kg/s; a
 * hand turns over the liquid of the bed at its rate, all through when it stirs. Mixing is like a diffusivity, turnover ×
 * depth, so the exchange between neighbours follows from their distance, whatever the grid. Dispersion adds
 * flux·(α/Δz − ½): the upwind scheme itself spreads like α = Δz/2, so the sum is α.
 *
 * @param dt of the stage [s]
 * @param pour index of the pour that runs, −1 for none
 * @param action index of the stir or swirl that runs, −1 for none
 */
export function setExchange(c: BrewCase, s: State, dt: number, pour: number, action: number): void {
  const { water } = s.now;
  const headDepth = headHeight(c, s, water[0]!);
  let reach = 0;
  let rate = 0;
  if (pour >= 0) {
    const jet = c.pours[pour]!;
    reach = Math.max(0, jet.mixingDepth - headDepth);
    rate = c.jetExchange * jet.power;
  }
  let handReach = 0;
  let handRate = 0;
  let wholeBed = false;
  if (action >= 0) {
    const hand = c.actions[action]!;
    wholeBed = hand.depthShare >= 1;
    handReach = hand.depthShare * s.bedDepth;
    let liquid = 0;
    for (let i = 1; i < s.nodes; i++) liquid += water[i]!;
    handRate = hand.rate * liquid;
  }
  const cover = headCover(water[0]!);
  for (let p = 0; p < s.paths; p++) {
    const share = c.bed.paths[p]!.share;
    const top = p * s.cells + 1;
    let depth = 0;
    let wet = cover;
    for (let i = top; i < top + s.cells; i++) {
      const dz = s.thickness[i]!;
      const here = fullness(c, s, i);
      const from = i === top ? 0 : depth - dz / 2;
      const to = depth + dz / 2;
      const jet = rate * fadingBetween(from, to, reach);
      const hand = handRate * (wholeBed ? handReach / (to - from) : fadingBetween(from, to, handReach));
      const spread = i === top ? 0 : s.enters[i]! * Math.max(CENTRAL, c.bed.dispersivity / dz - 0.5);
      s.mixed[i] = dt * wet * here * share * (jet + hand) + spread;
      depth += dz;
      wet = here;
    }
  }
}

/**
 * Exchange between two depths over the turnover of a layer: mixing that falls off with depth, to e⁻² at `reach`, and is 1
 * in the mean. Its resistance is summed along the way, so that it is the same on every grid.
 */
function fadingBetween(from: number, to: number, reach: number): number {
  const fall = 2 / reach;
  if (!(reach > 0) || fall * from > GONE) return 0;
  return 4 / (Math.exp(fall * to) - Math.exp(fall * from));
}

/** How far a cell's pores are filled beyond what it keeps, 0–1; a draining cell no longer mixes freely. */
function fullness(c: BrewCase, s: State, i: number): number {
  return Math.min(1, s.now.water[i]! / (s.full[i]! * c.bed.residualSaturation));
}
