import type { BrewCase } from './case.ts';
import { headCover, headHeight } from './flow.ts';
import type { State } from './state.ts';

/**
 * Least share of the flow that dispersion may take back from the upwind scheme. At −½ the scheme is central, which swings
 * where a front is sharper than a cell; a little less keeps it from that.
 */
const CENTRAL = -0.4;

/**
 * Sets the masses exchanged through each face in this stage [kg], both ways at once: turbulence of the jet, stirring or
 * swirling, and longitudinal dispersion by the flow.
 *
 * A jet that reaches `mixingDepth` below the liquid surface turns over the layer it reaches, jetExchange·power in kg/s;
 * a hand turns over the liquid of the bed at its rate. Mixing inside a layer is like a diffusivity, turnover × depth, so the exchange
 * between neighbours is that over their distance, whatever the grid, and fades in the cell where the depth ends. Dispersion
 * adds flux·(α/Δz − ½): the upwind scheme itself spreads like α = Δz/2, so the sum is α.
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
  if (action >= 0) {
    const hand = c.actions[action]!;
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
      const way = i === top ? dz / 2 : dz;
      const middle = i === top ? dz / 4 : depth;
      const mixing =
        (share * (rate * reach * fade(middle, reach) + handRate * handReach * fade(middle, handReach))) / way;
      const spread = i === top ? 0 : s.enters[i]! * Math.max(CENTRAL, c.bed.dispersivity / dz - 0.5);
      s.mixed[i] = dt * wet * here * mixing + spread;
      depth += dz;
      wet = here;
    }
  }
}

/** How much of a turnover is left at a depth: all of it down to half the reach, then less and less. */
const fade = (depth: number, reach: number): number =>
  reach > 0 ? (4 / 3) * Math.min(1, Math.max(0, 2 * (1 - depth / reach))) : 0;

/** How far a cell's pores are filled beyond what it keeps, 0–1; a draining cell no longer mixes freely. */
function fullness(c: BrewCase, s: State, i: number): number {
  return Math.min(1, s.now.water[i]! / (s.full[i]! * c.bed.residualSaturation));
}
