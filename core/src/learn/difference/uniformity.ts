import { holm } from '../../panel/check-all.ts';
import { chiSquaredAbove, fAbove } from '../../panel/distributions.ts';
import { chanceWords, type Finding, MAYBE, writtenP } from '../../panel/findings.ts';
import { findRoot } from '../../panel/optimise.ts';
import { upperTail } from './estimate.ts';
import { shownTo } from './finding.ts';
import { differenceFinding as finding } from './sentences.ts';
import type { CupFigure, CupUniformity, DifferenceVerdict, FigureUniformity } from './types.ts';

/** The x that a χ² variable exceeds with probability p; df a whole number. */
const chiSquaredUpper = (p: number, df: number): number =>
  Math.exp(findRoot((v) => chiSquaredAbove(Math.exp(v), df) - p, -30, 12));

/** A figure with the verdict on it. */
interface Judged {
  of: CupFigure;
  found: FigureUniformity;
  verdict: DifferenceVerdict;
  /** p corrected for how many figures were looked at. */
  p: number | null;
}

/**
 * Were cups that were meant to be the same, the same? Each figure's scatter is held against the person's own earlier sets (F), the
 * measurement (χ²) and what a guest would notice; p are corrected for the number of figures (Holm). Three cups by themselves say
 * next to nothing of a hand, and the interval of the standard deviation shows that.
 */
export function cupsAlike(figures: readonly CupFigure[], alpha = 0.05): CupUniformity {
  const found = figures.map((of) => ({ of, found: uniformityOf(of) }));
  const tested = found.filter(({ found: { p } }) => p !== null);
  const corrected = holm(tested.map(({ found: { p } }) => p!));
  const judged = found.map(({ of, found: one }): Judged => {
    const at = tested.findIndex((t) => t.of === of);
    const p = at < 0 ? null : corrected[at]!;
    return { of, found: one, p, verdict: verdictOf(of, one, p, alpha) };
  });
  return {
    verdict: overall(judged.map(({ verdict }) => verdict)),
    figures: judged.map((one) => one.found),
    findings: judged.flatMap((one) => say(one, alpha)),
  };
}

function uniformityOf({ name, unit, values, history, limit }: CupFigure): FigureUniformity {
  const known = values.flatMap((value, cup) => (value === null ? [] : [{ value, cup }]));
  const n = known.length;
  const mean = known.reduce((t, { value }) => t + value, 0) / n;
  const variance = n > 1 ? known.reduce((t, { value }) => t + (value - mean) ** 2, 0) / (n - 1) : Number.NaN;
  const sd = Math.sqrt(variance);
  const range =
    n > 0 ? Math.max(...known.map((k) => k.value)) - Math.min(...known.map((k) => k.value)) : Number.NaN;
  const df = n - 1;
  const historyDf = history ? Math.max(1, history.sets * df) : 0;
  const p = history && n > 1 ? fAbove(variance / history.sd ** 2, df, historyDf) : null;
  return {
    name,
    unit,
    count: n,
    mean,
    range,
    sd,
    sd_low: n > 1 ? sd * Math.sqrt(df / chiSquaredUpper(0.05, df)) : Number.NaN,
    sd_high: n > 1 ? sd * Math.sqrt(df / chiSquaredUpper(0.95, df)) : Number.NaN,
    p,
    worse_than: p === null ? null : 1 - p,
    odd: n > 2 ? oddOne(known, history && { sd: history.sd, df: historyDf }) : null,
    within_limit: limit === null || n < 2 ? null : range <= limit,
  };
}

/** The cup farthest from the mean of the others; p corrected for having looked at all of them. */
function oddOne(
  known: readonly { value: number; cup: number }[],
  history: { sd: number; df: number } | null,
): FigureUniformity['odd'] {
  const n = known.length;
  const total = known.reduce((t, { value }) => t + value, 0);
  const away = known.map(({ value, cup }) => ({ cup, away: value - (total - value) / (n - 1) }));
  const far = away.reduce((a, b) => (Math.abs(b.away) > Math.abs(a.away) ? b : a));
  if (!history) return { ...far, p: null };
  const t = Math.abs(far.away) / (history.sd * Math.sqrt(1 + 1 / (n - 1)));
  return { ...far, p: Math.min(1, 2 * n * upperTail(t, history.df)) };
}

/** Chance that equal cups would be measured so far apart. */
const byMeasurement = ({ doubt }: CupFigure, { sd, count }: FigureUniformity): number =>
  doubt > 0 ? chiSquaredAbove(((count - 1) * sd * sd) / doubt ** 2, count - 1) : sd === 0 ? 1 : 0;

function verdictOf(
  of: CupFigure,
  found: FigureUniformity,
  p: number | null,
  alpha: number,
): DifferenceVerdict {
  if (found.count < 2) return 'cannot';
  // A range is uncertain by what the measurement does to its two ends.
  const sure = 1.645 * Math.SQRT2 * of.doubt;
  if (of.limit !== null && found.range + sure <= of.limit) return 'same';
  if (of.limit !== null && found.range - sure > of.limit) return 'clear';
  if (p !== null && p <= alpha) return 'clear';
  if (p !== null && p <= MAYBE) return 'maybe';
  if (p === null && of.limit === null) return 'cannot';
  if (p === null) return 'maybe';
  return 'not_shown';
}

/** The cups as a whole are as different as their most different figure. */
function overall(verdicts: readonly DifferenceVerdict[]): DifferenceVerdict {
  for (const verdict of ['clear', 'maybe', 'not_shown', 'same'] as const)
    if (verdicts.includes(verdict)) return verdict;
  return 'cannot';
}

function say({ of, found, verdict, p }: Judged, alpha: number): Finding[] {
  const show = (v: number) => shownTo(v, of.decimals);
  const values = {
    figure: of.name,
    unit: of.unit,
    range: show(found.range),
    count: found.count,
    sd_low: show(found.sd_low),
    sd_high: show(found.sd_high),
    doubt: show(of.doubt),
    limit: show(of.limit ?? 0),
  };
  if (found.count < 2) return [finding('cannot', 'cups_one', values)];
  const said: Finding[] = [];
  if (of.limit !== null && verdict === 'same') said.push(finding('clear', 'cups_same', values));
  else if (of.limit !== null && found.within_limit === false)
    said.push(finding(verdict === 'clear' ? 'clear' : 'maybe', 'cups_over_limit', values));
  if (byMeasurement(of, found) > MAYBE && verdict !== 'same')
    return [...said, finding('not_shown', 'cups_measurement', values)];
  if (p === null) {
    if (verdict !== 'same') said.push(finding('cannot', 'cups_no_history', values));
    return said;
  }
  if (p <= alpha)
    said.push(finding('clear', 'cups_clear', { ...values, chance: chanceWords(p), p: writtenP(p) }));
  else if (p <= MAYBE) said.push(finding('maybe', 'cups_maybe', { ...values, p: writtenP(p) }));
  else if (verdict !== 'same')
    said.push(
      finding('not_shown', 'cups_usual', { ...values, share: `${Math.round(found.p! * 100)} of 100` }),
    );
  const { odd } = found;
  if (odd?.p !== null && odd !== null && odd.p <= alpha && p <= MAYBE)
    said.push(
      finding('clear', 'odd_cup', {
        ...values,
        cup: odd.cup + 1,
        away: show(Math.abs(odd.away)),
        side: odd.away > 0 ? 'above' : 'below',
        p: writtenP(odd.p),
      }),
    );
  return said;
}
