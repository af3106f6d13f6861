import { tAbove } from './distributions.ts';

/** One score of one taster. */
export interface CalibrationScore {
  taster: string;
  /** Session in order of time, from 1. */
  session: number;
  cup: string;
  score: number;
}

/** A taster over time. */
export interface TasterCalibration {
  taster: string;
  scores: number;
  /** Mean of own score minus that of the other tasters (or the agreed score) for the same cup and session; with its error. */
  offset: number;
  offset_se: number | null;
  /** The same drawn toward 0 by how little is known: what should be taken off a score, if anything is. */
  shrunken_offset: number;
  /** Standard deviation of own repeats of a cup within a session; null without repeats. */
  repeat_sd: number | null;
  repeats: number;
  /** Change of the offset per session, and its p; null with fewer than three sessions. */
  drift: { per_session: number; p: number } | null;
  /** Share of this taster when weights are by repeatability; the same for all when they are equal. Always shown. */
  weight: number;
}

const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
const keyOf = (s: { session: number; cup: string }) => `${s.session}\n${s.cup}`;

/**
 * Offsets, repeatability and drift of each taster. Against the agreed scores of reference cups where there are some, else against the mean of the
 * other tasters on the same cup in the same session. Weights are equal, or inverse to the variance of repeats; never hidden.
 */
export function calibrate(
  scores: readonly CalibrationScore[],
  {
    agreed = {},
    weights = 'equal',
  }: { agreed?: Readonly<Record<string, number>>; weights?: 'equal' | 'by_repeatability' } = {},
): TasterCalibration[] {
  const tasters = [...new Set(scores.map((s) => s.taster))];
  const found = tasters.map((taster) => {
    const differences = offsetsOf(taster, scores, agreed);
    const own = differences.map((d) => d.value);
    const { sd, count } = repeatSpread(scores.filter((s) => s.taster === taster));
    return {
      taster,
      scores: scores.filter((s) => s.taster === taster).length,
      offset: own.length > 0 ? mean(own) : 0,
      offset_se: own.length > 1 ? Math.sqrt(variance(own) / own.length) : null,
      repeat_sd: sd,
      repeats: count,
      drift: driftOf(differences),
    };
  });
  const between = betweenVariance(found);
  const shares = weightShares(found, weights);
  return found.map((t, i) => ({
    ...t,
    shrunken_offset:
      t.offset_se === null || between === 0 ? 0 : (t.offset * between) / (between + t.offset_se ** 2),
    weight: shares[i]!,
  }));
}

function variance(values: readonly number[]): number {
  const m = mean(values);
  return values.reduce((t, v) => t + (v - m) ** 2, 0) / (values.length - 1);
}

/** Own mean minus the rest's (or the agreed score), for every cup of every session. */
function offsetsOf(
  taster: string,
  scores: readonly CalibrationScore[],
  agreed: Readonly<Record<string, number>>,
): { session: number; value: number }[] {
  const cups = new Map<string, { own: number[]; others: number[]; session: number; cup: string }>();
  for (const s of scores) {
    const at = cups.get(keyOf(s)) ?? { own: [], others: [], session: s.session, cup: s.cup };
    cups.set(keyOf(s), at);
    (s.taster === taster ? at.own : at.others).push(s.score);
  }
  return [...cups.values()].flatMap(({ own, others, session, cup }) => {
    const against = agreed[cup] ?? (others.length > 0 ? mean(others) : null);
    return own.length > 0 && against !== null ? [{ session, value: mean(own) - against }] : [];
  });
}

/** Pooled standard deviation of repeats, and how many degrees of freedom it has. */
function repeatSpread(own: readonly CalibrationScore[]): { sd: number | null; count: number } {
  const groups = new Map<string, number[]>();
  for (const s of own) groups.set(keyOf(s), [...(groups.get(keyOf(s)) ?? []), s.score]);
  let [squares, df] = [0, 0];
  for (const values of groups.values()) {
    if (values.length < 2) continue;
    squares += variance(values) * (values.length - 1);
    df += values.length - 1;
  }
  return { sd: df > 0 ? Math.sqrt(squares / df) : null, count: df };
}

/** Straight line of offset over session, with the p of its slope (two-sided t). */
function driftOf(
  differences: readonly { session: number; value: number }[],
): { per_session: number; p: number } | null {
  const sessions = new Set(differences.map((d) => d.session));
  const df = differences.length - 2;
  if (sessions.size < 3 || df < 1) return null;
  const x = differences.map((d) => d.session);
  const y = differences.map((d) => d.value);
  const [mx, my] = [mean(x), mean(y)];
  const sxx = x.reduce((t, v) => t + (v - mx) ** 2, 0);
  const slope = x.reduce((t, v, i) => t + (v - mx) * (y[i]! - my), 0) / sxx;
  const left = y.reduce((t, v, i) => t + (v - my - slope * (x[i]! - mx)) ** 2, 0);
  const se = Math.sqrt(left / df / sxx);
  return { per_session: slope, p: se > 0 ? 2 * tAbove(Math.abs(slope / se), df) : slope === 0 ? 1 : 0 };
}

/** Variance of true offsets between tasters: what is seen minus what chance alone would give, not below 0. */
function betweenVariance(tasters: readonly { offset: number; offset_se: number | null }[]): number {
  const known = tasters.filter((t): t is { offset: number; offset_se: number } => t.offset_se !== null);
  if (known.length < 2) return 0;
  return Math.max(0, variance(known.map((t) => t.offset)) - mean(known.map((t) => t.offset_se ** 2)));
}

function weightShares(
  tasters: readonly { repeat_sd: number | null }[],
  how: 'equal' | 'by_repeatability',
): number[] {
  const sds = tasters.map((t) => t.repeat_sd);
  const known = sds.filter((v): v is number => v !== null && v > 0);
  if (how === 'equal' || known.length < tasters.length) return tasters.map(() => 1 / tasters.length);
  // A taster who once repeated perfectly must not silence the others: no variance below a quarter of the mean one.
  const floor = mean(known.map((v) => v * v)) / 4;
  const raw = known.map((v) => 1 / Math.max(v * v, floor));
  const sum = raw.reduce((a, b) => a + b, 0);
  return raw.map((v) => v / sum);
}
