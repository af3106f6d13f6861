import type { BrewCase } from './case.ts';
import { HEAD_SEEN, headHeight, LIQUID_DENSITY } from './flow.ts';
import type { Trace } from './result.ts';
import type { State } from './state.ts';

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
    this.#rows = new Float64Array(this.#width * 512);
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
    const t = s.totals;
    const rows = this.#rows;
    const put = (name: Scalar, value: number) => {
      rows[at + SCALARS.indexOf(name)] = value;
    };
    let pour = -1;
    for (let p = 0; p < c.pours.length; p++)
      if (time > c.pours[p]!.start - 1e-9 && time <= c.pours[p]!.end + 1e-9) pour = p;
    let held = 0;
    let gas = 0;
    for (let i = 1; i < s.nodes; i++) {
      held += s.water[i]! + s.absorbed[i]!;
      gas += s.gas[i]!;
    }
    const dripping = t.dripFlow > 1e-7 && dt > 0;
    put('time_s', time);
    put('pour_g_s', pour >= 0 ? c.pours[pour]!.flow * 1e3 : 0);
    put('poured_g', t.poured * 1e3);
    put('head_mm', headHeight(c, s, s.water[0]!) * 1e3);
    put('head_g', s.water[0]! * 1e3);
    put('drip_g_s', dripping ? t.dripFlow * 1e3 : 0);
    put('held_g', held * 1e3);
    put('drip_strength_pct', dripping ? (t.dripRatio / (1 + t.dripRatio)) * 100 : Number.NaN);
    put('stream_C', pour >= 0 ? c.pours[pour]!.temperature - 273.15 : Number.NaN);
    put('head_C', s.water[0]! > HEAD_SEEN ? s.temperature[0]! : Number.NaN);
    put('bed_top_C', s.temperature[1]!);
    put('bed_middle_C', s.temperature[Math.ceil(s.cells / 2)]!);
    put('bed_bottom_C', s.temperature[s.cells]!);
    put('drip_C', dripping ? t.dripTemperature : Number.NaN);
    put('wall_C', c.wall.heatCapacity > 0 ? t.wallTemperature : Number.NaN);
    put('gas_mg', gas * 1e6);
    this.#writeServer(at);
    let k = at + SCALARS.length;
    for (let i = 1; i < s.nodes; i++) rows[k++] = s.temperature[i]!;
    for (let i = 1; i < s.nodes; i++)
      rows[k++] = Math.min(1, s.water[i]! / (s.poreVolume[i]! * LIQUID_DENSITY));
    for (let q = 0; q < s.solutes; q++) rows[k++] = dt > 0 ? (t.releasedSolute[q]! / dt) * 1e6 : 0;
    for (let q = 0; q < s.solutes; q++) rows[k++] = t.servedSolute[q]! * 1e6;
  }

  #writeServer(at: number): void {
    const s = this.#state;
    const t = s.totals;
    let solids = 0;
    for (let q = 0; q < s.solutes; q++) solids += t.servedSolute[q]!;
    const beverage = t.served + solids;
    const put = (name: Scalar, value: number) => {
      this.#rows[at + SCALARS.indexOf(name)] = value;
    };
    put('beverage_g', beverage * 1e3);
    put('strength_pct', beverage > 0 ? (solids / beverage) * 100 : 0);
    put('yield_pct', (solids / this.#case.dose) * 100);
    put('server_C', t.serverTemperature);
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
