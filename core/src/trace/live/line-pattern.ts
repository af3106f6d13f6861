import { type Checked, type Problem, problem, shown } from '../../documents/index.ts';

/**
 * How a line of an instrument looks, in words of our own. A regular expression typed by a person can take exponential time on one bad line, and pure
 * code has no clock to stop it; these patterns are matched from left to right without going back, in time that grows with the line.
 *
 * - `{number}`: the reading, with sign, point or comma, spaces after the sign
 * - `{unit}`: letters, % or ° right there; none is taken as none
 * - `{time}`: another number, seconds of the instrument's own clock
 * - `{skip}`: anything up to where the next part fits
 * - `{stable:ST}`, `{moving:US}`: a word that says the reading stands still, or does not; several are parted by `|`; the line may have none
 * - a space: spaces, or none; anything else: itself, in capitals or not
 */
export type PatternPart =
  | { is: 'number' | 'unit' | 'time' | 'skip' | 'space' }
  | { is: 'text'; text: string }
  | { is: 'flag'; stable: readonly string[]; moving: readonly string[] };

/** A pattern ready to match. Plain JSON. */
export interface LinePattern {
  /** Empty takes the first number of a line, the unit behind it and the usual words for standing still. */
  parts: readonly PatternPart[];
}

/** What one line says. */
export interface LineMatch {
  value: number;
  /** As printed; empty when the line names none. */
  unit: string;
  /** Null when the line does not say. */
  stable: boolean | null;
  /** Of the instrument's own clock [s]; null when the pattern asks for none. */
  time_s: number | null;
}

const WORDS = ['number', 'unit', 'time', 'skip'] as const;
/** Longest pattern that is taken. */
export const MAX_PATTERN = 200;

/** Reads a pattern, or says what in it is not understood. An empty one is valid. */
export function compileLinePattern(text: string): Checked<LinePattern> {
  const problems: Problem[] = [];
  const bad = (code: string, values: Record<string, string | number>) =>
    problems.push(problem(['pattern'], code, values));
  if (text.length > MAX_PATTERN) bad('too_long', { limit: MAX_PATTERN });
  const parts: PatternPart[] = [];
  for (let at = 0; at < text.length && problems.length === 0; ) {
    const sign = text[at]!;
    if (sign === '{') {
      const end = text.indexOf('}', at);
      if (end < 0) {
        bad('pattern_open', { value: shown(text.slice(at)) });
        break;
      }
      const part = wordOf(text.slice(at + 1, end));
      if (part) addPart(parts, part);
      else bad('pattern_word', { value: shown(text.slice(at, end + 1)) });
      at = end + 1;
    } else {
      addPart(parts, /\s/.test(sign) ? { is: 'space' } : { is: 'text', text: sign.toLowerCase() });
      at++;
    }
  }
  if (problems.length === 0 && parts.length > 0) {
    const numbers = parts.filter(({ is }) => is === 'number').length;
    if (numbers !== 1) bad('pattern_number', { value: numbers });
  }
  return problems.length > 0 ? { ok: false, problems } : { ok: true, value: { parts } };
}

function wordOf(word: string): PatternPart | null {
  const plain = word.trim().toLowerCase();
  const known = WORDS.find((name) => name === plain);
  if (known) return { is: known };
  const flag = /^(stable|moving):(.+)$/.exec(plain);
  if (!flag) return null;
  const words = flag[2]!.split('|').filter((entry) => entry !== '');
  return { is: 'flag', stable: flag[1] === 'stable' ? words : [], moving: flag[1] === 'moving' ? words : [] };
}

/** Adds a part; letters that follow each other are one text, flags that follow each other one choice. */
function addPart(parts: PatternPart[], part: PatternPart): void {
  const last = parts.at(-1);
  if (part.is === 'text' && last?.is === 'text') last.text += part.text;
  else if (part.is === 'flag' && last?.is === 'flag')
    parts[parts.length - 1] = {
      is: 'flag',
      stable: [...last.stable, ...part.stable],
      moving: [...last.moving, ...part.moving],
    };
  else if (!(part.is === 'space' && last?.is === 'space')) parts.push({ ...part });
}

