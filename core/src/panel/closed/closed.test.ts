import { describe, expect, it } from 'vitest';
import { checkKind, type Tasting, type TastingAnswer } from '../../documents/index.ts';
import { PLAIN_PANEL } from '../plain/index.ts';
import { intakesOf } from './intakes.ts';
import { type ClosedTasting, readRun } from './read-run.ts';
import { tablesOf } from './tables.ts';
import { ageWhenTasted, scoresOverTime, statementsTasted, wordsTasted } from './tasted.ts';

const AT = '2027-03-05T09:00:00+00:00';
const id = (n: number): string => `0190a5d2-7c3e-7b10-8f00-${n.toString(16).padStart(12, '0')}`;

interface Served {
  codes: Record<string, string>;
  right?: string[];
  known?: string;
  window?: string;
  answers: { code?: string; window?: string; answer: TastingAnswer; counts?: boolean }[];
}

/** A closed tasting from what was served to each taster and what each answered, checked by the schema. */
function closed(
  method: Record<string, unknown>,
  samples: readonly string[],
  tasters: readonly { name: string; sets: readonly Served[] }[],
  more: Record<string, unknown> = {},
): ClosedTasting {
  const list = samples.map((name, i) => ({ id: `s${i}`, name }));
  const windows = (more.windows ?? []) as unknown[];
  let answer = 0;
  const body = {
    kind: 'tasting',
    version: 1,
    id: id(1),
    campaign_id: id(2),
    name: 'Tuesday',
    method,
    samples: list,
    ...more,
    run: {
      method,
      samples: list,
      windows,
      opened_at: AT,
      closed_at: AT,
      tasters: tasters.map(({ name }, i) => ({ seat: i + 1, name, joined_at: AT })),
      sets: tasters.flatMap(({ sets }, i) =>
        sets.map((served, k) => ({
          seat: i + 1,
          set: k + 1,
          flight: 1,
          window_id: served.window ?? null,
          cups: Object.entries(served.codes).map(([code, sample]) => ({
            code,
            sample_id: `s${samples.indexOf(sample)}`,
            known: code === served.known,
          })),
          right: served.right ?? [],
        })),
      ),
      answers: tasters.flatMap(({ sets }, i) =>
        sets.flatMap((served, k) =>
          served.answers.map((given) => ({
            answer_id: id(100 + answer++),
            seat: i + 1,
            set: k + 1,
            code: given.code ?? null,
            window_id: given.window ?? null,
            at: AT,
            device_at: AT,
            temperature_C: null,
            counts: given.counts ?? true,
            answer: given.answer,
          })),
        ),
      ),
      poured: [],
      measured: [],
      sheet_seen: [],
    },
  };
  const checked = checkKind('tasting', body);
  if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join('\n'));
  return checked.value as Tasting as ClosedTasting;
}

/** Answers every table of a session; fails on a table that its statistic refuses. */
function answered(tasting: ClosedTasting) {
  return tablesOf(tasting).map((table) => {
    const found = PLAIN_PANEL[table.kind]!.answer(table.input);
    if (!found.ok) throw new Error(`${table.kind}: ${found.problems.map((p) => p.sentence).join(' ')}`);
    return { ...table, ...found.value };
  });
}

const triangleSet = (code: string, counts = true): Served => ({
  codes: { '104': 'A', '205': 'B', '309': 'A' },
  right: ['205'],
  answers: [{ answer: { test: 'triangle', code }, counts }],
});

