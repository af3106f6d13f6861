import { formatNumber, t } from '../../../words/index.ts';
import { useWidth } from '../../grind/chart/use-width.ts';
import { Axes, marksIn } from '../parts/axes.tsx';

interface RankChartProps {
  cups: readonly string[];
  rank_sums: readonly number[];
  tasters: number;
  /** Sums that lie this far apart differ. */
  least_difference: number;
}

const ROOM = { left: 16, right: 16, top: 26, foot: 40 };

/** Rank sums on one line, most first, and the length by which two must be apart. */
export function RankChart({ cups, rank_sums, tasters, least_difference }: RankChartProps) {
  const [ref, width] = useWidth<HTMLDivElement>(520);
  const [low, high] = [tasters, tasters * cups.length];
  const rows = cups.map((cup, i) => ({ cup, sum: rank_sums[i]! })).sort((a, b) => a.sum - b.sum);
  const height = ROOM.top + rows.length * 24 + ROOM.foot;
  const x = (v: number): number =>
    ROOM.left + ((v - low) / Math.max(1, high - low)) * (width - ROOM.left - ROOM.right);
  const measure = Math.min(least_difference, high - low);
  return (
    <figure className="panel-chart" ref={ref}>
      <svg
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={rows.map(({ cup, sum }) => `${cup} ${formatNumber(sum, 1)}`).join(', ')}
      >
        <Axes
          width={width}
          height={height}
          room={ROOM}
          x={{ marks: marksIn(low, high, 6), at: x, title: t('panel.results.rank_sum') }}
          y={{ marks: [], at: () => 0 }}
        />
        <line className="rank-measure" x1={x(low)} x2={x(low + measure)} y1={12} y2={12} />
        <text className="chart-word" x={x(low + measure) + 6} y={16}>
          {t('panel.results.must_be_apart', { least: formatNumber(least_difference, 1) })}
        </text>
        {rows.map(({ cup, sum }, i) => {
          const y = ROOM.top + 12 + i * 24;
          const right = x(sum) < width * 0.7;
          return (
            <g key={cup}>
              <line className="score-row" x1={ROOM.left} x2={x(sum)} y1={y} y2={y} />
              <circle className="rank-dot" cx={x(sum)} cy={y} r={5} />
              <text
                className="chart-word chart-word-main"
                x={x(sum) + (right ? 10 : -10)}
                y={y + 4}
                textAnchor={right ? 'start' : 'end'}
              >
                {cup}
              </text>
            </g>
          );
        })}
      </svg>
    </figure>
  );
}
