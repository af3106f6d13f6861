import type { BrewCase, CasePour } from '../case.ts';
import { LIQUID_DENSITY } from '../liquid.ts';
import { type Column, poreTime, saturatedColumn } from './column.ts';

/** Warmth of the pulse [K]: too little to change viscosity. */
const WARMER = 0.1;
const BASE = 363.15;

/** Mode 5: a short warm stretch in a steady flow through grains that hold no heat and give nothing off. */
export interface Pulse {
  case: BrewCase;
  /** Time of one pore volume [s]. */
  poreTime: number;
  /** Moment at which the pulse enters [s], and how long it lasts. */
  enters: number;
  lasts: number;
  /** Time that the liquid over the bed takes to pass [s]: it is well mixed. */
  headTime: number;
}

/** A pulse through a column of `cells`, spread by `dispersivity` [m]. Heat is the tracer: it rides on the liquid alone. */
export function pulse(cells: number, dispersivity: number, step = 1 / 64): Pulse {
  const column: Column = {
    radius: 0.025,
    depth: 0.03,
    porosity: 0.4,
    flow: 1e-3 * Math.PI * 0.025 ** 2,
    temperature: BASE,
    rest: 0,
    wash: 60,
    diameter: 800e-6,
    dispersivity,
    solutes: [],
    cells,
    bins: 1,
    step,
  };
  const passing = poreTime(column);
  const enters = 2;
  const lasts = 1;
  const steady = saturatedColumn(column);
  const wash = steady.pours[0]!;
  const part = (id: string, start: number, end: number, warmer: number): CasePour => ({
    ...wash,
    id,
    start,
    end,
    temperature: BASE + warmer,
  });
  return {
    case: {
      ...steady,
      grains: { ...steady.grains, heatCapacity: 0 },
      pours: [
        part('before', 0, enters, 0),
        part('pulse', enters, enters + lasts, WARMER),
        part('after', enters + lasts, wash.end, 0),
      ],
    },
    poreTime: passing,
    enters,
    lasts,
    headTime: steady.initial!.head / (column.flow * LIQUID_DENSITY),
  };
}

/** Moments of what leaves. */
export interface PulseMoments {
  /** Warmth that left over warmth that entered. */
  recovered: number;
  /** Mean time between entering and leaving [s]. */
  mean: number;
  /** Variance of that time [s²], without the length of the pulse itself. */
  variance: number;
}

/** Reads the moments of a pulse from the trace of its run; records lie at the ends of the steps they stand for. */
export function pulseMoments(p: Pulse, trace: { time_s: Float64Array; drip_C: Float64Array }): PulseMoments {
  let mass = 0;
  let first = 0;
  let second = 0;
  for (let i = 1; i < trace.time_s.length; i++) {
    const dt = trace.time_s[i]! - trace.time_s[i - 1]!;
    const t = (trace.time_s[i]! + trace.time_s[i - 1]!) / 2;
    const warm = warmthAt(trace.drip_C, i) * dt;
    mass += warm;
    first += warm * t;
    second += warm * t * t;
  }
  const centre = first / mass;
  return {
    recovered: mass / (WARMER * p.lasts),
    mean: centre - (p.enters + p.lasts / 2),
    variance: second / mass - centre * centre - p.lasts ** 2 / 12,
  };
}

/** Warmth of the drip between two records [K]: their mean. */
function warmthAt(drip: Float64Array, i: number): number {
  const at = (k: number) => (Number.isFinite(drip[k]!) ? drip[k]! + 273.15 - BASE : 0);
  return (at(i) + at(i - 1)) / 2;
}