describe('tables of a closed session', () => {
  it('triangles: right answers are counted, replaced ones are not, repeats are looked at taster by taster', () => {
    const tasting = closed(
      { test: 'triangle' },
      ['A', 'B'],
      [
        { name: 'Ines', sets: [triangleSet('205'), triangleSet('205')] },
        { name: 'Ines', sets: [triangleSet('104'), triangleSet('205')] },
        { name: '', sets: [triangleSet('309'), triangleSet('205', false)] },
      ],
    );
    const tables = answered(tasting);
    expect(tables.map((t) => t.kind)).toEqual(['difference', 'replicated']);
    expect(tables[0]!.input).toMatchObject({ protocol: 'triangle', correct: 3, answers: 5 });
    expect(tables[1]!.input).toMatchObject({
      tasters: [
        { correct: 2, answers: 2 },
        { correct: 1, answers: 2 },
        { correct: 0, answers: 1 },
      ],
    });
    expect([...new Set(readRun(tasting.run).map((a) => a.taster))]).toEqual(['Ines (1)', 'Ines (2)', '3']);
  });

  it('a tetrad is right when both cups of the group hold the same, whichever group was named', () => {
    const set = (group: [string, string]): Served => ({
      codes: { '104': 'A', '205': 'B', '309': 'A', '418': 'B' },
      right: ['104', '309'],
      answers: [{ answer: { test: 'tetrad', group } }],
    });
    const tasting = closed(
      { test: 'tetrad' },
      ['A', 'B'],
      [
        { name: 'Ines', sets: [set(['205', '418'])] },
        { name: 'Joris', sets: [set(['104', '418'])] },
        { name: 'Kei', sets: [set(['309', '104'])] },
      ],
    );
    expect(tablesOf(tasting)[0]!.input).toMatchObject({ correct: 2, answers: 3 });
  });

  it('windows are counted one by one and together', () => {
    const windows = [
      { id: 'h', name: 'Hot', from_C: 60, to_C: 50 },
      { id: 'c', name: 'Cold', from_C: 30, to_C: 20 },
    ];
    const tasting = closed(
      { test: 'triangle' },
      ['A', 'B'],
      [
        {
          name: 'Ines',
          sets: [
            { ...triangleSet('205'), window: 'h' },
            { ...triangleSet('104'), window: 'c' },
          ],
        },
      ],
      { windows },
    );
    expect(tablesOf(tasting).map((t) => [t.window, t.kind, t.input.correct])).toEqual([
      ['Hot', 'difference', 1],
      ['Cold', 'difference', 0],
      [null, 'difference', 1],
    ]);
  });

  it('A or not: hits and false alarms by what was in the cup', () => {
    const set = (sample: string, same: boolean): Served => ({
      codes: { '104': sample },
      answers: [{ code: '104', answer: { test: 'a_not_a', same } }],
    });
    const tasting = closed(
      { test: 'a_not_a', known_id: 's0' },
      ['A', 'B'],
      [{ name: 'Ines', sets: [set('A', true), set('B', true), set('A', false), set('B', false)] }],
    );
    expect(answered(tasting)[0]).toMatchObject({
      kind: 'a-not-a',
      input: { hits: 1, of_a: 2, false_alarms: 1, of_other: 2 },
    });
  });

  it('rankings: shared places get their mean; lists that leave cups out are read as pairs', () => {
    const codes = { '104': 'A', '205': 'B', '309': 'C' };
    const whole = (order: string[][]): Served => ({
      codes,
      answers: [{ answer: { test: 'ranking', order } }],
    });
    const method = { test: 'ranking', attribute: 'sweetness', ties: true };
    const tasting = closed(
      method,
      ['A', 'B', 'C'],
      [
        { name: 'Ines', sets: [whole([['104'], ['205', '309']])] },
        { name: 'Joris', sets: [whole([['104'], ['309'], ['205']])] },
      ],
    );
    expect(answered(tasting)[0]!.input).toMatchObject({
      scores: [
        [1, 2.5, 2.5],
        [1, 3, 2],
      ],
    });
    const partial = closed(
      method,
      ['A', 'B', 'C'],
      [
        {
          name: 'Ines',
          sets: [
            {
              codes: { '104': 'A', '205': 'B' },
              answers: [{ answer: { test: 'ranking', order: [['104'], ['205']] } }],
            },
          ],
        },
        {
          name: 'Joris',
          sets: [
            {
              codes: { '305': 'B', '406': 'C' },
              answers: [{ answer: { test: 'ranking', order: [['406'], ['305']] } }],
            },
          ],
        },
      ],
      { cups_each: 2 },
    );
    expect(answered(partial)[0]).toMatchObject({
      kind: 'pairs',
      input: {
        pairs: [
          { first: 'A', second: 'B', first_wins: 1, second_wins: 0, ties: 0 },
          { first: 'B', second: 'C', first_wins: 0, second_wins: 1, ties: 0 },
        ],
      },
    });
  });

  it('two cups compared without a direction are a preference, more cups are pairs in the order served', () => {
    const pair = (a: string, b: string, code: string | null): Served => ({
      codes: { '104': a, '205': b },
      answers: [{ answer: { test: 'preference', code } }],
    });
    const two = closed(
      { test: 'preference' },
      ['A', 'B'],
      [
        { name: 'Ines', sets: [pair('A', 'B', '104')] },
        { name: 'Joris', sets: [pair('B', 'A', '205')] },
        { name: 'Kei', sets: [pair('B', 'A', null)] },
      ],
    );
    expect(answered(two)[0]).toMatchObject({
      kind: 'preference',
      input: { first: 2, second: 0, no_difference: 1 },
    });
    const three = closed(
      { test: 'preference' },
      ['A', 'B', 'C'],
      [
        { name: 'Ines', sets: [pair('A', 'B', '104'), pair('C', 'B', '205'), pair('C', 'A', '104')] },
        { name: 'Joris', sets: [pair('B', 'A', '205'), pair('B', 'C', '104'), pair('A', 'C', '205')] },
      ],
    );
    expect(answered(three)[0]).toMatchObject({ kind: 'pairs', input: { order_effect: true } });
  });

  it('scores carry the window; ticks need every cup; just about right needs liking', () => {
    const scored = (taster: string, a: number, b: number): { name: string; sets: Served[] } => ({
      name: taster,
      sets: [
        {
          codes: { '104': 'A', '205': 'B' },
          answers: (
            [
              ['104', a],
              ['205', b],
            ] as const
          ).flatMap(([code, score]) =>
            ['h', 'c'].map((window) => ({
              code,
              window,
              answer: { test: 'intensity' as const, scores: [{ id: 'x', score }] },
            })),
          ),
        },
      ],
    });
    const intensity = closed(
      { test: 'intensity', attributes: [{ id: 'x', name: 'body' }] },
      ['A', 'B'],
      [scored('Ines', 6, 7), scored('Joris', 5, 7.5), scored('Kei', 6, 6.5)],
      {
        windows: [
          { id: 'h', name: 'Hot', from_C: 60, to_C: 50 },
          { id: 'c', name: 'Cold', from_C: 30, to_C: 20 },
        ],
      },
    );
    const [scores] = answered(intensity);
    expect(scores).toMatchObject({ kind: 'scores', about: 'body' });
    expect((scores!.input.scores as unknown[]).length).toBe(12);
    const ticks = (name: string, both: boolean): { name: string; sets: Served[] } => ({
      name,
      sets: [
        {
          codes: { '104': 'A', '205': 'B' },
          answers: [
            { code: '104', answer: { test: 'check_all', ticked: ['p'] } },
            ...(both ? [{ code: '205', answer: { test: 'check_all' as const, ticked: [] } }] : []),
          ],
        },
      ],
    });
    const listed = {
      test: 'check_all',
      words: [
        { id: 'p', word: 'peach' },
        { id: 'h', word: 'honey' },
      ],
    };
    const [words] = answered(
      closed(listed, ['A', 'B'], [ticks('Ines', true), ticks('Joris', true), ticks('Kei', false)]),
    );
    expect((words!.input.ballots as unknown[]).length).toBe(4);
    const right = closed(
      { test: 'just_about_right', attributes: [{ id: 'x', name: 'acidity' }] },
      ['A'],
      [
        {
          name: 'Ines',
          sets: [
            {
              codes: { '104': 'A' },
              answers: [
                {
                  code: '104',
                  answer: { test: 'just_about_right', levels: [{ id: 'x', level: 2 }], liking: 4 },
                },
              ],
            },
          ],
        },
      ],
    );
    expect(answered(right)[0]!.input).toMatchObject({
      attribute: 'acidity',
      answers: [{ level: 'too_much', liking: 4 }],
    });
  });

  it('words over time: ticks close at the end, whatever order they were opened in', () => {
    const tasting = closed(
      {
        test: 'temporal',
        words: [
          { id: 'c', word: 'citrus' },
          { id: 's', word: 'sweet' },
        ],
        lasts_s: 40,
      },
      ['A'],
      [
        {
          name: 'Ines',
          sets: [
            {
              codes: { '104': 'A' },
              answers: [
                {
                  code: '104',
                  answer: {
                    test: 'temporal',
                    clicks: [
                      { id: 'c', at_s: 2, on: true },
                      { id: 's', at_s: 9, on: true },
                      { id: 'c', at_s: 12, on: false },
                    ],
                  },
                },
              ],
            },
          ],
        },
      ],
    );
    expect(answered(tasting)[0]!.input).toMatchObject({
      end_s: 40,
      cups: [
        {
          runs: [
            {
              ticks: [
                { word: 'citrus', from_s: 2, to_s: 12 },
                { word: 'sweet', from_s: 9, to_s: 40 },
              ],
            },
          ],
        },
      ],
    });
  });
});

