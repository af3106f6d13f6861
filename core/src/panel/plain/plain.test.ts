import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PLAIN_PANEL } from './index.ts';

const KINDS = Object.entries(PLAIN_PANEL);

/** A copy of an input with one value, somewhere in it, replaced. */
function replaced(input: unknown, path: readonly number[], by: unknown): unknown {
  if (path.length === 0 || typeof input !== 'object' || input === null) return by;
  const keys = Object.keys(input);
  if (keys.length === 0) return by;
  const key = keys[path[0]! % keys.length]!;
  const inner = replaced((input as Record<string, unknown>)[key], path.slice(1), by);
  if (Array.isArray(input)) return input.map((v, i) => (String(i) === key ? inner : v));
  return { ...input, [key]: inner };
}

/** Findings and figures must never hold what is not a number; ∞ is allowed where something has no end. */
function holdsNaN(value: unknown): boolean {
  if (typeof value === 'number') return Number.isNaN(value);
  if (ArrayBuffer.isView(value)) return Array.from(value as Float64Array).some(Number.isNaN);
  return typeof value === 'object' && value !== null && Object.values(value).some(holdsNaN);
}

describe('tables typed by hand', () => {
  it.each(KINDS)('the example of "%s" is answered', (_, { example, answer }) => {
    const found = answer(example);
    expect(found).toMatchObject({ ok: true });
    if (!found.ok) return;
    expect(holdsNaN(found.value)).toBe(false);
    for (const { sentence } of found.value.findings)
      expect(sentence).not.toMatch(/[{}]|NaN|undefined|Infinity/);
  });
  it.each(KINDS)('"%s" refuses what is no table, with sentences', (_, { answer }) => {
    for (const input of [null, 5, 'text', [], {}, { protocol: {} }]) {
      const found = answer(input);
      if (found.ok) expect(input).toEqual({});
      else for (const p of found.problems) expect(p.sentence).toMatch(/^[A-Z"].*\.$/s);
    }
  });
  it.each(KINDS)('"%s" never throws, whatever one value becomes', (_, { example, answer }) => {
    const odd = fc.constantFrom<unknown>(
      null,
      -1,
      0,
      1,
      2,
      0.5,
      1e9,
      Number.NaN,
      '',
      'A',
      'Ines',
      [],
      {},
      true,
    );
    fc.assert(
      fc.property(fc.array(fc.nat({ max: 30 }), { minLength: 1, maxLength: 5 }), odd, (path, value) => {
        const found = answer(replaced(example, path, value));
        if (found.ok) {
          expect(holdsNaN(found.value)).toBe(false);
          for (const { sentence } of found.value.findings)
            expect(sentence).not.toMatch(/[{}]|NaN|undefined|Infinity/);
        } else {
          expect(found.problems.length).toBeGreaterThan(0);
          for (const p of found.problems) expect(p.sentence).not.toMatch(/[{}]|undefined/);
        }
      }),
      { numRuns: 12, seed: 5 },
    );
  });
});
