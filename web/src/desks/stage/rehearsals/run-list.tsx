import type { RunTimes } from '@pourline/core';
import { Panel } from '../../../ui/index.ts';
import { formatClock, formatMoment, formatNumber, t } from '../../../words/index.ts';

interface RunListProps {
  runs: readonly RunTimes[];
  numbers: ReadonlyMap<string, number>;
  chosen: ReadonlySet<string>;
  onChoose: (id: string, on: boolean) => void;
  open: string | null;
  onOpen: (id: string) => void;
}

/** All rehearsals, newest first: which are compared, and which is looked at. */
export function RunList({ runs, numbers, chosen, onChoose, open, onOpen }: RunListProps) {
  return (
    <Panel title={t('rehearsal.list')}>
      {runs.length === 0 ? (
        <p className="quiet-text">{t('rehearsal.none')}</p>
      ) : (
        <div className="table-scroll">
          <table className="stage-table rehearsal-list">
            <thead>
              <tr>
                <th scope="col">{t('rehearsal.compare')}</th>
                <th scope="col">{t('rehearsal.run')}</th>
                <th scope="col">{t('rehearsal.took')}</th>
                <th scope="col">{t('rehearsal.against_limit')}</th>
                <th scope="col">{t('rehearsal.tapped')}</th>
                <th scope="col">{t('rehearsal.marks')}</th>
              </tr>
            </thead>
            <tbody>
              {[...runs].reverse().map((run) => (
                <tr key={run.id} data-open={run.id === open ? 'yes' : undefined}>
                  <td>
                    <label className="rehearsal-choose">
                      <input
                        type="checkbox"
                        checked={chosen.has(run.id)}
                        onChange={(event) => onChoose(run.id, event.target.checked)}
                      />
                      <span className="visually-hidden">
                        {t('rehearsal.compare_run', { name: run.name })}
                      </span>
                      <span aria-hidden="true">{numbers.get(run.id)}</span>
                    </label>
                  </td>
                  <th scope="row">
                    <button
                      type="button"
                      className="rehearsal-open"
                      aria-expanded={run.id === open}
                      onClick={() => onOpen(run.id)}
                    >
                      <span>{run.name}</span>
                      <small>{formatMoment(run.began_at)}</small>
                    </button>
                  </th>
                  <td>{run.ended_s === null ? t('rehearsal.broken_off') : formatClock(run.ended_s, 1)}</td>
                  <td data-over={run.over_s !== null && run.over_s > 0 ? 'yes' : undefined}>
                    {run.over_s === null
                      ? '–'
                      : run.over_s > 0
                        ? t('rehearsal.over', { seconds: formatNumber(run.over_s, 1) })
                        : t('rehearsal.spare', { seconds: formatNumber(-run.over_s, 1) })}
                  </td>
                  <td>{t('rehearsal.of', { tapped: run.tapped, all: run.cues.length })}</td>
                  <td>{run.marks.length}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </Panel>
  );
}
