import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { checkKind, checkLabel, problem, problemSentences } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { en } from './en.ts';
import {
  formatClock,
  formatNumber,
  formatWithUnit,
  pathLabel,
  problemSentence,
  remarkSentence,
  t,
} from './index.ts';

const src = fileURLToPath(new URL('..', import.meta.url));
const sources = readdirSync(src, { recursive: true, encoding: 'utf8' })
  .filter((path) => /\.tsx?$/.test(path) && !/\.test\.tsx?$/.test(path) && !path.startsWith('words/en'))
  .map((path) => readFileSync(`${src}${path}`, 'utf8'))
  .join('\n');

const first = Object.keys(en).map((key) => key.split('.')[0]);
const head = [...new Set(first)].join('|');
/** Whole keys, and the fixed beginnings of keys that are put together: `sync.${state}`. */
const whole = new Set(
  [...sources.matchAll(new RegExp(`['"\`]((?:${head})\\.[\\w.]+)['"\`]`, 'g'))].map((m) => m[1]!),
);
const beginnings = [
  ...new Set([...sources.matchAll(new RegExp(`\`((?:${head})\\.[\\w.]*)\\$\\{`, 'g'))].map((m) => m[1]!)),
];

describe('the catalogue', () => {
  it('has every key that the code asks for', () => {
    const files = /\.(tsx?|css|json|js)$/;
    expect([...whole].filter((key) => !Object.hasOwn(en, key) && !files.test(key))).toEqual([]);
    for (const beginning of beginnings)
      expect(
        Object.keys(en).some((key) => key.startsWith(beginning)),
        beginning,
      ).toBe(true);
  });

  it('has no key that nothing asks for', () => {
    const asked = (key: string): boolean =>
      whole.has(key) ||
      beginnings.some((beginning) => key.startsWith(beginning)) ||
      // Asked for by what a document or a problem holds.
      /^(field|problem|remark|step|roast|shape|material|kind)\./.test(key);
    expect(Object.keys(en).filter((key) => !asked(key))).toEqual([]);
  });

  it('fills every message without leaving a brace behind', () => {
    for (const [key, message] of Object.entries(en)) {
      const names = [...message.matchAll(/\{(\w+)/g)].map((match) => match[1]!);
      const filled = t(key as keyof typeof en, Object.fromEntries(names.map((name) => [name, 2])));
      expect(filled, key).not.toMatch(/[{}]/);
      expect(filled.trim(), key).not.toBe('');
    }
  });
});

describe('problems', () => {
  it('are said with the words that stand on the form', () => {
    const found = checkKind('venue', {
      kind: 'venue',
      version: 1,
      id: '018f0000-0000-7000-8000-000000000002',
      campaign_id: '018f0000-0000-7000-8000-000000000001',
      name: 'Room',
      air_C: 90,
    });
    if (found.ok) throw new Error('90 °C of air passed the schema');
    expect(problemSentence(found.problems[0]!)).toBe('Air temperature is 90 °C; it must be at most 50 °C.');
  });

  it('name rows by their place', () => {
    expect(pathLabel(['pours', 2, 'water_g'])).toBe('Pours, row 3: Water');
  });

  it('keep the sentence of core when no catalogue knows the code', () => {
    const odd = { ...problem([], 'not_valid', { value: 'x' }), code: 'unheard_of', sentence: 'Odd.' };
    expect(problemSentence(odd)).toBe('Odd.');
  });

  it('have a message for every code of core', () => {
    for (const code of Object.keys(problemSentences)) expect(en).toHaveProperty([`problem.${code}`]);
  });
});

describe('remarks', () => {
  it('of waters are said by code, values and terms, in the words of core when the language is English', () => {
    const ions = {
      calcium_mg_L: 200,
      magnesium_mg_L: 49.4,
      bicarbonate_mg_L: 244,
      chloride_mg_L: 22,
      sulfate_mg_L: 40,
    };
    const { remarks } = checkLabel({ name: 'Spring', ions, hardness: 14, residue: 30 });
    expect(remarks.some(({ terms }) => terms?.ion)).toBe(true);
    for (const remark of remarks) expect(remarkSentence({ ...remark, sentence: '' })).toBe(remark.sentence);
  });

  it('keep their own sentence when no catalogue knows the code', () => {
    expect(remarkSentence({ code: 'unheard_of', values: {}, sentence: 'Odd.' })).toBe('Odd.');
  });
});

describe('figures', () => {
  it('keep their decimals, their sign and their unit', () => {
    expect(formatNumber(155.26, 1)).toBe('155.3');
    expect(formatNumber(-0.01, 1)).toBe('0.0');
    expect(formatNumber(-2, 0)).toBe('−2');
    expect(formatNumber(Number.NaN, 1)).toBe('–');
    expect(formatWithUnit(1_600, 'm')).toBe('1,600\u202fm');
    expect(formatWithUnit(30, '°')).toBe('30°');
  });

  it('read like a clock', () => {
    expect(formatClock(105)).toBe('1:45');
    expect(formatClock(7.5, 1)).toBe('0:07.5');
    expect(formatClock(59.96, 1)).toBe('1:00.0');
    expect(formatClock(-5)).toBe('−0:05');
  });
});
