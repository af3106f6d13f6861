import { describe, expect, it } from 'vitest';
import { checkDocument, checkKind, isKind, KINDS } from './registry.ts';
import { sample, sampleBody } from './testing/samples.ts';

describe.each(KINDS)('a %s', (kind) => {
  it('passes, and passes again unchanged after a trip through JSON', () => {
    const first = checkDocument(sampleBody(kind));
    if (!first.ok) throw new Error(first.problems.map((p) => p.sentence).join('\n'));
    const again = checkDocument(JSON.parse(JSON.stringify(first.value)));
    expect(again).toEqual(first);
    expect(first.value.kind).toBe(kind);
  });
  it('keeps every value that was given', () => {
    expect(sample(kind)).toMatchObject(sampleBody(kind));
  });
  it('refuses a field it does not know, by name', () => {
    const checked = checkDocument({ ...sampleBody(kind), flavor: 1 });
    expect(checked.ok || checked.problems.map((p) => p.sentence)).toEqual([
      'The document holds fields that do not belong there: "flavor". Take them out or check their spelling.',
    ]);
  });
  it('reports every missing field, not the first alone', () => {
    const checked = checkDocument({ kind, version: 1 });
    const missing = checked.ok ? [] : checked.problems.map((p) => p.path.join('.'));
    expect(missing).toEqual(expect.arrayContaining(['id', 'campaign_id', 'name']));
    expect(checked.ok || checked.problems.every((p) => p.code === 'missing')).toBe(true);
  });
  it('is only taken for its own kind', () => {
    for (const other of KINDS)
      expect(checkKind(other, sampleBody(kind)).ok, `${kind} as ${other}`).toBe(other === kind);
  });
});

describe('what has no kind', () => {
  it.each([
    [null, 'missing'],
    [[], 'missing'],
    ['plan', 'missing'],
    [{}, 'missing'],
    [{ kind: 'recipe' }, '"recipe"'],
    [{ kind: 'toString' }, '"toString"'],
    [{ kind: { plan: 1 } }, 'an object'],
  ])('%j is refused with the kinds there are', (input, shown) => {
    const checked = checkDocument(input);
    expect(checked.ok || checked.problems).toMatchObject([{ path: ['kind'], code: 'not_a_document' }]);
    expect(checked.ok || checked.problems[0]?.sentence).toBe(
      `This is not a document: its kind is ${shown}; it must be one of: ${KINDS.join(', ')}.`,
    );
  });
  it('is not a kind', () => {
    expect(isKind('plan')).toBe(true);
    expect(isKind('__proto__')).toBe(false);
    expect(isKind(undefined)).toBe(false);
  });
});
