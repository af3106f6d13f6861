import {
  calibrate,
  isClosed,
  proposeDescription,
  scoresOverTime,
  statementsTasted,
  tablesOf,
  wordsTasted,
  wordTree,
} from '@pourline/core';
import { expect, it } from 'vitest';
import { description, tastings, words } from './tastings.ts';

const closed = tastings.filter(isClosed);
const named = (name: string) => closed.find((tasting) => tasting.name === name)!;
const source = { tasting: named('Words for the open round'), sample_id: 'c1', age_d: 14 };

it('keeps peach, widens bergamot to citrus and honey to a sweet finish, and says medium acidity', () => {
  const statements = statementsTasted([source]);
  const proposal = proposeDescription({
    said: description.said,
    statements: description.statements.map(({ name, said, points }) => ({
      name,
      said,
      points,
      options: [
        'low',
        'medium',
        'medium-high',
        'high',
        'citric',
        'malic',
        'tartaric',
        'light',
        'silky',
        'round',
      ],
      answers: statements
        .filter((s) => s.name === name && s.window === 'Hot')
        .map(({ taster, option }) => ({
          taster,
          answer: option,
          offset: description.offsets.find((o) => o.taster === taster && o.name === name)?.steps ?? 0,
        })),
    })),
    tasted: wordsTasted([source]),
    tree: wordTree(words.words),
    points: description.points,
    judges: 3,
    venue_age_d: description.served_age_d,
  });
  expect(
    proposal.words.map((w) => [w.said.word, w.said.found, w.action, w.instead?.word, w.instead?.found]),
  ).toEqual([
    ['bergamot', 2, 'widen', 'citrus', 5],
    ['white peach', 4, 'keep', 'white peach', 4],
    ['raw honey', 1, 'widen', 'sweet finish', 5],
  ]);
  expect(proposal.statements.map((s) => s.best)).toEqual(['medium', 'malic', 'silky']);
  expect(proposal.statements[0]!.options.find((o) => o.option === 'medium')!.agree).toBe(3);
  expect(proposal.findings.map((f) => f.code)).toEqual(
    expect.arrayContaining(['venue_age', 'few_tasters', 'offset_of']),
  );
});

it('two tasters call acidity half a step higher in an earlier session', () => {
  const subject = scoresOverTime([named('Getting to know the panel')]).find(
    (s) => s.name === 'acidity level',
  )!;
  const offsets = Object.fromEntries(calibrate(subject.scores).map((t) => [t.taster, t.offset]));
  expect(offsets.Lena).toBeCloseTo(0.5, 12);
  expect(offsets.Milo).toBeCloseTo(0.5, 12);
});

it('nine of fifteen triangles are right', () => {
  expect(tablesOf(named('Is the step-down worth it?'))[0]!.input).toMatchObject({ correct: 9, answers: 15 });
});
