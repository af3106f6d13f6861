import { z } from 'zod';
import { assessors } from '../assessors.ts';
import { bradleyTerry, worthDifference } from '../bradley-terry.ts';
import { type Finding, finding, percent, rounded, writtenP } from '../findings.ts';
import { inputProblem, twice, unknownNames, unless } from '../input-problems.ts';
import { panelAnova } from '../panel-anova.ts';
import { type PanelScore, panelMixed } from '../panel-mixed.ts';
import { procrustes } from '../procrustes.ts';
import { friedman, pageTest } from '../ranking.ts';
import { sayPage, sayPanel, sayRanking, sayRankingPlan, sayWorths } from '../say-results.ts';
import { alpha, count, name, type PlainKind, plainKind, score, seed, some } from './kind.ts';

const names = (least: number) => z.array(name).min(least).max(40);
/** Tables [tasters][cups][repeats] of scores that are complete and balanced; null otherwise. */
function balancedTable(scores: readonly PanelScore[]): { tasters: string[]; table: number[][][] } | null {
  if (scores.some((s) => s.window !== undefined)) return null;
  const tasters = [...new Set(scores.map((s) => s.taster))];
  const cups = [...new Set(scores.map((s) => s.cup))];
  const table = tasters.map((t) =>
    cups.map((c) => scores.filter((s) => s.taster === t && s.cup === c).map((s) => s.score)),
  );
  const repeats = table[0]![0]!.length;
  const even = repeats > 0 && table.every((row) => row.every((cell) => cell.length === repeats));
  return even && tasters.length > 1 && cups.length > 1 ? { tasters, table } : null;
}

