import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { checkIn } from './registry.ts';
import { defineFamily, upgradeTo } from './upgrade.ts';

/** An invented kind: version 1 held `amount` in ounces, 2 renamed it, 3 turned it into grams and asks for a colour. */
const schema = z.strictObject({
  kind: z.literal('jar'),
  version: z.literal(3),
  mass_g: z.number().min(0),
  colour: z.string(),
});
const steps = [
  {
    from: 1,
    up: ({ amount, ...rest }: Record<string, unknown>) => ({ ...rest, mass_oz: amount }),
  },
  {
    from: 2,
    up: ({ mass_oz, ...rest }: Record<string, unknown>) => {
      if (typeof mass_oz !== 'number') throw new TypeError('mass_oz is not a number');
      return { ...rest, mass_g: Math.round(mass_oz * 28.349523125 * 1000) / 1000, colour: 'clear' };
    },
  },
];
const jar = defineFamily('jar', schema, steps);

describe('a kind that has changed twice', () => {
  it('counts its versions by its steps', () => {
    expect(jar.version).toBe(3);
  });
  it('brings version 1 through both steps, in order', () => {
    expect(checkIn(jar, { kind: 'jar', version: 1, amount: 2 })).toEqual({
      ok: true,
      value: { kind: 'jar', version: 3, mass_g: 56.699, colour: 'clear' },
    });
  });
  it('brings version 2 through the last step only', () => {
    expect(checkIn(jar, { kind: 'jar', version: 2, mass_oz: 1 })).toMatchObject({
      ok: true,
      value: { version: 3, mass_g: 28.35 },
    });
  });
  it('leaves the newest version as it is, the very object', () => {
    const body = { kind: 'jar', version: 3, mass_g: 5, colour: 'blue' };
    const upgraded = upgradeTo(jar, body);
    expect(upgraded.ok && upgraded.value).toBe(body);
  });
  it('does not touch what it was given', () => {
    const body = Object.freeze({ kind: 'jar', version: 1, amount: 2 });
    expect(upgradeTo(jar, body).ok).toBe(true);
    expect(body).toEqual({ kind: 'jar', version: 1, amount: 2 });
  });
  it('checks what comes out of the steps', () => {
    expect(checkIn(jar, { kind: 'jar', version: 2, mass_oz: -1 })).toMatchObject({
      ok: false,
      problems: [{ path: ['mass_g'], code: 'too_small' }],
    });
  });
  it('says so when a step cannot be done, and does not throw', () => {
    const checked = checkIn(jar, { kind: 'jar', version: 1, amount: 'two' });
    expect(checked).toMatchObject({ ok: false, problems: [{ code: 'upgrade_failed', path: [] }] });
    expect(checked.ok || checked.problems[0]?.sentence).toBe(
      'The jar of version 1 could not be brought to version 3.',
    );
  });
  it('asks for a newer program when the document is newer', () => {
    const checked = checkIn(jar, { kind: 'jar', version: 4, mass_kg: 1 });
    expect(checked.ok || checked.problems).toEqual([
      {
        path: ['version'],
        code: 'newer_version',
        values: { field: 'version', value: 4, kind: 'jar', limit: 3 },
        sentence:
          'This jar has version 4; this program reads versions up to 3. Update the program to open it.',
      },
    ]);
  });
  it.each([
    [undefined, 'missing'],
    [null, 'null'],
    ['2', '"2"'],
    [0, '0'],
    [-1, '-1'],
    [1.5, '1.5'],
    [Number.NaN, 'NaN'],
    [{ major: 2 }, 'an object'],
    [[], 'an empty list'],
  ])('refuses %j as a version', (version, shown) => {
    const checked = checkIn(jar, { kind: 'jar', version });
    expect(checked.ok || checked.problems.map((p) => p.sentence)).toEqual([
      `Version is ${shown}; it must be a whole number from 1 up to the newest version, 3.`,
    ]);
  });
  it.each([
    [null, 'null'],
    ['jar', '"jar"'],
    [[1], 'a list of 1'],
    [7, '7'],
  ])('refuses %j as a document', (input, shown) => {
    const checked = checkIn(jar, input);
    expect(checked.ok || checked.problems.map((p) => p.sentence)).toEqual([
      `The document is ${shown}; it must be an object.`,
    ]);
  });
});

describe('declaring a kind', () => {
  const up = (body: Record<string, unknown>) => body;
  it.each([
    ['starting late', [2], 'step 1 upgrades from 2, expected 1'],
    ['with a gap', [1, 3], 'step 2 upgrades from 3, expected 2'],
    ['twice the same', [1, 1], 'step 2 upgrades from 1, expected 2'],
    ['backwards', [2, 1], 'step 1 upgrades from 2, expected 1'],
  ])('throws for steps numbered %s', (_, from, message) => {
    const wrong = from.map((n) => ({ from: n, up }));
    expect(() => defineFamily('jar', schema, wrong)).toThrow(`defineFamily(jar): ${message}`);
  });
});
