import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { ARCHIVE_FORMAT, checkArchive } from './archive.ts';
import type { Checked, Problem } from './problem.ts';
import { checkDocument, checkKind, KINDS, type Kind } from './registry.ts';
import { type Place, put } from './testing/put.ts';
import { sampleBody } from './testing/samples.ts';

const seed = 20261125;

/** Thousands of cases; generous, for a machine that is busy with other things. */
vi.setConfig({ testTimeout: 90_000 });

/** Text that cannot be mistaken for something our own code wrote by accident. */
const text = fc
  .oneof(
    fc.string({ unit: 'binary', maxLength: 80 }),
    fc.string({ maxLength: 80 }),
    fc.constantFrom('', ' ', '__proto__', 'constructor', 'toString', 'length', '2027-02-30', '1e3'),
  )
  .filter((s) => !/undefined|NaN|Infinity|\[object|[{}]/.test(s));

const number = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.integer(),
  fc.constantFrom(0, -0, -1, 1e308, 5e-324, 100.5, 2 ** 53),
);

/** Any JSON. */
const json: fc.Arbitrary<unknown> = fc.letrec((tie) => ({
  value: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    fc.constantFrom(null, true, false),
    number,
    text,
    fc.constantFrom<unknown>(...KINDS),
    fc.array(tie('value'), { maxLength: 6 }),
    fc.dictionary(text, tie('value'), { maxKeys: 6 }),
  ),
})).value;

/** Not even JSON: what a careless caller might hand over. */
const anything = fc.anything({
  key: text,
  values: [fc.constantFrom(undefined, null, Number.NaN, Number.POSITIVE_INFINITY), number, text],
  withBigInt: true,
  withDate: true,
  withMap: true,
  withSet: true,
  withTypedArray: true,
  withNullPrototype: true,
  withSparseArray: true,
});

/** Every place in a JSON tree, the root left out. */
function places(tree: unknown, at: Place = []): Place[] {
  const plain = Array.isArray(tree) || Object.prototype.toString.call(tree) === '[object Object]';
  if (!plain) return [];
  return Object.entries(tree as object).flatMap(([key, value]) => {
    const place = [...at, Array.isArray(tree) ? Number(key) : key];
    return [place, ...places(value, place)];
  });
}

/** A valid document with up to four places spoilt: replaced, removed, doubled or given a stray neighbour. */
const spoilt = (value: fc.Arbitrary<unknown>): fc.Arbitrary<{ kind: Kind; body: unknown }> =>
  fc
    .record({
      kind: fc.constantFrom(...KINDS),
      changes: fc.array(
        fc.record({
          where: fc.nat(),
          how: fc.constantFrom('replace', 'remove', 'double', 'stray'),
          value,
          key: text,
        }),
        { minLength: 1, maxLength: 4 },
      ),
    })
    .map(({ kind, changes }) => {
      const body: unknown = sampleBody(kind);
      for (const { where, how, value: replacement, key } of changes) {
        const all = places(body);
        const place = all[where % Math.max(1, all.length)];
        if (place === undefined) continue;
        if (how === 'remove') put(body, place, undefined);
        else if (how === 'stray') {
          const beside = typeof place.at(-1) === 'number' ? 0 : key;
          put(body, [...place.slice(0, -1), beside], replacement);
        } else if (how === 'double') put(body, place, [replacement, replacement]);
        else put(body, place, replacement);
      }
      return { kind, body };
    });

/** What every answer must be: a value, or problems that a person can read. */
function expectReadable(checked: Checked<unknown>, finite = true): void {
  if (checked.ok) return;
  expect(checked.problems.length).toBeGreaterThan(0);
  for (const problem of checked.problems) expectSentence(problem, finite);
}

