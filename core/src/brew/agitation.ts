import type { BrewCase } from './case.ts';
import { headCover, headHeight, LIQUID_DENSITY } from './flow.ts';
import type { State } from './state.ts';

/**
 * Sets the masses exchanged between neighbouring nodes in this step [kg], both ways at once: turbulence of the jet,
 * stirring or swirling, and longitudinal dispersion by the flow.
 *
 * A jet that reaches `mixingDepth` below the liquid surface turns over the layer it reaches, jetExchange·power in kg/s;
 * a hand turns over its layer at its rate. Mixing inside a layer is like a diffusivity, turnover × depth, so the exchange
 * between neighbours is that over their distance, whatever the grid, and fades in the cell where the depth ends. Dispersion adds
 * flux·(α − Δz/2)/Δz: the upwind scheme itself spreads like α = Δz/2, so the sum is α on any grid that resolves it.
 *
 * @param pour index of the pour that runs, −1 for none
 * @param action index of the stir or swirl that runs, −1 for none
 */
export function setExchange(c: BrewCase, s: State, dt: number, pour: number, action: number): void {
  const n = s.nodes;
  const headDepth = headHeight(c, s, s.waterBefore[0]!);
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
    for (let i = 0; i < n; i++) liquid += s.water[i]!;
    handRate = hand.rate * liquid;
  }
  let depth = 0;
  for (let i = 0; i < n - 1; i++) {
    const dz = s.thickness[i + 1]!;
    const wet = i === 0 ? headCover(s.water[0]!) : fullness(c, s, i);
    const open = wet * fullness(c, s, i + 1);
    const jetShare = Math.min(1, Math.max(0, (reach - depth) / dz));
    const handShare = Math.min(1, Math.max(0, (handReach - depth) / dz));
    const spread = i === 0 ? 0 : s.down[i]! * Math.max(0, c.bed.dispersivity / dz - 0.5);
    const mixing = (rate * jetShare * reach + handRate * handShare * handReach) / dz;
    s.exchange[i] = dt * open * mixing + spread;
    depth += dz;
  }
}

/** How far a cell's pores are filled beyond what it keeps, 0–1; a draining cell no longer mixes freely. */
function fullness(c: BrewCase, s: State, i: number): number {
  const saturation = s.water[i]! / (s.poreVolume[i]! * LIQUID_DENSITY);
  return Math.min(1, saturation / c.bed.residualSaturation);
}