const WINDOWS = [
  { id: 'h', name: 'hot', from_C: 60, to_C: 50 },
  { id: 'c', name: 'cold', from_C: 30, to_C: 20 },
];
const described = closed(
  {
    test: 'descriptors',
    words: [{ word: 'fruit' }, { word: 'citrus', parent: 'fruit' }],
    statements: [{ id: 'a', name: 'acidity level', options: ['low', 'medium', 'high'] }],
  },
  ['A', 'B'],
  [
    {
      name: 'Ines',
      sets: [
        {
          codes: { '104': 'A', '205': 'B' },
          answers: [
            {
              code: '104',
              window: 'h',
              answer: { test: 'descriptors', words: ['citrus'], statements: [{ id: 'a', option: 'high' }] },
            },
            { code: '205', window: 'h', answer: { test: 'descriptors', words: ['plum'], statements: [] } },
          ],
        },
      ],
    },
    {
      name: 'Joris',
      sets: [
        {
          codes: { '318': 'B', '427': 'A' },
          answers: [
            {
              code: '427',
              window: 'h',
              answer: { test: 'descriptors', words: [], statements: [{ id: 'a', option: 'medium' }] },
            },
          ],
        },
      ],
    },
  ],
  { windows: WINDOWS, sip_mL: 30 },
);

