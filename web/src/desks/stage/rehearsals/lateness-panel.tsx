import type { Compared } from '@pourline/core';
import { cueName } from '../../../live/view/cue-words.ts';
import { Panel } from '../../../ui/index.ts';
import { formatClock, formatNumber, formatWithUnit, t } from '../../../words/index.ts';
import { latenessChart } from './kernels/lateness-chart.ts';

interface LatenessPanelProps {
  compared: Compared;
  numbers: ReadonlyMap<string, number>;
}

const [WIDTH, HEIGHT] = [640, 170];
const signed = (seconds: number): string => `${seconds > 0 ? '+' : ''}${formatWithUnit(seconds, 's', 1)}`;

/** How late each thing began, run by run over the plan, and where that begins. */
export function LatenessPanel({ compared, numbers }: LatenessPanelProps) {
  const { runs, lateness, slips } = compared;
  const chart = latenessChart(runs, WIDTH, HEIGHT);
  const cues = runs.at(-1)?.cues ?? [];
  const all = cues.map(({ cue }) => cue);
  const nameOf = (id: string): string => {
    const cue = all.find((entry) => entry.id === id);
    return cue ? cueName(cue, all) : id;
  };
  return (
    <Panel title={t('rehearsal.laps')}>
      <p>
        {slips.begins ? t('rehearsal.begins', { what: nameOf(slips.begins) }) : t('rehearsal.on_time')}{' '}
        {slips.worst && t('rehearsal.worst', { what: nameOf(slips.worst) })}
      </p>
      <svg
        className="late-chart"
        viewBox={`-44 -8 ${WIDTH + 74} ${HEIGHT + 34}`}
        role="img"
        aria-label={t('rehearsal.late_chart')}
      >
        {chart.rules.map(({ late_s, y }) => (
          <g key={late_s}>
            <line className={late_s === 0 ? 'late-zero' : 'late-rule'} x1={0} x2={WIDTH} y1={y} y2={y} />
            <text className="late-text" x={-6} y={y + 4} textAnchor="end">
              {late_s > 0 ? `+${late_s}` : formatNumber(late_s)}
            </text>
          </g>
        ))}
        {chart.lines.map(({ id, path, points, end }, i) => (
          <g key={id} className="late-run" data-newest={i === chart.lines.length - 1 ? 'yes' : undefined}>
            <path d={path} />
            {points.map(({ x, y, cue_id }) => (
              <circle key={cue_id} cx={x} cy={y} r={2.6} />
            ))}
            {end && (
              <text className="late-text" x={end.x + 6} y={end.y + 4}>
                {numbers.get(id)}
              </text>
            )}
          </g>
        ))}
        <text className="late-text" x={0} y={HEIGHT + 20}>
          0:00
        </text>
        <text className="late-text" x={WIDTH} y={HEIGHT + 20} textAnchor="end">
          {formatClock(chart.to_s)}
        </text>
      </svg>
      <div className="table-scroll">
        <table className="stage-table">
          <thead>
            <tr>
              <th scope="col">{t('live.end.what')}</th>
              <th scope="col">{t('live.end.planned')}</th>
              <th scope="col">{t('rehearsal.newest')}</th>
              <th scope="col">{t('rehearsal.mean_late')}</th>
              <th scope="col">{t('rehearsal.spread')}</th>
              <th scope="col">{t('rehearsal.runs')}</th>
            </tr>
          </thead>
          <tbody>
            {cues.map(({ cue, late_s, skipped }) => {
              const over = lateness.find(({ cue_id }) => cue_id === cue.id);
              return (
                <tr key={cue.id}>
                  <th scope="row">{cueName(cue, all)}</th>
                  <td>{formatClock(cue.at_s)}</td>
                  <td>{skipped ? t('live.end.left_out') : late_s === null ? '–' : signed(late_s)}</td>
                  <td>{over ? signed(over.mean_s) : '–'}</td>
                  <td>{over?.sd_s == null ? '–' : `± ${formatWithUnit(over.sd_s, 's', 1)}`}</td>
                  <td>{over?.n ?? 0}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </Panel>
  );
}
