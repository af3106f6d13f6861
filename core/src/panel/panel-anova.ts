import { fAbove, tQuantile } from './distributions.ts';

/** One line of an analysis of variance. */
export interface AnovaLine {
  ss: number;
  df: number;
  ms: number;
}

/** An F ratio with its degrees of freedom and p. */
export interface FTest {
  f: number;
  df1: number;
  df2: number;
  p: number;
}

/** Sums of squares of a balanced table of tasters × cups × repeats. */
export interface AnovaTable {
  taster: AnovaLine;
  cup: AnovaLine;
  /** Taster × cup; without repeats it is the only error there is. */
  interaction: AnovaLine;
  /** Between repeats; null without repeats. */
  residual: AnovaLine | null;
}

/** Analysis of variance of a panel. */
export interface PanelAnova extends AnovaTable {
  tasters: number;
  cups: number;
  repeats: number;
  cup_means: number[];
  taster_means: number[];
  /** Cups against taster × cup: tasters are a sample of people. The one that counts. */
  cup_test: FTest;
  /** Cups against repeats, as if these were the only tasters in the world; too hopeful. null without repeats. */
  cup_test_fixed: FTest | null;
  /** Do tasters see different differences? null without repeats. */
  interaction_test: FTest | null;
  /** Least difference of two cup means at 5 %, pair by pair. */
  least_difference: number;
  variance: { taster: number; interaction: number; residual: number | null };
}

const line = (ss: number, df: number): AnovaLine => ({ ss, df, ms: df > 0 ? ss / df : 0 });

/** F of one line over another. */
export function fTest(over: AnovaLine, under: AnovaLine): FTest {
  const f = under.ms > 0 ? over.ms / under.ms : over.ms > 0 ? Number.POSITIVE_INFINITY : 0;
  return { f, df1: over.df, df2: under.df, p: fAbove(f, over.df, under.df) };
}

const meanOf = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;

/** Sums of squares of a balanced table [tasters][cups][repeats]. */
export function anovaTable(table: readonly (readonly (readonly number[])[])[]): AnovaTable {
  const [a, p, r] = [table.length, table[0]!.length, table[0]![0]!.length];
  const cells = table.map((row) => row.map(meanOf));
  const tasters = cells.map(meanOf);
  const cups = cells[0]!.map((_, c) => meanOf(cells.map((row) => row[c]!)));
  const grand = meanOf(tasters);
  const squares = (values: readonly number[]) => values.reduce((t, v) => t + v * v, 0);
  const interaction = cells.flatMap((row, i) => row.map((v, c) => v - tasters[i]! - cups[c]! + grand));
  const residual = table.flatMap((row, i) => row.flatMap((cell, c) => cell.map((v) => v - cells[i]![c]!)));
  return {
    taster: line(p * r * squares(tasters.map((v) => v - grand)), a - 1),
    cup: line(a * r * squares(cups.map((v) => v - grand)), p - 1),
    interaction: line(r * squares(interaction), (a - 1) * (p - 1)),
    residual: r > 1 ? line(squares(residual), a * p * (r - 1)) : null,
  };
}

/** The tests that follow from the sums of squares of a balanced table with `repeats`. */
export function anovaTests(
  { taster, cup, interaction, residual }: AnovaTable,
  repeats: number,
): Pick<PanelAnova, 'cup_test' | 'cup_test_fixed' | 'interaction_test' | 'least_difference' | 'variance'> {
  const [a, p] = [taster.df + 1, cup.df + 1];
  return {
    cup_test: fTest(cup, interaction),
    cup_test_fixed: residual && fTest(cup, residual),
    interaction_test: residual && fTest(interaction, residual),
    least_difference: tQuantile(0.975, interaction.df) * Math.sqrt((2 * interaction.ms) / (a * repeats)),
    variance: {
      taster: Math.max(0, (taster.ms - interaction.ms) / (p * repeats)),
      interaction: residual ? Math.max(0, (interaction.ms - residual.ms) / repeats) : interaction.ms,
      residual: residual?.ms ?? null,
    },
  };
}

/**
 * Analysis of variance of a balanced panel, tasters random and cups fixed: F of cups = MS cups / MS (taster × cup), never over
 * the repeats. At least 2 tasters and 2 cups, the same number of repeats in every cell; for anything else see `panelMixed`.
 * @param table [tasters][cups][repeats]
 */
export function panelAnova(table: readonly (readonly (readonly number[])[])[]): PanelAnova {
  const lines = anovaTable(table);
  const cells = table.map((row) => row.map(meanOf));
  const repeats = table[0]![0]!.length;
  return {
    ...lines,
    ...anovaTests(lines, repeats),
    tasters: table.length,
    cups: table[0]!.length,
    repeats,
    cup_means: cells[0]!.map((_, c) => meanOf(cells.map((row) => row[c]!))),
    taster_means: cells.map(meanOf),
  };
}
