import type { BrewCase } from './case.ts';
import { enthalpyOf } from './heat.ts';
import { soluteHeld } from './solute-step.ts';
import type { State } from './state.ts';

/** Relative closures of a finished run. */
export interface RunClosure {
  water: number;
  solutes: Float64Array;
  enthalpy: number;
}

/** What a run holds outside the server [kg, J]. */
export interface Inventory {
  water: number;
  enthalpy: number;
  solutes: Float64Array;
}

/** Takes stock of a state. */
export function inventory(c: BrewCase, s: State): Inventory {
  let water = 0;
  for (let i = 0; i < s.nodes; i++) water += s.water[i]! + s.absorbed[i]!;
  const solutes = new Float64Array(s.solutes);
  for (let q = 0; q < s.solutes; q++) solutes[q] = soluteHeld(s, q);
  return { water, enthalpy: enthalpyOf(c, s), solutes };
}

/** Relative closures: what went in and was there, against what came out and is there. */
export function closeBalances(c: BrewCase, s: State, initial: Inventory): RunClosure {
  const closure: RunClosure = { water: 0, solutes: new Float64Array(s.solutes), enthalpy: 0 };
  const now = inventory(c, s);
  const t = s.totals;
  const waterIn = initial.water + t.poured + t.bypass;
  closure.water = Math.abs(waterIn - now.water - t.served - t.evaporated - t.spilled) / waterIn;
  const heatIn = initial.enthalpy + t.heatIn;
  const scale = Math.abs(initial.enthalpy) + Math.abs(t.heatIn) + Math.abs(t.heatOut) + 1e-9;
  closure.enthalpy = Math.abs(heatIn - now.enthalpy - t.heatOut - t.heatSpilled) / scale;
  for (let q = 0; q < s.solutes; q++) {
    const total = initial.solutes[q]!;
    const out = now.solutes[q]! + t.servedSolute[q]! + t.spilledSolute[q]!;
    closure.solutes[q] = total > 0 ? Math.abs(total - out) / total : 0;
  }
  return closure;
}
