import { ZERO_CELSIUS } from '../units/index.ts';
import { LEDGER } from './amounts.ts';
import { type BrewCase, type CasePour, streamAt } from './case.ts';
import { HEAD_SEEN, headHeight } from './flow.ts';
import type { Trace } from './result.ts';
import { heldWater, type State, serverTemperature, wallTemperature } from './state.ts';
import { LAYERS, layerTemperature } from './watch.ts';

/** Scalars of one record, in this order. */
const SCALARS = [
  'time_s',
  'pour_g_s',
  'poured_g',
  'head_mm',
  'head_g',
  'drip_g_s',
  'beverage_g',
  'held_g',
  'strength_pct',
  'drip_strength_pct',
  'yield_pct',
  'stream_C',
  'head_C',
  'bed_top_C',
  'bed_middle_C',
  'bed_bottom_C',
  'drip_C',
  'wall_C',
  'server_C',
  'gas_mg',
] as const;

type Scalar = (typeof SCALARS)[number];
/** Place of each scalar in a record. */
const AT = Object.fromEntries(SCALARS.map((name, k) => [name, k])) as Record<Scalar, number>;

/**
 * Collects the trace of a run. Rows grow by doubling, so recording allocates a handful of times per run and never per
 * step. This is the border where SI becomes the units people read.
 */
export class Recorder {
  readonly #case: BrewCase;
  readonly #state: State;
  readonly #width: number;
  #rows: Float64Array;
  #count = 0;

  constructor(c: BrewCase, s: State) {
    this.#case = c;
    this.#state = s;
    this.#width = SCALARS.length + 2 * s.cells + 2 * s.solutes;
    this.#rows = new Float64Array(this.#width * 192);
  }

  /** Number of records. */
  get length(): number {
    return this.#count;
  }

  /** Adds a record of the state as it stands; `dt` is the last step [s], 0 at the start. */
  record(time: number, dt: number): void {
    const width = this.#width;
    if ((this.#count + 1) * width > this.#rows.length) {
      const larger = new Float64Array(this.#rows.length * 2);
      larger.set(this.#rows);
      this.#rows = larger;
    }
    this.#write(this.#count * width, time, dt);
    this.#count++;
  }

  /** Writes the server's figures of the last record again, after water was added to it. */
  amendLast(): void {
    const at = (this.#count - 1) * this.#width;
    this.#writeServer(at);
  }

  #write(at: number, time: number, dt: number): void {
    const c = this.#case;
    const s = this.#state;
    const { water, ledger, gas, released, served } = s.now;
    const { temperature } = s.levels;
    const rows = this.#rows;
    const pour = pourAt(c, time);
    let gasLeft = 0;
    for (let i = 1; i < s.nodes; i++) gasLeft += gas[i]!;
    const dripping = s.drip.flow > 1e-7 && dt > 0;
    rows[at + AT.time_s] = time;
    rows[at + AT.pour_g_s] = pour ? pour.flow * 1e3 : 0;
    rows[at + AT.poured_g] = ledger[LEDGER.poured]! * 1e3;
    rows[at + AT.head_mm] = headHeight(c, s, water[0]!) * 1e3;
    rows[at + AT.head_g] = water[0]! * 1e3;
    rows[at + AT.drip_g_s] = dripping ? s.drip.flow * 1e3 : 0;
    rows[at + AT.held_g] = heldWater(s) * 1e3;
    rows[at + AT.drip_strength_pct] = dripping ? (s.drip.ratio / (1 + s.drip.ratio)) * 100 : Number.NaN;
    rows[at + AT.stream_C] = pour ? streamAt(pour, time) - ZERO_CELSIUS : Number.NaN;
    rows[at + AT.head_C] = water[0]! > HEAD_SEEN ? temperature[0]! : Number.NaN;
    rows[at + AT.drip_C] = dripping ? s.drip.temperature : Number.NaN;
    rows[at + AT.wall_C] = wallTemperature(c, s);
    rows[at + AT.gas_mg] = gasLeft * 1e6;
    this.#writeServer(at);
    const beds = at + SCALARS.length;
    this.#writeBed(beds);
    rows[at + AT.bed_top_C] = layerTemperature(c, s, 0, false);
    rows[at + AT.bed_middle_C] = (layerTemperature(c, s, 1, false) + layerTemperature(c, s, 2, false)) / 2;
    rows[at + AT.bed_bottom_C] = layerTemperature(c, s, LAYERS - 1, false);
    let k = beds + 2 * s.cells;
    for (let q = 0; q < s.solutes; q++)
      rows[k++] = dt > 0 ? ((released[q]! - s.begin.released[q]!) / dt) * 1e6 : 0;
    for (let q = 0; q < s.solutes; q++) rows[k++] = served[q]! * 1e6;
  }

  /** Temperature and saturation by depth, mean over the paths. */
  #writeBed(at: number): void {
    const s = this.#state;
    const rows = this.#rows;
    for (let k = 0; k < s.cells; k++) {
      let T = 0;
      let filled = 0;
      for (let p = 0; p < s.paths; p++) {
        const { share } = this.#case.bed.paths[p]!;
        const i = p * s.cells + k + 1;
        T += share * s.levels.temperature[i]!;
        filled += share * Math.min(1, s.now.water[i]! / s.full[i]!);
      }
      rows[at + k] = T;
      rows[at + s.cells + k] = filled;
    }
  }

  #writeServer(at: number): void {
    const c = this.#case;
    const s = this.#state;
    const rows = this.#rows;
    let solids = 0;
    for (let q = 0; q < s.solutes; q++) solids += s.now.served[q]!;
    const beverage = s.now.ledger[LEDGER.served]! + solids;
    rows[at + AT.beverage_g] = beverage * 1e3;
    rows[at + AT.strength_pct] = beverage > 0 ? (solids / beverage) * 100 : 0;
    rows[at + AT.yield_pct] = (solids / c.dose) * 100;
    rows[at + AT.server_C] = serverTemperature(c, s);
  }

  /** The trace: one array per quantity. */
  finish(): Trace {
    const s = this.#state;
    const n = this.#count;
    const width = this.#width;
    const rows = this.#rows;
    const column = (index: number) => {
      const values = new Float64Array(n);
      for (let i = 0; i < n; i++) values[i] = rows[i * width + index]!;
      return values;
    };
    const scalars = {} as Record<Scalar, Float64Array>;
    SCALARS.forEach((name, index) => {
      scalars[name] = column(index);
    });
    const block = (from: number, count: number) => {
      const values = new Float64Array(n * count);
      for (let i = 0; i < n; i++)
        values.set(rows.subarray(i * width + from, i * width + from + count), i * count);
      return values;
    };
    const turned = (from: number, count: number) => {
      const values = new Float64Array(n * count);
      for (let q = 0; q < count; q++)
        for (let i = 0; i < n; i++) values[q * n + i] = rows[i * width + from + q]!;
      return values;
    };
    const beds = SCALARS.length;
    return {
      ...scalars,
      bed_C: block(beds, s.cells),
      saturation: block(beds + s.cells, s.cells),
      release_mg_s: turned(beds + 2 * s.cells, s.solutes),
      dissolved_mg: turned(beds + 2 * s.cells + s.solutes, s.solutes),
      cells: s.cells,
    };
  }
}

/** The pour that runs at a moment, its ends included. */
const pourAt = (c: BrewCase, time: number): CasePour | undefined =>
  c.pours.findLast((pour) => time > pour.start - 1e-9 && time <= pour.end + 1e-9);
