import type { Protocol } from '@pourline/core';
import { formatNumber, t } from '../../../words/index.ts';
import { useWidth } from '../../grind/chart/use-width.ts';
import { Axes, marksIn } from '../parts/axes.tsx';
import { type PowerAnswer, WANTED } from './power-kernels.ts';

/** Dashes tell the lines apart without colour; each line carries its name as well. */
const DASHES: Readonly<Record<Protocol, string>> = {
  triangle: '',
  duo_trio: '2 4',
  paired: '9 4',
  three_afc: '12 4 2 4',
  tetrad: '5 3',
};
const ROOM = { left: 44, right: 96, top: 14, foot: 40 };
const HEIGHT = 300;

/** Chance to find the difference over the number of answers: saw-toothed, one line a protocol, the planned one drawn full. */
export function PowerChart({ answer, stale }: { answer: PowerAnswer; stale: boolean }) {
  const [ref, width] = useWidth<HTMLDivElement>(640);
  const { question, lines } = answer;
  const last = lines[0]?.power.length ?? 1;
  const planned = question.tasters * question.repeats;
  const x = (n: number): number =>
    ROOM.left + ((n - 1) / Math.max(1, last - 1)) * (width - ROOM.left - ROOM.right);
  const y = (p: number): number => ROOM.top + (1 - p) * (HEIGHT - ROOM.top - ROOM.foot);
  const ends = spread(lines.map(({ protocol, power }) => ({ protocol, y: y(power.at(-1) ?? 0) })));
  return (
    <figure className="panel-chart" ref={ref} data-stale={stale || undefined}>
      <svg
        width={width}
        height={HEIGHT}
        viewBox={`0 0 ${width} ${HEIGHT}`}
        role="img"
        aria-label={t('panel.power.chart_label', {
          answers: planned,
          power: Math.round(
            100 * (lines.find((l) => l.protocol === question.protocol)?.power[planned - 1] ?? 0),
          ),
        })}
      >
        <Axes
          width={width}
          height={HEIGHT}
          room={ROOM}
          x={{ marks: [1, ...marksIn(5, last, 6)], at: x, title: t('panel.power.axis') }}
          y={{ marks: [0, 0.2, 0.4, 0.6, 0.8, 1], at: y, words: (p) => `${formatNumber(100 * p)} %` }}
        />
        <line className="chart-wanted" x1={ROOM.left} x2={width - ROOM.right} y1={y(WANTED)} y2={y(WANTED)} />
        {planned <= last && (
          <>
            <line
              className="chart-planned"
              x1={x(planned)}
              x2={x(planned)}
              y1={ROOM.top}
              y2={HEIGHT - ROOM.foot}
            />
            <text className="chart-word" x={x(planned) + 5} y={ROOM.top + 10}>
              {t('panel.power.planned')}
            </text>
          </>
        )}
        {lines.map(({ protocol, power }) => (
          <path
            key={protocol}
            className={protocol === question.protocol ? 'chart-line chart-line-main' : 'chart-line'}
            strokeDasharray={protocol === question.protocol ? undefined : DASHES[protocol] || '1 3'}
            d={power
              .map((p, i) => `${i === 0 ? 'M' : 'L'}${x(i + 1).toFixed(1)} ${y(p).toFixed(1)}`)
              .join('')}
          />
        ))}
        {ends.map(({ protocol, y: at }) => (
          <text
            key={protocol}
            className={protocol === question.protocol ? 'chart-word chart-word-main' : 'chart-word'}
            x={width - ROOM.right + 6}
            y={at + 4}
          >
            {t(`panel.protocol.${protocol}`)}
          </text>
        ))}
      </svg>
    </figure>
  );
}

/** Names at the ends of lines, moved apart until none stands on another. */
function spread<T extends { y: number }>(ends: readonly T[]): T[] {
  const sorted = [...ends].sort((a, b) => a.y - b.y).map((end) => ({ ...end }));
  for (let i = 1; i < sorted.length; i++) sorted[i]!.y = Math.max(sorted[i]!.y, sorted[i - 1]!.y + 15);
  const over = (sorted.at(-1)?.y ?? 0) - (HEIGHT - ROOM.foot);
  if (over > 0) for (const end of sorted) end.y -= over;
  return sorted;
}
