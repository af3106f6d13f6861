import { LEDGER } from './amounts.ts';
import type { BrewCase } from './case.ts';
import { enthalpyOf } from './heat.ts';
import { soluteHeld } from './solute-step.ts';
import { poolsOf, type State, stockOf } from './state.ts';

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
export function inventory(s: State): Inventory {
  const { water, absorbed } = s.now;
  let held = 0;
  for (let i = 0; i < s.nodes; i++) held += water[i]! + absorbed[i]!;
  const solutes = new Float64Array(s.solutes);
  for (let q = 0; q < s.solutes; q++) solutes[q] = soluteHeld(s, q);
  return { water: held, enthalpy: enthalpyOf(s), solutes };
}

/**
 * Relative closures: what went in and was there, against what came out and is there. Bypass water is served without
 * having been poured.
 */
export function closeBalances(s: State, initial: Inventory, bypass: number): RunClosure {
  const closure: RunClosure = { water: 0, solutes: new Float64Array(s.solutes), enthalpy: 0 };
  const now = inventory(s);
  const { ledger, served, spilled } = s.now;
  const waterIn = initial.water + ledger[LEDGER.poured]! + bypass;
  const waterOut = ledger[LEDGER.served]! + ledger[LEDGER.evaporated]! + ledger[LEDGER.spilled]!;
  closure.water = Math.abs(waterIn - now.water - waterOut) / waterIn;
  const heatIn = ledger[LEDGER.heatIn]!;
  const heatOut = ledger[LEDGER.heatOut]!;
  const scale = Math.abs(initial.enthalpy) + Math.abs(heatIn) + Math.abs(heatOut) + 1e-9;
  closure.enthalpy =
    Math.abs(initial.enthalpy + heatIn - now.enthalpy - heatOut - ledger[LEDGER.heatSpilled]!) / scale;
  for (let q = 0; q < s.solutes; q++) {
    const total = initial.solutes[q]!;
    const out = now.solutes[q]! + served[q]! + spilled[q]!;
    closure.solutes[q] = total > 0 ? Math.abs(total - out) / total : 0;
  }
  return closure;
}

/** Solids that the grains have given since the start, all solutes together, by cell and by pool [kg]: what was there less what is. */
export function releasedOf(c: BrewCase, s: State): { cell: Float64Array; pool: Float64Array } {
  const cell = new Float64Array(s.nodes - 1);
  const pool = new Float64Array(s.pools);
  for (let q = 0; q < s.solutes; q++)
    for (let i = 1; i < s.nodes; i++) {
      const stock = stockOf(c, s, q, i);
      const at = poolsOf(s, q, i);
      for (let e = 0; e < s.pools; e++) {
        const gone = stock * s.poolShare[e]! - s.now.pool[at + e]!;
        cell[i - 1]! += gone;
        pool[e]! += gone;
      }
    }
  return { cell, pool };
}