describe('what was tasted', () => {
  it('words and statements of one sample, whichever code it had', () => {
    const source = { tasting: described, sample_id: 's0', age_d: 12 };
    expect(wordsTasted([source])).toEqual([
      { taster: 'Ines', window: 'hot', words: ['citrus'], session: 'Tuesday', age_d: 12 },
      { taster: 'Joris', window: 'hot', words: [], session: 'Tuesday', age_d: 12 },
    ]);
    expect(statementsTasted([source]).map((s) => [s.taster, s.option])).toEqual([
      ['Ines', 'high'],
      ['Joris', 'medium'],
    ]);
  });
  it('statements become places in their list for calibration', () => {
    const [subject] = scoresOverTime([described]);
    expect(subject).toMatchObject({ name: 'acidity level', sessions: ['Tuesday'] });
    expect(subject!.scores.map((s) => [s.taster, s.score])).toEqual([
      ['Ines', 2],
      ['Joris', 1],
    ]);
  });
  it('caffeine of sips: only cups that were answered about, by dose and volume', () => {
    const [ines, joris] = intakesOf([described]);
    // 15 g at 10 to 12 mg/g, 0.8 to all of it out, 30 of 225 mL a sip.
    expect(ines!.intakes[0]!.mg.high).toBeCloseTo((15 * 12 * 30) / 225, 12);
    expect(ines!.intakes[0]!.mg.low).toBeCloseTo((15 * 10 * 0.8 * 30) / 225, 12);
    expect([ines!.intakes.length, joris!.intakes.length]).toEqual([2, 1]);
  });
  it('age: from the roast, less the days in a freezer; else as the plan says', () => {
    const sample = { ...described.run.samples[0]!, plan_id: id(7) };
    const tasting: ClosedTasting = { ...described, run: { ...described.run, samples: [sample] } };
    const plan = { kind: 'plan', coffee_id: id(8), coffee_age_d: 30 };
    const lookup = (coffee: unknown) => (wanted: string) =>
      (wanted === id(7) ? plan : wanted === id(8) ? coffee : undefined) as ReturnType<
        Parameters<typeof ageWhenTasted>[2]
      >;
    const coffee = {
      kind: 'coffee',
      roasted_on: '2027-02-10',
      frozen_on: '2027-02-16',
      thawed_on: '2027-03-01',
    };
    // 23 days from 10 February to 5 March, 13 of them frozen.
    expect(ageWhenTasted(tasting, 's0', lookup(coffee))).toBe(10);
    expect(ageWhenTasted(tasting, 's0', lookup(undefined))).toBe(30);
    expect(ageWhenTasted(described, 's0', lookup(coffee))).toBeNull();
  });
});
