import { celsius, ZERO_CELSIUS } from '../units/index.ts';
import type { BrewCase } from './case.ts';
import { type FlowInput, headHeight, LIQUID_DENSITY } from './flow.ts';
import { volumeBelow } from './geometry.ts';
import { type HeatInput, LIQUID_HEAT_CAPACITY } from './heat.ts';
import type { Recorder } from './recorder.ts';
import type { State } from './state.ts';
import { surfaceLoss } from './surface.ts';

/** Evaporation [kg] and sensible coefficient of the free surface for one step, at the temperatures before. */
export function setSurface(
  c: BrewCase,
  s: State,
  dt: number,
  loss: Float64Array,
  flow: FlowInput,
  heat: HeatInput,
): void {
  const factor = c.air.surfaceFactor;
  if (factor === 0) {
    flow.evaporated = 0;
    heat.surface = 0;
    return;
  }
  const headed = s.water[0]! > 1e-4;
  const surface = (headed ? s.temperature[0]! : s.temperature[1]!) + ZERO_CELSIUS;
  const radius = s.bedTopRadius + c.vessel.slope * headHeight(c, s, s.water[0]!);
  surfaceLoss(surface, c.air.temperature, c.air.pressure, c.air.vapourPressure, 2 * radius, loss);
  const area = Math.PI * radius * radius * factor;
  const topCell = s.water[1]! / (s.poreVolume[1]! * LIQUID_DENSITY);
  const wet = headed ? 1 : topCell / (topCell + 0.1);
  flow.evaporated = Math.min(loss[0]! * area * dt * wet, 0.05 * (s.water[0]! + s.water[1]!));
  heat.surface = loss[1]! * area;
}

/** Gas leaves a cell once it is wet, first order and exact over the step. */
export function releaseGas(c: BrewCase, s: State, dt: number): void {
  for (let i = 1; i < s.nodes; i++) {
    const wet = s.absorbMax > 0 ? Math.min(1, (2 * s.absorbed[i]!) / s.absorbMax) : 1;
    s.gas[i]! *= Math.exp((-dt / c.gas.releaseTime) * wet);
  }
}

/** What stands above the rim runs over and is lost, with its heat and solutes. */
export function spill(c: BrewCase, s: State): void {
  const room = (volumeBelow(c.vessel, c.vessel.height) - volumeBelow(c.vessel, s.bedDepth)) * LIQUID_DENSITY;
  const over = s.water[0]! - Math.max(0, room);
  if (over <= 0) return;
  const kept = 1 - over / s.water[0]!;
  s.water[0]! -= over;
  s.totals.spilled += over;
  s.totals.heatSpilled += LIQUID_HEAT_CAPACITY * over * s.temperature[0]!;
  for (let q = 0; q < s.solutes; q++) s.totals.spilledSolute[q]! += over * s.ratio[q * s.nodes]!;
  for (let p = 0; p < s.tags; p++) s.tag[p * s.nodes]! *= kept;
}

/** Bypass water goes straight to the server when the brew is done. */
export function addBypass(c: BrewCase, s: State, recorder: Recorder): void {
  const { mass, temperature } = c.bypass!;
  const t = s.totals;
  const held = c.server.heatCapacity + LIQUID_HEAT_CAPACITY * t.served;
  const added = LIQUID_HEAT_CAPACITY * mass;
  const T = celsius(temperature);
  t.serverTemperature = (held * t.serverTemperature + added * T) / (held + added);
  t.served += mass;
  t.bypass += mass;
  t.heatIn += added * T;
  recorder.amendLast();
}
