import { z } from 'zod';
import { calibrate } from '../calibration.ts';
import { facets } from '../facets.ts';
import { finding, rounded } from '../findings.ts';
import { inputProblem, unless } from '../input-problems.ts';
import { additiveSeverity, linkedGroups } from '../severity.ts';
import { chanceAbove, chanceAhead, totalScore } from '../total-score.ts';
import { count, name, type PlainKind, plainKind, score, some } from './kind.ts';

const category = z.strictObject({
  weight: z.number().min(0).max(100),
  mean: score,
  sd: z.number().min(0).max(100),
  step: z.number().min(0).max(10).default(0),
});

/** Judges and tasters held against each other, and totals. */
export const PLAIN_JUDGES = {
  severity: plainKind(
    'fair means of cups when judges are more and less severe and not all scored everything',
    z.strictObject({
      scores: z
        .array(z.strictObject({ judge: name, cup: name, score }))
        .min(2)
        .max(5000),
    }),
    {
      scores: [
        { judge: 'one', cup: 'A', score: 7 },
        { judge: 'one', cup: 'B', score: 6 },
        { judge: 'two', cup: 'B', score: 7 },
        { judge: 'two', cup: 'C', score: 8 },
      ],
    },
    (of) => {
      const judges = [...new Set(of.scores.map((s) => s.judge))];
      const cups = [...new Set(of.scores.map((s) => s.cup))];
      const rows = of.scores.map((s) => ({
        judge: judges.indexOf(s.judge),
        cup: cups.indexOf(s.cup),
        score: s.score,
      }));
      const found = additiveSeverity(rows);
      if (found)
        return { ok: true, value: { figures: { cups, judges_named: judges, ...found }, findings: [] } };
      const groups = linkedGroups(rows).map((g) => g.cups.map((c) => cups[c]!).join(', '));
      return {
        ok: true,
        value: {
          figures: { groups },
          findings: [finding('cannot', 'judges_not_linked', { groups: groups.length })],
        },
      };
    },
  ),
  facets: plainKind(
    'passes of cups with judges: quality and leniency in logits',
    z.strictObject({
      counts: z
        .array(z.strictObject({ cup: name, judge: name, passes: count, tries: some }))
        .min(4)
        .max(2000),
    }),
    {
      counts: ['A', 'B'].flatMap((cup, c) =>
        ['one', 'two'].map((judge, j) => ({ cup, judge, passes: 7 - 2 * c - j, tries: 10 })),
      ),
    },
    (of) => {
      const wrong = of.counts.flatMap((c, i) =>
        c.passes > c.tries
          ? [inputProblem(['counts', i, 'passes'], 'more_than_all', { value: c.passes, limit: c.tries })]
          : [],
      );
      if (wrong.length > 0) return { ok: false, problems: wrong };
      const cups = [...new Set(of.counts.map((c) => c.cup))];
      const judges = [...new Set(of.counts.map((c) => c.judge))];
      const rows = of.counts.map((c) => ({ ...c, cup: cups.indexOf(c.cup), judge: judges.indexOf(c.judge) }));
      const groups = linkedGroups(rows.map((r) => ({ ...r, score: 0 })));
      return unless(
        groups.length > 1
          ? [
              inputProblem(['counts'], 'not_linked', {
                groups: groups.map((g) => g.cups.map((c) => cups[c]!).join(', ')).join(' | '),
              }),
            ]
          : [],
        () => ({ figures: { cups_named: cups, judges_named: judges, ...facets(rows) }, findings: [] }),
      );
    },
  ),
  total: plainKind(
    'a weighted total with its spread, and the chance to pass a mark or a rival',
    z.strictObject({
      categories: z.array(category).min(1).max(40),
      correlation: z.number().min(-1).max(1).default(0.3),
      mark: z.number().nullable().default(null),
      panels: z.int().min(2).max(1000).optional(),
      rival: z
        .strictObject({ mean: z.number(), sd: z.number().min(0) })
        .nullable()
        .default(null),
    }),
    {
      categories: [
        { weight: 2, mean: 7.5, sd: 0.4 },
        { weight: 1, mean: 8, sd: 0.3 },
      ],
      mark: 22,
    },
    (of) => {
      const total = totalScore(of.categories, of.correlation);
      return {
        ok: true,
        value: {
          figures: {
            ...total,
            chance_above_mark: of.mark === null ? null : chanceAbove(total, of.mark, of.panels),
            chance_ahead_of_rival: of.rival === null ? null : chanceAhead(total, of.rival),
          },
          findings: [],
        },
      };
    },
  ),
  calibration: plainKind(
    'offset, repeatability and drift of each taster over sessions',
    z.strictObject({
      scores: z
        .array(z.strictObject({ taster: name, session: some, cup: name, score }))
        .min(2)
        .max(5000),
      agreed: z.record(z.string(), score).default({}),
      weights: z.enum(['equal', 'by_repeatability']).default('equal'),
    }),
    {
      scores: [1, 2].flatMap((session) =>
        ['Ines', 'Joris'].flatMap((taster, t) =>
          ['x', 'x', 'y'].map((cup, i) => ({ taster, session, cup, score: 6 + 0.5 * t + 0.1 * i })),
        ),
      ),
    },
    (of) => {
      const tasters = calibrate(of.scores, { agreed: of.agreed, weights: of.weights });
      const findings = tasters
        .filter(
          (t) => t.offset_se !== null && Math.abs(t.offset) > 2 * t.offset_se && Math.abs(t.offset) >= 0.1,
        )
        .map((t) =>
          finding('note', 'offset_of', {
            taster: t.taster,
            offset: rounded(Math.abs(t.offset)),
            side: t.offset > 0 ? 'above' : 'below',
            name: 'these cups',
          }),
        );
      return { ok: true, value: { figures: { tasters }, findings } };
    },
  ),
} satisfies Record<string, PlainKind>;
