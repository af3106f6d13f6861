import { z } from 'zod';
import type { Finding } from '../findings.ts';
import { inputProblem, twice, unknownNames, unless } from '../input-problems.ts';
import { sayTemporal } from '../say-results.ts';
import {
  dominanceLevels,
  spansOfClicks,
  type TemporalRun,
  temporalCurves,
  temporalDifference,
} from '../temporal.ts';
import { alpha, name, type PlainKind, plainKind, seed } from './kind.ts';

const seconds = z.number().min(0).max(7200);
const tick = z.strictObject({ word: name, from_s: seconds, to_s: seconds });
const temporalInput = z.strictObject({
  words: z.array(name).min(1).max(40),
  /** 'check_all': ticks with a beginning and an end; 'dominance': clicks, each word lasting until the next. */
  kind: z.enum(['check_all', 'dominance']).default('check_all'),
  end_s: seconds,
  stretched: z.boolean().default(false),
  fade_s: seconds.nullable().default(null),
  cups: z
    .array(
      z.strictObject({
        cup: name,
        runs: z
          .array(
            z.strictObject({
              taster: name,
              ticks: z.array(tick).max(500).default([]),
              clicks: z
                .array(z.strictObject({ word: name, at_s: seconds }))
                .max(500)
                .default([]),
            }),
          )
          .min(1)
          .max(500),
      }),
    )
    .min(1)
    .max(10),
  alpha,
  seed,
});

function overTime(of: z.output<typeof temporalInput>) {
  const tasters = [...new Set(of.cups.flatMap((c) => c.runs.map((r) => r.taster)))];
  const used = of.cups.flatMap((c, i) =>
    c.runs.flatMap((r, k) => [
      ...r.ticks.map((t, n) => [['cups', i, 'runs', k, 'ticks', n, 'word'], t.word] as const),
      ...r.clicks.map((t, n) => [['cups', i, 'runs', k, 'clicks', n, 'word'], t.word] as const),
    ]),
  );
  const backward = of.cups.flatMap((c, i) =>
    c.runs.flatMap((r, k) =>
      r.ticks.flatMap((t, n) =>
        t.to_s >= t.from_s
          ? []
          : [
              inputProblem(['cups', i, 'runs', k, 'ticks', n, 'to_s'], 'ends_before', {
                value: t.to_s,
                limit: t.from_s,
              }),
            ],
      ),
    ),
  );
  return unless([...twice(['words'], of.words), ...unknownNames(used, of.words), ...backward], () => {
    const word = (text: string) => of.words.indexOf(text);
    const runsOf = (cup: (typeof of.cups)[number]): TemporalRun[] =>
      cup.runs.map((r) => ({
        taster: tasters.indexOf(r.taster),
        ticks:
          of.kind === 'dominance'
            ? spansOfClicks(
                r.clicks.map((c) => ({ word: word(c.word), at_s: c.at_s })),
                of.end_s,
              )
            : r.ticks.map((t) => ({ ...t, word: word(t.word) })),
      }));
    const grid = {
      words: of.words.length,
      end_s: of.stretched ? null : of.end_s,
      fade_s: of.fade_s,
      seed: of.seed,
    };
    const runs = of.cups.map(runsOf);
    const curves = of.cups.map(({ cup }, i) => ({
      cup,
      ...temporalCurves(runs[i]!, grid),
      dominance: of.kind === 'dominance' ? dominanceLevels(of.words.length, runs[i]!.length) : null,
    }));
    const [a, b] = runs;
    const difference = a && b ? temporalDifference(a, b, grid) : null;
    const both = tasters.filter(
      (_, t) => a?.some((r) => r.taster === t) && b?.some((r) => r.taster === t),
    ).length;
    const findings: Finding[] = difference
      ? [sayTemporal(difference, of.words, both, of.stretched ? '%' : 's', of.alpha)]
      : [];
    return { figures: { words: of.words, curves, difference }, findings };
  });
}

/** Words over time. */
export const PLAIN_OVER_TIME = {
  temporal: plainKind(
    'words over time: curves with bands, and whether two cups differ anywhere',
    temporalInput,
    {
      words: ['citrus', 'sweet'],
      end_s: 40,
      cups: ['A', 'B'].map((cup, c) => ({
        cup,
        runs: ['Ines', 'Joris', 'Kei', 'Lena', 'Milo', 'Nora'].map((taster, t) => ({
          taster,
          ticks: [
            { word: 'citrus', from_s: 2 + t, to_s: 12 + t + 10 * c },
            { word: 'sweet', from_s: 14 + t, to_s: 38 },
          ],
        })),
      })),
    },
    overTime,
  ),
} satisfies Record<string, PlainKind>;
