import { compileLinePattern, feedLines, type LineState, type SerialLine, startLines } from '@pourline/core';
import type { BytePort } from './byte-port.ts';

/** What is known of the line that is listened to. */
export interface LiveState {
  readonly listening: boolean;
  /** Seconds since the first reading, or since the start was set. */
  readonly elapsed_s: number;
  readonly mass_g: number | null;
  readonly temperature_C: number | null;
  readonly stable: boolean | null;
  readonly rows: number;
  readonly missed: number;
  readonly last_missed: string;
  /** The last lines as they came, for a proposal of a pattern. */
  readonly lines: readonly string[];
  readonly failure: string | null;
}

export interface LiveStore {
  get(): LiveState;
  subscribe(listener: () => void): () => void;
  listen(port: BytePort, line: SerialLine): Promise<void>;
  /** Counts time from now. */
  zero(): void;
  stop(): Promise<void>;
  /** Everything read so far as a table with times; empty when nothing was. */
  table(): string;
  forget(): void;
}

const QUIET: LiveState = {
  listening: false,
  elapsed_s: 0,
  mass_g: null,
  temperature_C: null,
  stable: null,
  rows: 0,
  missed: 0,
  last_missed: '',
  lines: [],
  failure: null,
};
const KEY = 'pourline.trials-live';
/** What was read is written down this often, so that a reload loses no more [ms]. */
const WRITE_ms = 2_000;
const SHOWN_LINES = 12;
const HEAD = 'time_s,mass_g,temperature_C';

/** Listens to one port at a time and keeps every reading; `now` gives seconds of any clock that does not jump. */
export function makeLive(now: () => number = () => performance.now() / 1000): LiveStore {
  const listeners = new Set<() => void>();
  let state: LiveState = QUIET;
  let rows: string[] = [];
  let origin: number | null = null;
  let port: BytePort | null = null;
  let reader: ReadableStreamDefaultReader<Uint8Array> | null = null;
  let written = 0;
  const set = (part: Partial<LiveState>): void => {
    state = { ...state, ...part };
    for (const tell of listeners) tell();
  };
  const table = (): string => (rows.length > 0 ? `${HEAD}\n${rows.join('\n')}\n` : '');
  const writeDown = (force: boolean): void => {
    if (!force && now() * 1000 - written < WRITE_ms) return;
    written = now() * 1000;
    try {
      sessionStorage.setItem(KEY, table());
    } catch {
      // Without room it lives in memory alone.
    }
  };
  const take = (fed: ReturnType<typeof feedLines>, raw: string): LineState => {
    const at = now();
    let { mass_g, temperature_C, stable } = state;
    for (const reading of fed.readings) {
      origin ??= at;
      if (reading.of === 'temperature') temperature_C = reading.value;
      else mass_g = reading.value;
      stable = reading.stable;
      const mass = reading.of === 'temperature' ? '' : reading.value.toFixed(3);
      const temperature = reading.of === 'temperature' ? reading.value.toFixed(2) : '';
      rows.push(`${(at - origin).toFixed(3)},${mass},${temperature}`);
    }
    const lines = [...state.lines, ...raw.split(/[\r\n]+/).filter((line) => line.trim() !== '')];
    set({
      elapsed_s: origin === null ? 0 : at - origin,
      mass_g,
      temperature_C,
      stable,
      rows: rows.length,
      missed: fed.state.missed,
      last_missed: fed.state.last_missed,
      lines: lines.slice(-SHOWN_LINES),
    });
    writeDown(false);
    return fed.state;
  };
  const stop = async (): Promise<void> => {
    const [mine, from] = [reader, port];
    reader = null;
    port = null;
    await mine?.cancel().catch(() => undefined);
    await from?.close().catch(() => undefined);
    writeDown(true);
    set({ listening: false });
  };
  return {
    get: () => state,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    async listen(source, line) {
      await stop();
      const compiled = compileLinePattern(line.pattern);
      if (!compiled.ok) return set({ failure: compiled.problems.map(({ sentence }) => sentence).join(' ') });
      let lines = startLines(compiled.value, line.unit);
      port = source;
      const mine = source.readable.getReader();
      reader = mine;
      set({ ...QUIET, listening: true, rows: rows.length });
      if (line.ask !== '') await source.write?.(line.ask);
      try {
        for (;;) {
          const { value, done } = await mine.read();
          if (done || reader !== mine) break;
          lines = take(feedLines(lines, value, now()), new TextDecoder('latin1').decode(value));
        }
        if (reader === mine) await stop();
      } catch (reason) {
        if (reader !== mine) return;
        await stop();
        set({ failure: reason instanceof Error ? reason.message : String(reason) });
      }
    },
    zero() {
      rows = [];
      origin = null;
      set({ rows: 0, elapsed_s: 0 });
    },
    stop,
    table,
    forget() {
      rows = [];
      origin = null;
      sessionStorage.removeItem(KEY);
      set({ ...QUIET, listening: state.listening });
    },
  };
}

/** A table that a page left behind when it went away in the middle of a recording; null when there is none. */
export function leftBehind(): string | null {
  try {
    const text = sessionStorage.getItem(KEY);
    return text && text.split('\n').length > 3 ? text : null;
  } catch {
    return null;
  }
}
