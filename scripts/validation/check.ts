/** How far a source was followed up. */
export type Tag =
  | 'computed' // exact, or worked out from a formula named in the source
  | 'read' // the figure was read in the source
  | 'second-hand' // quoted elsewhere, the source itself not opened
  | 'from memory'
  | 'common practice';

/** One figure of a check: what it must be, and the interval that counts as agreement. */
export interface Figure {
  label: string;
  unit: string;
  /** As published or computed, in words. */
  expected: string;
  low: number;
  high: number;
  /** Digits after the point. */
  digits: number;
}

/** A check of the engine against a source. */
export interface Check {
  id: string;
  title: string;
  source: string;
  tag: Tag;
  /** Against a known answer, a measurement, or a direction that is beyond doubt. */
  kind: 'exact' | 'measured' | 'trend';
  figures: readonly Figure[];
  /** What the engine gives, one number a figure, in their order. */
  run: () => readonly number[];
  /** What the reader should know: what was chosen by this very figure, what is taken for granted. */
  note?: string;
  /** Why it cannot hold, in terms of physics; only on checks that fail. */
  why?: string;
}

/** A check that cannot be made, because its data could not be had. */
export interface Gap {
  id: string;
  title: string;
  source: string;
  tag: Tag;
  /** What is missing, and what stands in for it. */
  gap: string;
}

export type Verdict = 'holds' | 'fails';

/** A check that was run. */
export interface Outcome {
  check: Check;
  got: readonly number[];
  /** One a figure. */
  verdicts: readonly Verdict[];
  verdict: Verdict;
}

/** Runs a check. @throws RangeError when it gives another number of figures than it lists */
export function outcomeOf(check: Check): Outcome {
  const got = check.run();
  if (got.length !== check.figures.length)
    throw new RangeError(`${check.id} lists ${check.figures.length} figures and gives ${got.length}`);
  const verdicts = check.figures.map(
    ({ low, high }, i): Verdict => (got[i]! >= low && got[i]! <= high ? 'holds' : 'fails'),
  );
  return { check, got, verdicts, verdict: verdicts.every((v) => v === 'holds') ? 'holds' : 'fails' };
}

/** A figure within `within` of a value. */
export const near = (label: string, unit: string, value: number, within: number, digits = 3): Figure => ({
  label,
  unit,
  expected: `${value.toFixed(digits)} ± ${within.toPrecision(2)}`,
  low: value - within,
  high: value + within,
  digits,
});

/** A figure within a share of a value. */
export const nearShare = (label: string, unit: string, value: number, share: number, digits = 3): Figure => ({
  ...near(label, unit, value, value * share, digits),
  expected: `${value.toFixed(digits)} ± ${(share * 100).toPrecision(2)} %`,
});

/** A figure between two limits. */
export const between = (label: string, unit: string, low: number, high: number, digits = 2): Figure => ({
  label,
  unit,
  expected: `${low.toFixed(digits)} – ${high.toFixed(digits)}`,
  low,
  high,
  digits,
});

/** A figure that must be greater than 0: a step in the right direction. */
export const rises = (label: string, unit: string, digits = 3): Figure => ({
  label,
  unit,
  expected: '> 0',
  low: Number.MIN_VALUE,
  high: Number.POSITIVE_INFINITY,
  digits,
});

/** A figure that must not exceed a limit. */
export const atMost = (label: string, unit: string, limit: number, digits = 3): Figure => ({
  label,
  unit,
  expected: `≤ ${limit}`,
  low: Number.NEGATIVE_INFINITY,
  high: limit,
  digits,
});

/** Smallest step between neighbours of a row: positive when it rises throughout. */
export const smallestRise = (values: readonly number[]): number =>
  Math.min(...values.slice(1).map((x, i) => x - values[i]!));
