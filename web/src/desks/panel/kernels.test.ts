import {
  chanceFrom,
  checkKind,
  PLAIN_PANEL,
  planSession,
  STARTING_WORDS,
  type Tasting,
  type TastingMethod,
} from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { designOf, paperLines, paperPlan, problemsOf, readLine, runOfPaper } from './paper/paper-kernels.ts';
import { markDigits, marksIn, niceStep } from './parts/axes.tsx';
import { drawnTo, powerAnswer } from './power/power-kernels.ts';
import { lettersFor } from './results/score-chart.tsx';
import { methodOf, TESTS } from './session/methods.ts';
import { cellValue, fieldsOf, pasteBlock, readGrid, readList } from './tables/form-kernels.ts';
import { addUnder, inTreeOrder, moveUnder, removeWord, renameWord } from './tree/tree-kernels.ts';

const ID = '0190a5d2-7c3e-7b10-8f00-000000000001';

function tastingOf(method: TastingMethod, samples: string[] = ['Kettle', 'Thermos']): Tasting {
  const checked = checkKind('tasting', {
    kind: 'tasting',
    version: 1,
    id: ID,
    campaign_id: ID,
    name: 'Tuesday',
    method,
    samples: samples.map((name, i) => ({ id: `c${i + 1}`, name })),
    seats: 3,
    spare_seats: 0,
  });
  if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join('\n'));
  return checked.value;
}

describe('sessions that are set out', () => {
  it.each(TESTS)('a new session of the kind %s can be planned as it starts', (test) => {
    const samples = [{ id: 'c1' }, { id: 'c2' }];
    const tasting = tastingOf(methodOf(test, samples));
    const plan = planSession(designOf(tasting), { codes: chanceFrom(1), orders: chanceFrom(2) });
    expect(plan.ok ? [] : plan.problems.map((p) => p.sentence)).toEqual([]);
  });
});

describe('paper', () => {
  const tasting = tastingOf({ test: 'triangle' });
  const design = designOf(tasting);
  const seeds = { codes: 5, orders: 6 };
  const plan = paperPlan(design, seeds);
  if (!plan.ok) throw new Error('no plan');
  const lines = paperLines(design, plan.value);

  it('the same seeds give the same codes, so that what was printed stays', () => {
    const again = paperPlan(design, seeds);
    expect(again).toEqual(plan);
    expect(lines.map((l) => l.seat)).toEqual([1, 2, 3]);
  });

  it('typed lines are read, refused with a sentence when the code is not there, and kept as a run', () => {
    const [one, two] = lines;
    const right = one!.set.right[0]!;
    expect(problemsOf(design, plan.value, one!, readLine(design, right)!)).toEqual([]);
    expect(
      problemsOf(design, plan.value, one!, readLine(design, two!.set.cups[0]!.code)!)[0]!.sentence,
    ).toMatch(/^[A-Z].*\.$/);
    expect(readLine(design, 'left')).toBeNull();
    const run = runOfPaper(
      design,
      plan.value,
      {
        started: true,
        seeds,
        names: { 1: 'Ines ' },
        answers: { [one!.key]: right, [two!.key]: 'nonsense' },
        opened_at: '2027-03-05T09:00:00.000Z',
      },
      '2027-03-05T10:00:00.000Z',
      () => ID,
    );
    expect(run.tasters.map((t) => [t.seat, t.name])).toEqual([[1, 'Ines']]);
    expect(run.answers).toHaveLength(1);
    expect(checkKind('tasting', { ...tasting, run }).ok).toBe(true);
  });

  it.each([
    [{ test: 'ranking', attribute: 'body', ties: true }, '205 309=104', { order: [['205'], ['309', '104']] }],
    [{ test: 'preference', ties: true }, '-', { code: null }],
    [{ test: 'tetrad' }, '205 309', { group: ['205', '309'] }],
    [{ test: 'a_not_a', known_id: 'c1', each: 2 }, 'Y', { same: true }],
    [methodOf('check_all', [{ id: 'c1' }]), '2 3', { ticked: ['w2', 'w3'] }],
    [
      methodOf('intensity', [{ id: 'c1' }]),
      '6.5 4 7',
      {
        scores: [
          { id: 'a1', score: 6.5 },
          { id: 'a2', score: 4 },
          { id: 'a3', score: 7 },
        ],
      },
    ],
    [
      methodOf('descriptors', [{ id: 'c1' }]),
      'citrus, honey / 2',
      { words: ['citrus', 'honey'], statements: [{ id: 's1', option: 'medium' }] },
    ],
  ] as [TastingMethod, string, object][])('%o reads "%s"', (method, text, wanted) => {
    const found = readLine({ ...design, method }, text);
    expect(found).toMatchObject(wanted);
  });
});

