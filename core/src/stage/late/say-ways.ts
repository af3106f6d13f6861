import { clock, rounded, type StageRemark, stageRemark } from '../remark.ts';
import type { WayOn } from './replan.ts';

/** The best ways on in one sentence each, at most `most` of them: late, nobody reads more. */
export function sayWays(ways: readonly WayOn[], ticksPerSecond: number, most = 3): StageRemark[] {
  const remarks: StageRemark[] = [];
  for (const way of ways.slice(0, most)) {
    const values = { ends: clock(way.end / ticksPerSecond), points: rounded(way.points, 2) };
    const said =
      way.left_out.length === 0
        ? stageRemark('note', 'late_keep', values)
        : stageRemark('note', 'late_option', { ...values, what: way.left_out.join(', ') });
    remarks.push(
      way.disqualified
        ? stageRemark('impossible', 'late_disqualified', { option: said.sentence, over: rounded(way.over_s) })
        : said,
    );
  }
  const fewest =
    ways.length === 0 ? [] : ways.reduce((a, b) => (b.broken.length < a.broken.length ? b : a)).broken;
  if (fewest.length > 0)
    remarks.push(
      stageRemark('watch', 'late_lags', {
        count: fewest.length,
        which: fewest
          .map(({ from, to, by }) => `${from} – ${to} (+${rounded(by / ticksPerSecond)} s)`)
          .join(', '),
      }),
    );
  return remarks;
}
