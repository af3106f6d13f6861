import { formatNumber, t } from '../../../words/index.ts';

interface Curve {
  cup: string;
  times: number[];
  shares: number[][];
  low: number[][];
  high: number[][];
}

const WIDTH = 260;
const HEIGHT = 110;
const ROOM = { left: 30, top: 8, right: 8, foot: 22 };
/** Dashes by cup: the first full, the second dashed, the third dotted. */
const DASHES = [undefined, '7 4', '2 3', '9 3 2 3'] as const;

/** A small drawing for each word: share of tasters over time, one line a cup, told apart by dashes; bands for the first two. */
export function TemporalChart({
  figures,
  end_s,
}: {
  figures: Readonly<Record<string, unknown>>;
  end_s: number;
}) {
  const words = figures.words as string[];
  const curves = figures.curves as Curve[];
  const x = (s: number): number => ROOM.left + (s / end_s) * (WIDTH - ROOM.left - ROOM.right);
  const y = (p: number): number => ROOM.top + (1 - p) * (HEIGHT - ROOM.top - ROOM.foot);
  const line = (times: readonly number[], values: readonly number[]): string =>
    times
      .map((at, i) => `${i === 0 ? 'M' : 'L'}${x(at).toFixed(1)} ${y(values[i] ?? 0).toFixed(1)}`)
      .join('');
  return (
    <div className="temporal">
      <p className="quiet-text">
        {curves.map(({ cup }, i) => (
          <span key={cup} className="temporal-key">
            <svg width="34" height="10" aria-hidden="true" focusable="false">
              <line
                x1="1"
                x2="33"
                y1="5"
                y2="5"
                className="chart-line chart-line-main"
                strokeDasharray={DASHES[i % 4]}
              />
            </svg>
            {cup}
          </span>
        ))}
      </p>
      <div className="temporal-words">
        {words.map((word, w) => (
          <figure key={word} className="panel-chart">
            <figcaption>{word}</figcaption>
            <svg
              viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
              role="img"
              aria-label={curves
                .map(({ cup, shares }) =>
                  t('panel.results.peak', {
                    cup,
                    word,
                    share: formatNumber(100 * Math.max(...(shares[w] ?? [0]))),
                  }),
                )
                .join(', ')}
            >
              {[0, 0.5, 1].map((p) => (
                <g key={p} className="chart-ground">
                  <line x1={ROOM.left} x2={WIDTH - ROOM.right} y1={y(p)} y2={y(p)} />
                  <text x={ROOM.left - 4} y={y(p) + 4} textAnchor="end">
                    {formatNumber(100 * p)}
                  </text>
                </g>
              ))}
              <text x={WIDTH - ROOM.right} y={HEIGHT - 5} textAnchor="end">
                {formatNumber(end_s)} s
              </text>
              {curves.slice(0, 2).map(({ cup, times, low, high }) => (
                <path
                  key={cup}
                  className="temporal-band"
                  d={`${line(times, high[w] ?? [])}${[...times]
                    .reverse()
                    .map(
                      (at, i) =>
                        `L${x(at).toFixed(1)} ${y((low[w] ?? [])[times.length - 1 - i] ?? 0).toFixed(1)}`,
                    )
                    .join('')}Z`}
                />
              ))}
              {curves.map(({ cup, times, shares }, i) => (
                <path
                  key={cup}
                  className="chart-line chart-line-main"
                  strokeDasharray={DASHES[i % 4]}
                  d={line(times, shares[w] ?? [])}
                />
              ))}
            </svg>
          </figure>
        ))}
      </div>
    </div>
  );
}
