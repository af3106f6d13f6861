import { type LikedCup, likedCups, type PreferredRegion } from '@pourline/core';
import { useMemo } from 'react';
import { formatNumber, remarkSentence, t } from '../../../words/index.ts';
import { useAnswer } from '../../grind/room/use-answer.ts';
import type { TrialRow } from '../list/rows.ts';
import { theTrialsRoom } from '../room/room.ts';
import { type Room, type Window, xOf, yOf } from './plot-kernels.ts';

const ask = (cups: readonly LikedCup[]): Promise<PreferredRegion> => theTrialsRoom().prefer(cups);

/** Where this campaign's marks say that cups are liked best; null without any mark. */
export function usePreferred(rows: readonly TrialRow[]): PreferredRegion | null {
  const cups = useMemo(() => {
    const found = likedCups(rows);
    return found.length > 0 ? found : null;
  }, [rows]);
  const { output } = useAnswer(ask, cups);
  return cups ? output : null;
}

interface PreferredShapeProps {
  region: PreferredRegion | null;
  view: Window;
  room: Room;
}

/** From this chance on a place is drawn. */
const FAINT = 0.15;

/** Places by their chance of being within half a mark of the best: the likelier, the larger; and the best with its ranges. */
export function PreferredShape({ region, view, room }: PreferredShapeProps) {
  if (!region?.best) return null;
  const { yield_pct, strength_pct, near_best, best } = region;
  const wide = Math.abs(xOf(yield_pct[1]!, view, room) - xOf(yield_pct[0]!, view, room));
  const tall = Math.abs(yOf(strength_pct[1]!, view, room) - yOf(strength_pct[0]!, view, room));
  const cells = yield_pct.flatMap((y, i) =>
    strength_pct.map((s, k) => ({ y, s, chance: near_best[i * strength_pct.length + k]! })),
  );
  const [x0, x1] = best.yield_range_pct.map((y) => xOf(y, view, room));
  const [y0, y1] = best.strength_range_pct.map((s) => yOf(s, view, room));
  const [x, y] = [xOf(best.yield_pct, view, room), yOf(best.strength_pct, view, room)];
  const cross = `M${x0} ${y}H${x1}M${x} ${y0}V${y1}M${x0} ${y - 5}v10M${x1} ${y - 5}v10M${x - 5} ${y0}h10M${x - 5} ${y1}h10`;
  return (
    <g clipPath="url(#strength-yield-clip)">
      {cells
        .filter(({ chance }) => chance >= FAINT)
        .map(({ y: at, s, chance }) => {
          const side = Math.sqrt(chance) * 0.82;
          return (
            <rect
              key={`${at} ${s}`}
              className="preferred-cell"
              x={xOf(at, view, room) - (wide * side) / 2}
              y={yOf(s, view, room) - (tall * side) / 2}
              width={wide * side}
              height={tall * side}
              opacity={0.15 + 0.35 * chance}
            />
          );
        })}
      <path className="preferred-best" d={cross} />
      <path className="preferred-best ink" d={cross} />
    </g>
  );
}

/** The same in words, with how far to trust it. */
export function PreferredText({ region }: { region: PreferredRegion | null }) {
  if (!region) return <p className="quiet-text">{t('trials.preferred.none')}</p>;
  const { best, cups, remarks } = region;
  return (
    <div className="preferred-text">
      {best && (
        <p>
          {t('trials.preferred.best', {
            cups,
            strength: formatNumber(best.strength_pct, 2),
            s0: formatNumber(best.strength_range_pct[0], 2),
            s1: formatNumber(best.strength_range_pct[1], 2),
            yield: formatNumber(best.yield_pct, 1),
            y0: formatNumber(best.yield_range_pct[0], 1),
            y1: formatNumber(best.yield_range_pct[1], 1),
          })}
        </p>
      )}
      {remarks.map((remark) => (
        <p key={remark.sentence} className="quiet-text">
          {remarkSentence(remark)}
        </p>
      ))}
    </div>
  );
}