function expectSentence({ sentence, code, path, values }: Problem, finite: boolean): void {
  expect(sentence).toMatch(/^\S.*\S\.$/su);
  expect(sentence).not.toMatch(/undefined|\[object|\{\w+\}/);
  if (finite) expect(sentence).not.toMatch(/NaN|Infinity/);
  expect(sentence.length).toBeLessThan(2_000);
  expect(code).toMatch(/^[a-z_]+$/);
  expect(path.every((step) => typeof step === 'string' || Number.isInteger(step))).toBe(true);
  expect(values.field).toBeTypeOf('string');
  for (const value of Object.values(values)) expect(['string', 'number']).toContain(typeof value);
}

describe('checking never throws and always says something readable', () => {
  it('about any JSON', () => {
    fc.assert(
      fc.property(json, (input) => {
        expectReadable(checkDocument(input));
        expectReadable(checkArchive(input));
      }),
      { seed, numRuns: 1_500 },
    );
  });
  it('about anything at all', () => {
    fc.assert(
      fc.property(anything, fc.constantFrom(...KINDS), (input, kind) => {
        expectReadable(checkDocument(input), false);
        expectReadable(checkKind(kind, input), false);
        expectReadable(checkDocument({ kind, version: input }), false);
        expectReadable(checkArchive({ format: ARCHIVE_FORMAT, version: input, documents: input }), false);
        expectReadable(checkArchive({ format: ARCHIVE_FORMAT, version: 1, documents: [input] }), false);
      }),
      { seed, numRuns: 1_000 },
    );
  });
  it('about documents with spoilt places, and what passes passes again unchanged', () => {
    let passed = 0;
    fc.assert(
      fc.property(spoilt(json), ({ body }) => {
        const checked = checkDocument(body);
        expectReadable(checked);
        if (!checked.ok) return;
        passed++;
        // JSON has one zero; −0 comes back as it.
        const written = JSON.parse(JSON.stringify(checked.value));
        const again = checkDocument(written);
        expect(again.ok && JSON.parse(JSON.stringify(again.value))).toEqual(written);
      }),
      { seed, numRuns: 3_000 },
    );
    // The mutations must be gentle enough that both outcomes are met.
    expect(passed).toBeGreaterThan(40);
    expect(passed).toBeLessThan(2_700);
  });
  it('about documents with places that hold what JSON cannot', () => {
    fc.assert(
      fc.property(spoilt(anything), ({ kind, body }) => {
        expectReadable(checkDocument(body), false);
        expectReadable(checkKind(kind, body), false);
      }),
      { seed, numRuns: 1_000 },
    );
  });
  it('about archives of sound, spoilt and alien documents', () => {
    const entry = fc.oneof(
      fc.constantFrom(...KINDS).map((kind): unknown => sampleBody(kind)),
      spoilt(json).map(({ body }) => body),
      json,
    );
    const archive = fc.record(
      {
        format: fc.oneof({ weight: 9, arbitrary: fc.constant(ARCHIVE_FORMAT) }, text),
        version: fc.oneof({ weight: 9, arbitrary: fc.constant(1) }, json),
        documents: fc.oneof({ weight: 9, arbitrary: fc.array(entry, { maxLength: 5 }) }, json),
        exported_at: fc.oneof(fc.constant('2027-03-05T12:00:00Z'), json),
        attachments: fc.oneof(fc.constant([]), json),
      },
      { requiredKeys: ['format', 'version', 'documents'] },
    );
    fc.assert(
      fc.property(archive, (input) => {
        const checked = checkArchive(input);
        expectReadable(checked);
        if (checked.ok) expect(checkArchive(JSON.parse(JSON.stringify(checked.value)))).toEqual(checked);
      }),
      { seed, numRuns: 1_000 },
    );
  });
});

describe('a problem with a place', () => {
  it('leads to it or to the object that lacks it', () => {
    fc.assert(
      fc.property(spoilt(json), ({ body }) => {
        const checked = checkDocument(body);
        if (checked.ok) return;
        for (const { path } of checked.problems) {
          let node: unknown = body;
          for (const step of path.slice(0, -1)) {
            expect(typeof node === 'object' && node !== null && Object.hasOwn(node, step)).toBe(true);
            node = Reflect.get(Object(node), step);
          }
        }
      }),
      { seed, numRuns: 1_000 },
    );
  });
});
