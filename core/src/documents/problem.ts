import type { z } from 'zod';
import { sentenceOf } from './sentences.ts';

/**
 * Something a person can put right: where it is, what kind of thing it is, and a sentence that names the
 * field, the value and what would be valid. Problems are values; core never throws for bad data.
 */
export interface Problem {
  /** Path into the document, for example `['pours', 2, 'water_g']`; empty for the document as a whole. */
  path: readonly (string | number)[];
  /** Stable code for translation, for example `too_small`. */
  code: string;
  /** What the sentence is filled with. */
  values: Readonly<Record<string, string | number>>;
  /** The English sentence. */
  sentence: string;
}

/** A value that passed, or everything that is wrong with it. */
export type Checked<T> = { ok: true; value: T } | { ok: false; problems: Problem[] };

/** Makes a problem from its code and values. */
export function problem(
  path: readonly (string | number)[],
  code: string,
  values: Record<string, string | number> = {},
): Problem {
  const filled = { field: fieldName(path), ...values };
  return { path, code, values: filled, sentence: sentenceOf(code, filled) };
}

const UNITS: Readonly<Record<string, string>> = {
  _g: 'g',
  _s: 's',
  _C: '°C',
  _mm: 'mm',
  _cm: 'cm',
  _um: 'µm',
  _g_s: 'g/s',
  _W: 'W',
  _m: 'm',
  _hPa: 'hPa',
  _pct: '%',
  _deg: '°',
  _mL: 'mL',
  _mg_L: 'mg/L',
  _mg_g: 'mg/g',
  _W_K: 'W/K',
  _d: 'd',
};

/** The unit that a document field carries in its name, or an empty string. `unitOf('dose_g')` is `'g'`. */
export function unitOf(field: string): string {
  let found = '';
  let length = 0;
  for (const [suffix, unit] of Object.entries(UNITS)) {
    if (suffix.length > length && field.endsWith(suffix)) {
      found = unit;
      length = suffix.length;
    }
  }
  return found;
}

/** A path as people read it: `['pours', 2, 'water_g']` is `'pours, row 3: water'`. */
export function fieldName(path: readonly (string | number)[]): string {
  if (path.length === 0) return 'the document';
  let name = '';
  path.forEach((step, i) => {
    if (typeof step === 'number') name += `, row ${step + 1}`;
    else name += (i === 0 ? '' : ': ') + words(step);
  });
  return name;
}

function words(field: string): string {
  const unit = Object.keys(UNITS)
    .filter((suffix) => field.endsWith(suffix) && field.length > suffix.length)
    .sort((a, b) => b.length - a.length)[0];
  return (unit === undefined ? field : field.slice(0, -unit.length)).replaceAll('_', ' ');
}

const shown = (input: unknown): string => {
  if (input === undefined) return 'missing';
  if (typeof input === 'string') return input === '' ? 'empty' : `"${cut(input)}"`;
  if (typeof input === 'number' || typeof input === 'boolean' || input === null) return String(input);
  if (Array.isArray(input)) return `a list of ${input.length}`;
  return 'an object';
};

const cut = (text: string): string => (text.length > 60 ? `${text.slice(0, 57)}…` : text);

/** Turns the issues of a failed zod parse (made with `reportInput: true`) into problems. */
export function problemsFromZod(issues: readonly z.core.$ZodIssue[]): Problem[] {
  return issues.map((issue) => {
    const path = issue.path.map((step) => (typeof step === 'symbol' ? String(step) : step));
    const last = [...path].reverse().find((step) => typeof step === 'string');
    const unit = typeof last === 'string' ? unitOf(last) : '';
    const value = shown(issue.input) + (typeof issue.input === 'number' && unit ? ` ${unit}` : '');
    const withUnit = (n: unknown) => `${String(n)}${unit && typeof n === 'number' ? ` ${unit}` : ''}`;
    switch (issue.code) {
      case 'too_small':
        if (issue.origin === 'array')
          return problem(path, 'too_few', { value, limit: String(issue.minimum) });
        if (issue.origin === 'string') return problem(path, 'too_short', { limit: String(issue.minimum) });
        return problem(path, issue.inclusive === false ? 'not_above' : 'too_small', {
          value,
          limit: withUnit(Number(issue.minimum)),
        });
      case 'too_big':
        if (issue.origin === 'array')
          return problem(path, 'too_many', { value, limit: String(issue.maximum) });
        if (issue.origin === 'string') return problem(path, 'too_long', { limit: String(issue.maximum) });
        return problem(path, 'too_big', { value, limit: withUnit(Number(issue.maximum)) });
      case 'invalid_type':
        if (issue.input === undefined) return problem(path, 'missing', { expected: issue.expected });
        return problem(path, 'wrong_type', { value, expected: issue.expected });
      case 'invalid_value':
        return problem(path, 'not_one_of', { value, allowed: issue.values.map(String).join(', ') });
      case 'unrecognized_keys':
        return problem(path, 'unknown_field', { keys: issue.keys.map(cut).join(', ') });
      case 'invalid_format':
        return problem(path, 'wrong_format', { value, format: issue.format });
      case 'custom': {
        const { code, values } = (issue.params ?? {}) as {
          code?: string;
          values?: Record<string, string | number>;
        };
        return problem(path, code ?? 'not_valid', { value, ...values });
      }
      default:
        return problem(path, 'not_valid', { value });
    }
  });
}