describe('the tree of words', () => {
  it('stands in order, renames with its children, and never hangs a word under itself', () => {
    const rows = inTreeOrder(STARTING_WORDS);
    expect(rows).toHaveLength(STARTING_WORDS.length);
    const citrus = rows.find((r) => r.word === 'citrus')!;
    const renamed = renameWord(STARTING_WORDS, citrus.at, 'sour fruit');
    expect(renamed.filter((w) => w.parent === 'sour fruit').map((w) => w.word)).toContain('bergamot');
    expect(moveUnder(STARTING_WORDS, citrus.at, 'bergamot')).toEqual(STARTING_WORDS);
    const gone = removeWord(STARTING_WORDS, citrus.at);
    expect(gone.find((w) => w.word === 'bergamot')!.parent).toBe('fruit');
    const twice = addUnder(addUnder(STARTING_WORDS, 'citrus', 'new word'), 'citrus', 'new word');
    expect(twice.slice(-2).map((w) => w.word)).toEqual(['new word', 'new word 2']);
  });
  it('shows words that hang nowhere, at the end', () => {
    const rows = inTreeOrder([
      { word: 'a', parent: null },
      { word: 'b', parent: 'lost' },
    ]);
    expect(rows.map((r) => [r.word, r.depth])).toEqual([
      ['a', 0],
      ['b', 0],
    ]);
  });
});

describe('forms of statistics', () => {
  it.each(Object.entries(PLAIN_PANEL))('every field of "%s" has a way to be typed', (_, statistic) => {
    const fields = fieldsOf(statistic.input());
    expect(fields.length).toBeGreaterThan(0);
    for (const key of Object.keys(statistic.example as object))
      expect(fields.map((f) => f.key)).toContain(key);
  });
  it('reads grids and lists however they are parted, and keeps what is no number as typed', () => {
    expect(readGrid('1\t2\n3, x')).toEqual([
      [1, 2],
      [3, 'x'],
    ]);
    expect(readGrid('1 2.5\n\n−3 4')).toEqual([
      [1, 2.5],
      [-3, 4],
    ]);
    expect(readList('a, b; c', false)).toEqual(['a', 'b', 'c']);
    expect(cellValue('', { is: 'number', whole: true })).toBeUndefined();
  });
  it('pastes a block from one cell on and adds rows', () => {
    const columns = [
      { key: 'taster', shape: { is: 'text' } },
      { key: 'score', shape: { is: 'number', whole: false } },
    ] as const;
    expect(pasteBlock([{ taster: 'Ines' }], columns, { row: 0, column: 1 }, '7\textra\n8')).toEqual([
      { taster: 'Ines', score: 7 },
      { score: 8 },
    ]);
  });
});

describe('planning numbers', () => {
  it('five tasters with one triangle each: what is needed, and every protocol beside it', () => {
    const { rows, lines } = powerAnswer({
      aim: 'difference',
      protocol: 'triangle',
      alpha: 0.05,
      sides: 'one',
      limit: 0.3,
      tasters: 5,
      repeats: 1,
      effect: { d_prime: 1.5 },
    });
    const of = (protocol: string) => rows.find((r) => r.protocol === protocol)!;
    // 4 of 5 by the table of critical numbers; sizes as computed for d′ 1.5 and a power of 0.8.
    expect(of('triangle')).toMatchObject({ critical: 4, served: 3, size: { first: 53, stable: 57 } });
    expect(of('tetrad').size).toEqual({ first: 16, stable: 20 });
    expect(of('duo_trio').critical).toBe(5);
    expect(lines[0]!.power).toHaveLength(drawnTo(5));
  });
  it('are written with as many decimals as tell them apart', () => {
    expect([[5, 5.5, 6], [4, 5, 6], [0, 0.05, 0.1], [0, 50, 100], [3]].map(markDigits)).toEqual([
      1, 0, 2, 0, 0,
    ]);
  });
  it('axes have steps that people count in; letters of tasters never stand twice', () => {
    expect([niceStep(10, 5), niceStep(0.9, 4), niceStep(34, 6)]).toEqual([2, 0.5, 10]);
    expect(marksIn(-1, 1, 4)).toEqual([-1, -0.5, 0, 0.5, 1].map((v) => expect.closeTo(v, 12)));
    const letters = [...lettersFor(['Ines', 'Isa', 'Ingo', 'Ines (2)']).values()];
    expect(new Set(letters).size).toBe(4);
  });
});