/** Rankings, preferences and scores. */
export const PLAIN_RATINGS = {
  ranking: plainKind(
    'cups ranked or scored by every taster: Friedman, exact p, which pairs differ; Page when an order was predicted',
    z.strictObject({
      cups: names(2),
      scores: z.array(z.array(score)).min(1).max(500),
      predicted: z.array(name).nullable().default(null),
      alpha,
      seed,
    }),
    {
      cups: ['A', 'B', 'C'],
      scores: [
        [1, 2, 3],
        [1, 3, 2],
        [1, 2, 3],
        [2, 1, 3],
      ],
      predicted: ['A', 'B', 'C'],
    },
    (of) => {
      const rows = of.scores.flatMap((row, i) =>
        row.length === of.cups.length
          ? []
          : [inputProblem(['scores', i], 'row_length', { value: row.length, limit: of.cups.length })],
      );
      const order = of.predicted ?? [];
      const wrong = [
        ...rows,
        ...twice(['cups'], of.cups),
        ...twice(['predicted'], order),
        ...unknownNames(
          order.map((n, i) => [['predicted', i], n] as const),
          of.cups,
        ),
        ...(of.predicted && order.length < of.cups.length
          ? [inputProblem(['predicted'], 'row_length', { value: order.length, limit: of.cups.length })]
          : []),
      ];
      return unless(wrong, () => {
        const found = friedman(of.scores, of.alpha, of.seed);
        const places = order.map((n) => of.cups.indexOf(n));
        const trend = of.predicted
          ? pageTest(
              of.scores.map((row) => places.map((c) => row[c]!)),
              of.seed,
            )
          : null;
        return {
          figures: { ...found, cups: of.cups, page: trend },
          findings: [...sayRanking(found, of.cups, of.alpha), ...(trend ? [sayPage(trend, of.alpha)] : [])],
        };
      });
    },
  ),
  'ranking-plan': plainKind(
    'before pouring: can so many tasters show a ranking of so many cups at all?',
    z.strictObject({ tasters: some, cups: z.int().min(2).max(20), alpha }),
    { tasters: 3, cups: 4 },
    (of) => ({ ok: true, value: { figures: {}, findings: [sayRankingPlan(of.tasters, of.cups, of.alpha)] } }),
  ),
  pairs: plainKind(
    'which cups are preferred, from pairs? Worths with ties and order effect',
    z.strictObject({
      cups: names(2),
      pairs: z
        .array(
          z.strictObject({
            first: name,
            second: name,
            first_wins: count,
            second_wins: count,
            ties: count.default(0),
          }),
        )
        .min(1)
        .max(2000),
      order_effect: z.boolean().default(false),
      penalty: z.enum(['none', 'firth', 'as needed']).default('as needed'),
      alpha,
    }),
    {
      cups: ['A', 'B', 'C'],
      pairs: [
        { first: 'A', second: 'B', first_wins: 7, second_wins: 3 },
        { first: 'B', second: 'C', first_wins: 4, second_wins: 5, ties: 1 },
        { first: 'C', second: 'A', first_wins: 2, second_wins: 8 },
      ],
    },
    (of) => {
      const wrong = [
        ...twice(['cups'], of.cups),
        ...unknownNames(
          of.pairs.flatMap((p, i) => [
            [['pairs', i, 'first'], p.first] as const,
            [['pairs', i, 'second'], p.second] as const,
          ]),
          of.cups,
        ),
        ...of.pairs.flatMap((p, i) =>
          p.first === p.second ? [inputProblem(['pairs', i], 'same_twice', { value: p.first })] : [],
        ),
      ];
      if (wrong.length > 0) return { ok: false, problems: wrong };
      const counts = of.pairs.map((p) => ({
        ...p,
        first: of.cups.indexOf(p.first),
        second: of.cups.indexOf(p.second),
      }));
      const fit = bradleyTerry(of.cups.length, counts, {
        order_effect: of.order_effect,
        penalty: of.penalty,
      });
      if (fit === null)
        return {
          ok: false,
          problems: [inputProblem(['pairs'], 'not_linked', { groups: of.cups.join(' | ') })],
        };
      const differences = of.cups.flatMap((first, a) =>
        of.cups.slice(a + 1).map((second, k) => ({ first, second, ...worthDifference(fit, a, a + 1 + k) })),
      );
      return {
        ok: true,
        value: {
          figures: { cups: of.cups, ...fit, differences },
          findings: sayWorths(fit, of.cups, of.alpha),
        },
      };
    },
  ),
  profiles: plainKind(
    'free profiles, each taster with own attributes: is there a common picture of the cups?',
    z.strictObject({
      cups: names(3),
      profiles: z
        .array(
          z.strictObject({
            taster: name,
            attributes: z.array(name).min(1).max(40),
            scores: z.array(z.array(score)).min(3).max(40),
          }),
        )
        .min(2)
        .max(60),
      alpha,
      seed,
    }),
    {
      cups: ['A', 'B', 'C', 'D'],
      profiles: [
        {
          taster: 'Ines',
          attributes: ['lemon', 'body'],
          scores: [
            [8, 2],
            [6, 4],
            [3, 7],
            [1, 6],
          ],
        },
        { taster: 'Joris', attributes: ['sharp'], scores: [[7], [6], [2], [2]] },
        {
          taster: 'Kei',
          attributes: ['round', 'sour', 'sweet'],
          scores: [
            [2, 6, 5],
            [3, 5, 5],
            [6, 2, 6],
            [6, 1, 4],
          ],
        },
      ],
    },
    (of) => {
      const wrong = [
        ...twice(['cups'], of.cups),
        ...twice(
          ['profiles'],
          of.profiles.map((p) => p.taster),
        ),
        ...of.profiles.flatMap((p, i) => [
          ...(p.scores.length === of.cups.length
            ? []
            : [
                inputProblem(['profiles', i, 'scores'], 'row_length', {
                  value: p.scores.length,
                  limit: of.cups.length,
                }),
              ]),
          ...p.scores.flatMap((row, k) =>
            row.length === p.attributes.length
              ? []
              : [
                  inputProblem(['profiles', i, 'scores', k], 'profile_width', {
                    value: row.length,
                    limit: p.attributes.length,
                  }),
                ],
          ),
        ]),
      ];
      return unless(wrong, () => {
        const found = procrustes(of.profiles, of.seed);
        if (found === null) return { figures: {}, findings: [finding('cannot', 'profiles_flat')] };
        const clear = found.p.p <= of.alpha;
        const values = { p: writtenP(found.p.p), share: percent(found.agreement) };
        // Twice an even share of what is left over; our choice.
        const apart = found.tasters.filter(
          (t) => found.tasters.length > 2 && t.residual_share > 2 / found.tasters.length,
        );
        return {
          figures: { cups: of.cups, ...found },
          findings: [
            finding(clear ? 'clear' : 'not_shown', clear ? 'profiles_clear' : 'profiles_not_shown', values),
            ...apart.map((t) =>
              finding('caution', 'profile_apart', { taster: t.taster, share: percent(t.residual_share) }),
            ),
          ],
        };
      });
    },
  ),
  scores: plainKind(
    'scores of a panel: do cups differ for other tasters too, and how does each taster do?',
    z.strictObject({
      scores: z
        .array(
          z.strictObject({
            taster: name,
            cup: name,
            score,
            session: name.optional(),
            window: name.optional(),
          }),
        )
        .min(4)
        .max(2000),
      alpha,
    }),
    {
      scores: ['Ines', 'Joris', 'Kei'].flatMap((taster, t) =>
        ['A', 'B'].flatMap((cup, c) =>
          [0, 1].map((r) => ({ taster, cup, score: 6 + c + 0.25 * ((t + r) % 2) + 0.1 * t * c })),
        ),
      ),
    },
    (of) => {
      const scores: PanelScore[] = of.scores.map(({ session, window, ...rest }) => ({
        ...rest,
        ...(session === undefined ? {} : { session }),
        ...(window === undefined ? {} : { window }),
      }));
      const mixed = panelMixed(scores);
      if (mixed === null)
        return {
          ok: false,
          problems: [
            inputProblem(['scores'], 'not_enough', {
              value: scores.length,
              limit: new Set(scores.map((s) => s.cup)).size + 2,
            }),
          ],
        };
      const balanced = balancedTable(scores);
      if (balanced === null)
        return { ok: true, value: { figures: { mixed }, findings: sayMixed(mixed, of.alpha) } };
      const anova = panelAnova(balanced.table);
      const people = assessors(balanced.table);
      return {
        ok: true,
        value: {
          figures: { tasters: balanced.tasters, cups: mixed.cups, anova, assessors: people, mixed },
          findings: sayPanel(anova, people, balanced.tasters, of.alpha),
        },
      };
    },
  ),
} satisfies Record<string, PlainKind>;

function sayMixed(mixed: NonNullable<ReturnType<typeof panelMixed>>, level: number): Finding[] {
  const test = mixed.cup_test;
  if (!test) return [];
  const clear = test.p <= level;
  const values = {
    f: rounded(test.f),
    df1: test.df1,
    df2: rounded(test.df2, 1),
    p: writtenP(test.p),
    alpha: level,
  };
  const findings = [
    finding(clear ? 'clear' : 'not_shown', clear ? 'panel_clear' : 'panel_not_shown', values),
  ];
  if (mixed.window_test && mixed.window_test.p <= level)
    findings.push(finding('clear', 'windows_differ', { p: writtenP(mixed.window_test.p) }));
  if (!clear) return findings;
  return [
    ...findings,
    ...mixed.pairs
      .filter((p) => p.p_holm <= level)
      .map((p) =>
        finding('clear', 'means_apart', {
          first: p.difference > 0 ? p.first : p.second,
          second: p.difference > 0 ? p.second : p.first,
          difference: rounded(Math.abs(p.difference)),
          p: writtenP(p.p_holm),
        }),
      ),
  ];
}
