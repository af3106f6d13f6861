import type { BrewCase } from '../case.ts';
import { compileCase } from '../compile.ts';
import { defaultParameters } from '../parameters.ts';
import { fixedSteps } from '../reduced/read.ts';
import { runCase } from '../run.ts';
import { serverTemperature } from '../state.ts';
import { demoBundle } from './demo-bundle.ts';

/** Liquid over the bed at the start [kg], and how long it is watched [s]: some of it is still there at the end. */
const HEAD = 0.2;
const SPAN = 24;

/**
 * A stretch without kinks that uses every part of the engine: the demo's bed, soaked and full under a head, drains
 * through its paper with all solutes, gas, wall, free surface and server, in steps of one length [s].
 */
export function smoothDrain(cells: number, step: number): BrewCase {
  const c = compileCase(demoBundle(), defaultParameters(), 'standard');
  return {
    ...c,
    vessel: { ...c.vessel, height: 1 },
    pours: [],
    actions: [],
    outletOpens: 0,
    lift: SPAN,
    horizon: SPAN,
    bypass: null,
    initial: { saturation: 1, absorbed: 1, head: HEAD, temperature: 365 },
    numerics: fixedSteps(cells, c.numerics.bins, step),
  };
}

/** What {@link drained} tells. */
export interface Drained {
  /** Water in the server [kg]. */
  served: number;
  /** Solids in the server [kg]. */
  solids: number;
  /** [°C] */
  server: number;
  /** Mean of the bed [°C]. */
  bed: number;
  /** Tries that failed; 0 when every step had the length that was asked for. */
  rejected: number;
  /** Head left at the end [kg]. */
  head: number;
}

/** Runs it and reads what it left. */
export function drained(c: BrewCase): Drained {
  const run = runCase(c);
  const { now, levels, nodes } = run.state;
  return {
    served: now.ledger[1]!,
    solids: now.served.reduce((sum, mass) => sum + mass, 0),
    server: serverTemperature(c, run.state),
    bed: levels.temperature.subarray(1).reduce((sum, T) => sum + T, 0) / (nodes - 1),
    rejected: run.rejected,
    head: now.water[0]!,
  };
}
