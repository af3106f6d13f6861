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
  _kB: 'kB',
  _kg: 'kg',
  _px: 'px',
  _s: 's',
  _ms: 'ms',
  _C: '°C',
  _mm: 'mm',
  _cm: 'cm',
  _um: 'µm',
  _g_s: 'g/s',
  _W: 'W',
  _V: 'V',
  _A: 'A',
  _m: 'm',
  _per_m: '1/m',
  _hPa: 'hPa',
  _pct: '%',
  _deg: '°',
  _mL: 'mL',
  _per_kg: 'per kg',
  _per_min: 'per min',
  _per_L: 'per L',
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

/** Any input as it is shown in a sentence: short, on one line, never an object's insides. */
export function shown(input: unknown): string {
  if (input === undefined) return 'missing';
  if (typeof input === 'string') return input === '' ? 'empty' : quoted(input);
  if (Array.isArray(input)) return input.length === 0 ? 'an empty list' : `a list of ${input.length}`;
  if (typeof input === 'object' && input !== null) return 'an object';
  if (typeof input === 'function' || typeof input === 'symbol') return `a ${typeof input}`;
  return String(input);
}

/** In quotation marks, cut after 60 characters, with line breaks and the like made visible. */
function quoted(text: string): string {
  const cut = text.length > 60 ? `${text.slice(0, 57).replace(/[\uD800-\uDBFF]$/, '')}…` : text;
  return JSON.stringify(cut);
}

/** What zod calls a type, as it reads in a sentence. */
const EXPECTED: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object',
};

/** What zod calls a format, as it reads in a sentence. The only pattern in our schemas is that of a content hash. */
const FORMATS: Readonly<Record<string, string>> = {
  uuid: 'a UUID, like 0190a5d2-7c3e-7b10-8f00-2d6c1e0b9a44',
  date: 'a date, like 2026-03-14',
  datetime: 'a moment with its offset from UTC, like 2026-03-14T09:30:00+08:00',
  regex: 'a SHA-256 hash of 64 lower-case hexadecimal digits',
};

/** Turns the issues of a failed zod parse (made with `reportInput: true`) into problems. */
export const problemsFromZod = (issues: readonly z.core.$ZodIssue[]): Problem[] =>
  issues.filter((issue) => !isHollow(issue)).map(fromIssue);

/** Zod measures the length even of an object that only has a field of that name; its type has been refused already. */
const isHollow = (issue: z.core.$ZodIssue): boolean =>
  (issue.code === 'too_small' || issue.code === 'too_big') && String(issue.origin) === 'unknown';

/**
 * Checks anything at all against a schema. Never throws: zod itself does when an object such as `{ "length": { "toString":
 * 0 } }` stands where a list belongs, and plain JSON can hold that.
 */
export function checkSchema<T>(schema: z.ZodType<T>, input: unknown): Checked<T> {
  try {
    const parsed = schema.safeParse(input, { reportInput: true });
    return parsed.success
      ? { ok: true, value: parsed.data }
      : { ok: false, problems: problemsFromZod(parsed.error.issues) };
  } catch {
    return { ok: false, problems: [problem([], 'unreadable')] };
  }
}

function fromIssue(issue: z.core.$ZodIssue): Problem {
  const path = issue.path.map((step) => (typeof step === 'symbol' ? String(step) : step));
  const field = path.findLast((step) => typeof step === 'string') ?? '';
  const value = withUnit(field, issue.input);
  switch (issue.code) {
    case 'too_small':
    case 'too_big':
      return outOfBounds(issue, path, field, value);
    case 'invalid_type': {
      const expected = EXPECTED[issue.expected] ?? issue.expected;
      if (issue.input === undefined) return problem(path, 'missing', { expected });
      return problem(path, 'wrong_type', { value, expected });
    }
    case 'invalid_value': {
      const allowed = issue.values.map(String).join(', ');
      if (issue.input === undefined) return problem(path, 'missing', { expected: `one of: ${allowed}` });
      return problem(path, 'not_one_of', { value, allowed });
    }
    case 'invalid_union':
      return problem(path, ...outsideUnion(issue));
    case 'unrecognized_keys':
      return problem(path, 'unknown_field', { keys: issue.keys.map(quoted).join(', ') });
    case 'invalid_format':
      return problem(path, 'wrong_format', { value, format: FORMATS[issue.format] ?? issue.format });
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
}

/** A value with the unit that its field's name carries. */
function withUnit(field: string, input: unknown): string {
  const unit = unitOf(field);
  return unit && typeof input === 'number' && Number.isFinite(input) ? `${input} ${unit}` : shown(input);
}

function outOfBounds(
  issue: z.core.$ZodIssueTooSmall | z.core.$ZodIssueTooBig,
  path: (string | number)[],
  field: string,
  value: string,
): Problem {
  const small = issue.code === 'too_small';
  const bound = Number(small ? issue.minimum : issue.maximum);
  if (issue.origin === 'array') {
    const count = Array.isArray(issue.input) ? issue.input.length : 0;
    return problem(path, small ? 'too_few' : 'too_many', { value: count, limit: bound });
  }
  if (issue.origin === 'string') return problem(path, small ? 'too_short' : 'too_long', { limit: bound });
  const code = small && issue.inclusive === false ? 'not_above' : issue.code;
  return problem(path, code, { value, limit: withUnit(field, bound) });
}

/** What to say when none of several shapes fits: which mark chooses among them, when there is one. */
function outsideUnion(
  issue: z.core.$ZodIssueInvalidUnion,
): [code: string, values: Record<string, string | number>] {
  const { input } = issue;
  const mark = issue.discriminator;
  if (!mark || !('options' in issue) || !Array.isArray(issue.options))
    return ['not_valid', { value: shown(input) }];
  const given = typeof input === 'object' && input !== null ? Reflect.get(input, mark) : undefined;
  return ['not_one_of', { value: shown(given), allowed: issue.options.map(String).join(', ') }];
}