const NUMBER = /[+-]?\s*(?:\d+(?:[.,]\d*)?|[.,]\d+)/y;
const UNIT = /[a-z%°]+(?:\/[a-z0-9]+)?/iy;
const SPACES = /\s*/y;

/** What a line says by a pattern; null when it does not fit. Never goes back, so its time grows with the line alone. */
export function matchLine(pattern: LinePattern, line: string): LineMatch | null {
  return pattern.parts.length === 0 ? matchPlain(line) : matchParts(pattern.parts, line);
}

function matchParts(parts: readonly PatternPart[], line: string): LineMatch | null {
  const found: LineMatch = { value: Number.NaN, unit: '', stable: null, time_s: null };
  let at = 0;
  let skipping = false;
  for (const part of parts) {
    if (part.is === 'skip') {
      skipping = true;
      continue;
    }
    // What may be empty fits at once; only what must be there ends a skip.
    const end = skipping && !optional(part) ? firstFit(part, line, at, found) : fit(part, line, at, found);
    if (end === null) return null;
    if (!optional(part)) skipping = false;
    at = end;
  }
  return Number.isFinite(found.value) ? found : null;
}

const optional = (part: PatternPart): boolean =>
  part.is === 'space' || part.is === 'unit' || part.is === 'flag';

function firstFit(part: PatternPart, line: string, from: number, found: LineMatch): number | null {
  for (let at = from; at < line.length; at++) {
    const end = fit(part, line, at, found);
    if (end !== null) return end;
  }
  return null;
}

/** Where a part that fits at `at` ends; null when it does not. What it says goes into `found`. */
function fit(part: PatternPart, line: string, at: number, found: LineMatch): number | null {
  switch (part.is) {
    case 'number':
    case 'time': {
      const text = stickyAt(NUMBER, line, at);
      if (text === null) return null;
      const value = plainNumber(text);
      if (part.is === 'number') found.value = value;
      else found.time_s = value;
      return at + text.length;
    }
    case 'unit': {
      const text = stickyAt(UNIT, line, at) ?? '';
      found.unit = text;
      return at + text.length;
    }
    case 'space':
      return at + (stickyAt(SPACES, line, at) ?? '').length;
    case 'text':
      return line.slice(at, at + part.text.length).toLowerCase() === part.text ? at + part.text.length : null;
    case 'flag': {
      const rest = line.slice(at).toLowerCase();
      const word = [...part.stable, ...part.moving]
        .filter((entry) => rest.startsWith(entry))
        .sort((a, b) => b.length - a.length)[0];
      if (word !== undefined) found.stable = part.stable.includes(word);
      return at + (word?.length ?? 0);
    }
    default:
      return at;
  }
}

function stickyAt(pattern: RegExp, line: string, at: number): string | null {
  pattern.lastIndex = at;
  return pattern.exec(line)?.[0] ?? null;
}

const plainNumber = (text: string): number => Number(text.replaceAll(/\s/g, '').replace(',', '.'));

/** Words by which balances say that a reading stands still, or does not; common practice. */
const STILL = /^(st|s|stable|g s)$/i;
const MOVES = /^(us|sd|d|unstable|dynamic|\?|~)$/i;

function matchPlain(line: string): LineMatch | null {
  const at = line.search(/[+-]?\s*(?:\d|[.,]\d)/);
  if (at < 0) return null;
  const text = stickyAt(NUMBER, line, at);
  if (text === null) return null;
  const after = line.slice(at + text.length);
  const unit = /^\s*([a-z%°]+)/i.exec(after)?.[1] ?? '';
  const words = `${line.slice(0, at)} ${after.slice(unit.length)}`.split(/[\s,;:]+/);
  const stable = words.some((word) => MOVES.test(word))
    ? false
    : words.some((word) => STILL.test(word))
      ? true
      : null;
  const value = plainNumber(text);
  return Number.isFinite(value) ? { value, unit, stable, time_s: null } : null;
}
