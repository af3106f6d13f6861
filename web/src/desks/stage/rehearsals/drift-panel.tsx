import { type Compared, wholeTimes } from '@pourline/core';
import { Panel } from '../../../ui/index.ts';
import { formatClock, formatNumber, t } from '../../../words/index.ts';
import { driftChart } from './kernels/drift-chart.ts';

const [WIDTH, HEIGHT] = [520, 170];

/** Whole times over runs: whether they change, what the next may be, and how wide that is. */
export function DriftPanel({ compared }: { compared: Compared }) {
  const { runs, drift, learning, limit_s, chance_over, mean_s, sd_s, finished } = compared;
  const times = wholeTimes(runs);
  if (times.length === 0)
    return (
      <Panel title={t('rehearsal.drift')}>
        <p className="quiet-text">{t('rehearsal.none_finished')}</p>
      </Panel>
    );
  const chart = driftChart(times, drift, limit_s, WIDTH, HEIGHT);
  return (
    <Panel title={t('rehearsal.drift')}>
      <svg
        className="drift-chart"
        viewBox={`-52 -10 ${WIDTH + 66} ${HEIGHT + 36}`}
        role="img"
        aria-label={t('rehearsal.drift_chart')}
      >
        {chart.rules.map(({ time_s, y }) => (
          <g key={time_s}>
            <line className="late-rule" x1={0} x2={WIDTH} y1={y} y2={y} />
            <text className="late-text" x={-6} y={y + 4} textAnchor="end">
              {formatClock(time_s)}
            </text>
          </g>
        ))}
        <line className="drift-limit" x1={0} x2={WIDTH} y1={chart.limit_y} y2={chart.limit_y} />
        <text className="late-text drift-limit-text" x={WIDTH} y={chart.limit_y - 5} textAnchor="end">
          {t('rehearsal.limit', { limit: formatClock(limit_s) })}
        </text>
        {chart.line && <line className="drift-line" {...chart.line} />}
        {chart.next && (
          <g className="drift-next">
            <line x1={chart.next.x} x2={chart.next.x} y1={chart.next.low} y2={chart.next.high} />
            <circle cx={chart.next.x} cy={chart.next.middle} r={4} />
            <text className="late-text" x={chart.next.x} y={HEIGHT + 20} textAnchor="middle">
              {t('rehearsal.next')}
            </text>
          </g>
        )}
        {chart.points.map(({ x, y, number }) => (
          <g key={number} className="drift-run">
            <circle cx={x} cy={y} r={4.5} />
            <text className="late-text" x={x} y={HEIGHT + 20} textAnchor="middle">
              {number}
            </text>
          </g>
        ))}
      </svg>
      <ul className="rehearsal-says">
        <li>
          {sd_s === null
            ? t('rehearsal.one', { mean: formatClock(mean_s, 1) })
            : t('rehearsal.mean', {
                runs: finished,
                mean: formatClock(mean_s, 1),
                sd: formatNumber(sd_s, 1),
              })}{' '}
          {chance_over !== null &&
            t('rehearsal.chance', {
              percent: formatNumber(100 * chance_over, chance_over < 0.1 ? 1 : 0),
              limit: formatClock(limit_s),
            })}
        </li>
        {drift ? (
          <>
            <li>
              {t(`rehearsal.drift.${drift.verdict === 'cannot tell' ? 'unclear' : drift.verdict}`, {
                per_run: formatNumber(Math.abs(drift.per_run_s), 1),
                low: formatNumber(drift.low_s, 1),
                high: formatNumber(drift.high_s, 1),
              })}
            </li>
            <li>
              {t('rehearsal.next_run', {
                next: formatClock(drift.next_s),
                low: formatClock(drift.next_low_s),
                high: formatClock(drift.next_high_s),
              })}
            </li>
          </>
        ) : (
          <li>{t('rehearsal.too_few')}</li>
        )}
        {learning && (
          <li>
            {t(
              learning.verdict === 'cannot tell' ? 'rehearsal.learning.unclear' : 'rehearsal.learning.clear',
              {
                share: formatNumber(100 * (1 - learning.per_doubling), 1),
                low: formatNumber(100 * (1 - learning.per_doubling_high), 1),
                high: formatNumber(100 * (1 - learning.per_doubling_low), 1),
              },
            )}
          </li>
        )}
      </ul>
    </Panel>
  );
}
