import { celsius, ZERO_CELSIUS } from '../units/index.ts';
import { type Amounts, LEDGER } from './amounts.ts';
import type { BrewCase } from './case.ts';
import { type FlowInput, headHeight } from './flow.ts';
import type { HeatInput } from './heat.ts';
import { LIQUID_HEAT_CAPACITY } from './liquid.ts';
import type { Recorder } from './recorder.ts';
import type { State } from './state.ts';
import { surfaceLoss } from './surface.ts';

const loss = new Float64Array(2);

/** Evaporation [kg] and sensible coefficient of the free surface for one stage, at the expected levels. */
export function setSurface(c: BrewCase, s: State, dt: number, flow: FlowInput, heat: HeatInput): void {
  const factor = c.air.surfaceFactor;
  if (factor === 0) {
    flow.evaporated = 0;
    heat.surface = 0;
    return;
  }
  const { water, temperature } = s.guess;
  const headed = water[0]! > 1e-4;
  const surface = (headed ? temperature[0]! : temperature[1]!) + ZERO_CELSIUS;
  const radius = s.bedTopRadius + c.vessel.slope * headHeight(c, s, water[0]!);
  surfaceLoss(surface, c.air.temperature, c.air.pressure, c.air.vapourPressure, 2 * radius, loss);
  const area = Math.PI * radius * radius * factor;
  const topCell = water[1]! / s.full[1]!;
  const wet = headed ? 1 : topCell / (topCell + 0.1);
  flow.evaporated = Math.min(loss[0]! * area * dt * wet, 0.05 * (water[0]! + water[1]!));
  heat.surface = loss[1]! * area;
}

/** Gas leaves a cell once it is wet, first order. */
export function releaseGas(c: BrewCase, s: State, from: Amounts, dt: number): void {
  for (let i = 1; i < s.nodes; i++) {
    const wet = s.absorbMax[i]! > 0 ? Math.min(1, (2 * s.now.absorbed[i]!) / s.absorbMax[i]!) : 1;
    s.now.gas[i] = from.gas[i]! / (1 + (dt / c.gas.releaseTime) * wet);
  }
}

/** What stands above the rim runs over and is lost, with its heat and solutes. */
export function spill(s: State): void {
  const { now, levels } = s;
  const over = now.water[0]! - s.headRoom;
  if (over <= 0) return;
  const kept = 1 - over / now.water[0]!;
  const heat = LIQUID_HEAT_CAPACITY * over * levels.temperature[0]!;
  now.water[0]! -= over;
  now.heat[0]! -= heat;
  levels.water[0] = now.water[0]!;
  now.ledger[LEDGER.spilled]! += over;
  now.ledger[LEDGER.heatSpilled]! += heat;
  for (let q = 0; q < s.solutes; q++) {
    const lost = now.dissolved[q * s.nodes]! * (1 - kept);
    now.dissolved[q * s.nodes]! -= lost;
    now.spilled[q]! += lost;
  }
  for (let t = 0; t < s.tags; t++) now.tag[t * s.nodes]! *= kept;
}

/** Bypass water goes straight to the server when the brew is done. */
export function addBypass(c: BrewCase, s: State, recorder: Recorder): void {
  const { mass, temperature } = c.bypass!;
  const { ledger } = s.now;
  const added = LIQUID_HEAT_CAPACITY * mass * celsius(temperature);
  ledger[LEDGER.serverHeat]! += added;
  ledger[LEDGER.heatIn]! += added;
  ledger[LEDGER.served]! += mass;
  recorder.amendLast();
}
