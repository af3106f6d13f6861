import { describe, expect, it } from 'vitest';
import { checkArchive, makeArchive } from './archive.ts';
import { KINDS } from './registry.ts';
import { sample, sampleBody } from './testing/samples.ts';

const whole = () => makeArchive(KINDS.map(sample), '2027-03-05T12:00:00+08:00');

describe('an archive', () => {
  it('with a document of every kind comes back as it went out', () => {
    const checked = checkArchive(JSON.parse(JSON.stringify(whole())));
    expect(checked).toEqual({ ok: true, value: whole() });
  });
  it('keeps its attachments', () => {
    const attachment = { hash: '0f'.repeat(32), media_type: 'text/csv', name: 'scale.csv', base64: 'MSwy' };
    const archive = makeArchive([], '2027-03-05T12:00:00Z', [attachment]);
    expect(checkArchive(archive)).toEqual({ ok: true, value: archive });
  });
  it('reports a problem in a document at its row, and the good ones do not hide it', () => {
    const archive = { ...whole(), documents: [sampleBody('water'), { ...sampleBody('plan'), dose_g: 0 }, 7] };
    const checked = checkArchive(archive);
    expect(checked.ok || checked.problems.map((p) => `${p.path.join('.')} | ${p.sentence}`)).toEqual([
      'documents.1.dose_g | Documents, row 2: dose is 0 g; it must be at least 1 g.',
      `documents.2.kind | This is not a document: its kind is missing; it must be one of: ${KINDS.join(', ')}.`,
    ]);
  });
  it('may not hold two documents with one id', () => {
    const water = sample('water');
    const checked = checkArchive(makeArchive([water, { ...water, name: 'Another' }], '2027-03-05T12:00:00Z'));
    expect(checked.ok || checked.problems).toMatchObject([
      { path: ['documents', 1, 'id'], code: 'duplicate_id', values: { value: water.id } },
    ]);
  });
  it('of a later version asks for a newer program', () => {
    const checked = checkArchive({ ...whole(), version: 2, chapters: [] });
    expect(checked.ok || checked.problems.map((p) => p.sentence)).toEqual([
      'This archive has version 2; this program reads versions up to 1. Update the program to open it.',
    ]);
  });
  it.each([
    [null, ['The document is null; it must be an object.']],
    [{}, 'missing'],
    [{ format: 'zip', version: 1, documents: [] }, ['Format is "zip"; it must be one of: pourline-archive.']],
    [{ ...whole(), documents: 'none' }, ['Documents is "none"; it must be a list.']],
  ])('%# that is none is refused', (input, expected) => {
    const checked = checkArchive(input);
    const sentences = checked.ok ? [] : checked.problems.map((p) => p.sentence);
    if (typeof expected === 'string') expect(sentences.every((s) => s.includes(expected))).toBe(true);
    else expect(sentences).toEqual(expected);
    expect(sentences.length).toBeGreaterThan(0);
  });
});
