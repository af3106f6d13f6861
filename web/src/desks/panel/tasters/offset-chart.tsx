import type { TasterCalibration } from '@pourline/core';
import { formatNumber, t } from '../../../words/index.ts';
import { useWidth } from '../../grind/chart/use-width.ts';
import { Axes, marksIn } from '../parts/axes.tsx';

const ROOM = { left: 110, right: 20, top: 10, foot: 40 };
const ROW = 30;

/** Offset of every taster with twice its error, around the line of the others. */
export function OffsetChart({ tasters }: { tasters: readonly TasterCalibration[] }) {
  const [ref, width] = useWidth<HTMLDivElement>(520);
  const reach =
    Math.max(0.5, ...tasters.map((one) => Math.abs(one.offset) + 2 * (one.offset_se ?? 0))) * 1.08;
  const height = ROOM.top + tasters.length * ROW + ROOM.foot;
  const x = (v: number): number => ROOM.left + ((v + reach) / (2 * reach)) * (width - ROOM.left - ROOM.right);
  return (
    <figure className="panel-chart" ref={ref}>
      <svg
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={tasters.map((one) => `${one.taster} ${formatNumber(one.offset, 2)}`).join(', ')}
      >
        <Axes
          width={width}
          height={height}
          room={ROOM}
          x={{
            marks: marksIn(-reach, reach, 5),
            at: x,
            words: (v) => `${v > 0 ? '+' : ''}${formatNumber(v, Number.isInteger(v) ? 0 : 1)}`,
            title: t('panel.tasters.axis'),
          }}
          y={{ marks: [], at: () => 0 }}
        />
        <line className="chart-planned" x1={x(0)} x2={x(0)} y1={ROOM.top} y2={height - ROOM.foot} />
        {tasters.map(({ taster, offset, offset_se }, i) => {
          const y = ROOM.top + i * ROW + ROW / 2;
          return (
            <g key={taster}>
              <text x={ROOM.left - 10} y={y + 4} textAnchor="end">
                {taster.length > 13 ? `${taster.slice(0, 12)}…` : taster}
              </text>
              {offset_se !== null && (
                <line
                  className="offset-doubt"
                  x1={x(offset - 2 * offset_se)}
                  x2={x(offset + 2 * offset_se)}
                  y1={y}
                  y2={y}
                />
              )}
              <circle className="rank-dot" cx={x(offset)} cy={y} r={5} />
            </g>
          );
        })}
      </svg>
    </figure>
  );
}
