import type { MassUnit, TemperatureUnit, TraceUnit } from '../types.ts';
import { inOurUnit, MASS_UNITS, TEMPERATURE_UNITS, unitNamed } from '../units.ts';
import { type LinePattern, matchLine } from './line-pattern.ts';

/** A reading that an instrument printed. */
export interface LineReading {
  /** When it arrived, as the caller's clock says [s]. */
  at_s: number;
  /** Grams for a mass, °C for a temperature, as printed for anything else. */
  value: number;
  of: 'mass' | 'temperature' | 'other';
  /** Null when the line does not say. */
  stable: boolean | null;
  /** Of the instrument's own clock, when the pattern asks for it [s]. */
  own_s: number | null;
}

/** Where the reading of a stream stands: plain data, handed back with every piece. */
export interface LineState {
  pattern: LinePattern;
  /** Unit when a line names none. */
  unit: TraceUnit | null;
  /** The line that has only begun. */
  begun: string;
  /** It has grown too long and is thrown away up to its end. */
  overlong: boolean;
  /** Lines so far: read, and not understood. */
  read: number;
  missed: number;
  /** The last line that was not understood, as far as it can be printed. */
  last_missed: string;
}

/** What came of one piece. */
export interface FedLines {
  state: LineState;
  readings: LineReading[];
}

/** Some balances end a line with it. */
const END_OF_TEXT = String.fromCharCode(3);
/** No instrument prints longer lines. */
const MAX_LINE = 400;
/** A line with more than this share of signs that no text has is noise. */
const NOISE_SHARE = 0.2;

/** Starts to read what an instrument prints. @param unit As in its document; `g` for a balance that names none. */
export function startLines(pattern: LinePattern, unit = ''): LineState {
  return {
    pattern,
    unit: unitNamed(unit),
    begun: '',
    overlong: false,
    read: 0,
    missed: 0,
    last_missed: '',
  };
}

/**
 * Takes the next piece of a stream, cut anywhere: bytes as a port gives them, or text. Lines end with carriage return, line feed or both.
 * Pure: the state goes in and comes out. A line that does not fit, is too long or is noise is counted, never thrown. A line that is only begun waits.
 * @param at_s Moment of the piece on the caller's clock [s]; core has none.
 */
export function feedLines(state: LineState, piece: Uint8Array | string, at_s: number): FedLines {
  const text = state.begun + (typeof piece === 'string' ? piece : textOf(piece));
  const lines = text.replaceAll(END_OF_TEXT, '\n').split(/[\r\n]+/);
  let begun = lines.pop() ?? '';
  const next = { ...state };
  const readings: LineReading[] = [];
  for (const line of lines) {
    if (next.overlong) {
      next.overlong = false;
      continue;
    }
    take(next, line, at_s, readings);
  }
  if (begun.length > MAX_LINE) {
    if (!next.overlong) miss(next, begun);
    next.overlong = true;
    begun = '';
  }
  next.begun = next.overlong ? '' : begun;
  return { state: next, readings };
}

/** Reads the line that has only begun as if it had ended, for an instrument that prints none after it. */
export function flushLines(state: LineState, at_s: number): FedLines {
  return feedLines(state, '\n', at_s);
}

function take(state: LineState, line: string, at_s: number, readings: LineReading[]): void {
  // Control signs (start of text and the like) frame lines and say nothing.
  const plain = withoutControls(line).trim();
  if (plain === '') return;
  const found = line.length > MAX_LINE || noisy(line) ? null : matchLine(state.pattern, plain);
  if (!found) {
    miss(state, plain);
    return;
  }
  const unit = found.unit === '' ? state.unit : (unitNamed(found.unit) ?? null);
  state.read++;
  readings.push({ at_s, ...inUnit(found.value, unit), stable: found.stable, own_s: found.time_s });
}

function miss(state: LineState, line: string): void {
  state.missed++;
  state.last_missed = withoutControls(line).slice(0, 60);
}

const isMass = (unit: TraceUnit): unit is MassUnit => MASS_UNITS.some((known) => known === unit);
const isTemperature = (unit: TraceUnit): unit is TemperatureUnit =>
  TEMPERATURE_UNITS.some((known) => known === unit);

function inUnit(value: number, unit: TraceUnit | null): Pick<LineReading, 'value' | 'of'> {
  if (unit !== null && isMass(unit)) return { value: inOurUnit(value, unit), of: 'mass' };
  if (unit !== null && isTemperature(unit)) return { value: inOurUnit(value, unit), of: 'temperature' };
  return { value, of: 'other' };
}

/** Bytes as text: plain signs as they are, the degree sign of Latin-1 and of UTF-8, everything else as a mark of noise. */
function textOf(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i++) {
    const byte = bytes[i]!;
    if (byte === 0xc2 && bytes[i + 1] === 0xb0) continue;
    text += byte === 0xb0 ? '°' : byte < 0x7f ? String.fromCharCode(byte) : '\uFFFD';
  }
  return text;
}

const isControl = (code: number): boolean => code < 32 || code === 127 || code === 0xfffd;

function withoutControls(line: string): string {
  let text = '';
  for (const sign of line) if (!isControl(sign.codePointAt(0)!) || sign === '\t') text += sign;
  return text;
}

/** More than a frame of two signs, and more than a fifth of the line. */
function noisy(line: string): boolean {
  let odd = 0;
  for (const sign of line) if (isControl(sign.codePointAt(0)!) && sign !== '\t') odd++;
  return odd > 2 && odd > NOISE_SHARE * line.length;
}
