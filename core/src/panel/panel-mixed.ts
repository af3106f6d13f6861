import { holm } from './check-all.ts';
import { fitMixed, type MixedData, type MixedFit } from './mixed-model.ts';
import type { FTest } from './panel-anova.ts';

/** One score of a panel. */
export interface PanelScore {
  taster: string;
  cup: string;
  score: number;
  session?: string;
  /** Window of temperature, for example "hot". */
  window?: string;
}

/** Difference of two cups, freed from who tasted what. */
export interface CupDifference {
  first: string;
  second: string;
  difference: number;
  se: number;
  df: number;
  p: number;
  /** p corrected for the number of pairs (Holm). */
  p_holm: number;
}

/** Mixed model of a panel's scores. */
export interface PanelMixed {
  cups: string[];
  windows: string[];
  /** Mean of each cup over windows, as if every taster had tasted everything. */
  cup_means: { value: number; se: number }[];
  /** Do cups differ? null when there is only one. */
  cup_test: FTest | null;
  /** Do cups differ otherwise in one window than in another? null without windows, or when a cup is missing in one. */
  window_test: FTest | null;
  pairs: CupDifference[];
  variances: MixedFit['variances'];
  residual: number;
}

const levels = <T extends string>(values: readonly T[]): T[] => [...new Set(values)];

/** Contrasts of a factor, each level against the first. */
const against = (count: number, level: number): number[] =>
  Array.from({ length: count - 1 }, (_, k) => (level === k + 1 ? 1 : 0));

/**
 * Scores of a panel that need not be balanced: cups (and windows with their interaction) fixed; tasters, taster × cup and sessions random.
 * A window is confounded with time since a cup only cools, so its own effect is fitted and not reported. Repeats that everybody scored
 * exactly alike, as happens on a coarse scale, say nothing of the error: they count once. Needs at least two tasters, and more scores
 * than effects; returns null otherwise.
 */
export function panelMixed(given: readonly PanelScore[]): PanelMixed | null {
  const scores = onceIfAlike(given);
  const cups = levels(scores.map((s) => s.cup));
  const windows = levels(scores.map((s) => s.window ?? ''));
  const tasters = levels(scores.map((s) => s.taster));
  const crossed = windows.length > 1 && everyCell(scores, cups, windows);
  const x = scores.map((s) =>
    fixedRow(cups.indexOf(s.cup), windows.indexOf(s.window ?? ''), cups.length, windows.length, crossed),
  );
  const random = randomEffects(scores, tasters, cups);
  if (tasters.length < 2 || scores.length <= x[0]!.length + random.length) return null;
  const fit = fitMixed({ y: scores.map((s) => s.score), x, random });
  const size = x[0]!.length;
  const mean = (cup: number) =>
    average(windows.map((_, w) => fixedRow(cup, w, cups.length, windows.length, crossed)));
  const rows = cups.map((_, c) => mean(c));
  const differ = (a: number, b: number) => rows[a]!.map((v, i) => v - rows[b]![i]!);
  const pairs = cups.flatMap((first, a) =>
    cups.slice(a + 1).map((second, k) => {
      const contrast = differ(a, a + 1 + k);
      const test = fit.test([contrast]);
      return {
        first,
        second,
        difference: product(contrast, fit.beta),
        se: spread(contrast, fit),
        df: test.df2,
        p: test.p,
      };
    }),
  );
  const corrected = holm(pairs.map((p) => p.p));
  return {
    cups,
    windows: windows.length > 1 ? windows : [],
    cup_means: rows.map((row) => ({ value: product(row, fit.beta), se: spread(row, fit) })),
    cup_test: cups.length > 1 ? fit.test(cups.slice(1).map((_, k) => differ(k + 1, 0))) : null,
    window_test: crossed ? fit.test(interactionRows(size, cups.length, windows.length)) : null,
    pairs: pairs.map((p, i) => ({ ...p, p_holm: corrected[i]! })),
    variances: fit.variances,
    residual: fit.residual,
  };
}

/** The scores with one of each set of repeats, when no repeat differs from its first; otherwise all of them. */
function onceIfAlike(scores: readonly PanelScore[]): readonly PanelScore[] {
  const first = new Map<string, PanelScore>();
  for (const one of scores) {
    const cell = JSON.stringify([one.taster, one.cup, one.session, one.window]);
    const known = first.get(cell);
    if (known && known.score !== one.score) return scores;
    if (!known) first.set(cell, one);
  }
  return [...first.values()];
}

const everyCell = (
  scores: readonly PanelScore[],
  cups: readonly string[],
  windows: readonly string[],
): boolean =>
  cups.every((cup) => windows.every((w) => scores.some((s) => s.cup === cup && (s.window ?? '') === w)));

/** Intercept, cups, windows, and cups × windows when every cell is filled. */
function fixedRow(cup: number, window: number, cups: number, windows: number, crossed: boolean): number[] {
  const [c, w] = [against(cups, cup), against(windows, window)];
  return [1, ...c, ...w, ...(crossed ? c.flatMap((a) => w.map((b) => a * b)) : [])];
}

/** Unit rows of the interaction's parameters, which come last. */
function interactionRows(size: number, cups: number, windows: number): number[][] {
  const count = (cups - 1) * (windows - 1);
  return Array.from({ length: count }, (_, k) =>
    Array.from({ length: size }, (__, i) => (i === size - count + k ? 1 : 0)),
  );
}

/** Tasters, taster × cup where a cup was scored more than once by someone, sessions where there are several. */
function randomEffects(
  scores: readonly PanelScore[],
  tasters: readonly string[],
  cups: readonly string[],
): MixedData['random'] {
  const cells = scores.map((s) => tasters.indexOf(s.taster) * cups.length + cups.indexOf(s.cup));
  const sessions = levels(scores.map((s) => s.session ?? ''));
  const used = [...new Set(cells)];
  return [
    { name: 'taster', group: scores.map((s) => tasters.indexOf(s.taster)) },
    ...(used.length < cells.length
      ? [{ name: 'taster × cup', group: cells.map((c) => used.indexOf(c)) }]
      : []),
    ...(sessions.length > 1
      ? [{ name: 'session', group: scores.map((s) => sessions.indexOf(s.session ?? '')) }]
      : []),
  ];
}

const average = (rows: readonly number[][]): number[] =>
  rows[0]!.map((_, i) => rows.reduce((t, row) => t + row[i]!, 0) / rows.length);
const product = (a: readonly number[], b: readonly number[]) => a.reduce((t, v, i) => t + v * b[i]!, 0);
const spread = (row: readonly number[], fit: MixedFit): number =>
  Math.sqrt(row.reduce((t, a, i) => t + a * product(fit.covariance[i]!, row), 0));
