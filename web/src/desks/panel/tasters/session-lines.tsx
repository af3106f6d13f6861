import { type CalibrationSubject, calibrate } from '@pourline/core';
import { useMemo } from 'react';
import { formatNumber, t } from '../../../words/index.ts';
import { useWidth } from '../../grind/chart/use-width.ts';
import { Axes, marksIn } from '../parts/axes.tsx';
import { lettersFor } from '../results/score-chart.tsx';

const ROOM = { left: 40, right: 24, top: 12, foot: 40 };
const HEIGHT = 210;

/** Offset of every taster session by session; each line carries the taster's letter at every session. */
export function SessionLines({ subject }: { subject: CalibrationSubject }) {
  const [ref, width] = useWidth<HTMLDivElement>(520);
  const { scores, sessions } = subject;
  const points = useMemo(
    () =>
      sessions.flatMap((_, i) =>
        calibrate(scores.filter((s) => s.session === i + 1)).map(({ taster, offset }) => ({
          taster,
          offset,
          at: i,
        })),
      ),
    [scores, sessions],
  );
  const tasters = [...new Set(points.map((p) => p.taster))];
  const letters = lettersFor(tasters);
  const reach = Math.max(0.5, ...points.map((p) => Math.abs(p.offset))) * 1.15;
  const x = (at: number): number =>
    ROOM.left +
    14 +
    (sessions.length > 1 ? at / (sessions.length - 1) : 0.5) * (width - ROOM.left - ROOM.right - 28);
  const y = (v: number): number => ROOM.top + ((reach - v) / (2 * reach)) * (HEIGHT - ROOM.top - ROOM.foot);
  return (
    <figure className="panel-chart" ref={ref}>
      <svg
        width={width}
        height={HEIGHT}
        viewBox={`0 0 ${width} ${HEIGHT}`}
        role="img"
        aria-label={t('panel.tasters.lines')}
      >
        <Axes
          width={width}
          height={HEIGHT}
          room={ROOM}
          x={{
            marks: sessions.map((_, i) => i),
            at: x,
            words: (i) => formatNumber(i + 1),
            title: t('panel.tasters.session_axis'),
          }}
          y={{
            marks: marksIn(-reach, reach, 4),
            at: y,
            words: (v) => formatNumber(v, Number.isInteger(v) ? 0 : 1),
          }}
        />
        {tasters.map((taster) => (
          <path
            key={taster}
            className="chart-line"
            d={points
              .filter((p) => p.taster === taster)
              .map((p, i) => `${i === 0 ? 'M' : 'L'}${x(p.at).toFixed(1)} ${y(p.offset).toFixed(1)}`)
              .join('')}
          />
        ))}
        {together(points, letters).map(({ key, at, offset, words }) => (
          <text key={key} className="score-letter" x={x(at)} y={y(offset) + 5} textAnchor="middle">
            {words}
          </text>
        ))}
      </svg>
      <figcaption className="quiet-text">
        {tasters.map((taster) => `${letters.get(taster)} ${taster}`).join(', ')}.{' '}
        {sessions.map((name, i) => `${i + 1} ${name}`).join(', ')}.
      </figcaption>
    </figure>
  );
}

/** Letters that would stand on one another, side by side instead. */
function together(
  points: readonly { taster: string; at: number; offset: number }[],
  letters: ReadonlyMap<string, string>,
): { key: string; at: number; offset: number; words: string }[] {
  const places = new Map<string, { key: string; at: number; offset: number; words: string }>();
  for (const { taster, at, offset } of points) {
    const key = `${at} ${offset.toFixed(2)}`;
    const place = places.get(key) ?? { key, at, offset, words: '' };
    place.words += letters.get(taster) ?? '';
    places.set(key, place);
  }
  return [...places.values()];
}
