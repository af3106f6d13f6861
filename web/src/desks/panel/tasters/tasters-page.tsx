import { type CalibrationSubject, calibrate, isClosed, scoresOverTime } from '@pourline/core';
import { useMemo } from 'react';
import { useDocuments } from '../../../replica/index.ts';
import { Choice, Panel, SelectInput } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { LedgerPanel } from './ledger-panel.tsx';
import { OffsetChart } from './offset-chart.tsx';
import { SessionLines } from './session-lines.tsx';

/** Tasters over time: who scores high, who repeats, who drifts; and what each has had of caffeine. */
export function TastersPage() {
  const tastings = useDocuments('tasting');
  const closed = useMemo(() => tastings.filter(isClosed), [tastings]);
  const subjects = useMemo(() => scoresOverTime(closed), [closed]);
  const [kept, keep] = useKept('desk.panel.tasters', { subject: '', weights: 'equal' });
  const subject = subjects.find(({ name }) => name === kept.subject) ?? subjects[0];
  return (
    <div className="panel-two panel-two-even">
      <Panel title={t('panel.tasters.title')}>
        {!subject ? (
          <p>{t('panel.tasters.none')}</p>
        ) : (
          <>
            <SelectInput
              label={t('panel.tasters.subject')}
              value={subject.name}
              options={subjects.map(({ name, sessions }) => ({
                value: name,
                label: name,
                detail: t('panel.tasters.sessions', { count: sessions.length }),
              }))}
              onChange={(name) => keep({ subject: name })}
            />
            <Choice
              label={t('panel.tasters.weights')}
              value={kept.weights === 'by_repeatability' ? 'by_repeatability' : 'equal'}
              options={[
                { value: 'equal', label: t('panel.tasters.weights.equal') },
                { value: 'by_repeatability', label: t('panel.tasters.weights.by_repeatability') },
              ]}
              onChange={(weights) => keep({ weights })}
            />
            <Calibrated
              subject={subject}
              weights={kept.weights === 'by_repeatability' ? 'by_repeatability' : 'equal'}
            />
          </>
        )}
      </Panel>
      <LedgerPanel closed={closed} tastings={tastings} />
    </div>
  );
}

function Calibrated({
  subject,
  weights,
}: {
  subject: CalibrationSubject;
  weights: 'equal' | 'by_repeatability';
}) {
  const found = useMemo(() => calibrate(subject.scores, { weights }), [subject, weights]);
  return (
    <>
      <OffsetChart tasters={found} />
      {subject.sessions.length > 1 && <SessionLines subject={subject} />}
      <div className="table-scroll">
        <table className="panel-table">
          <thead>
            <tr>
              <th scope="col">{t('panel.describe.taster')}</th>
              <th scope="col">{t('panel.tasters.offset')}</th>
              <th scope="col">{t('panel.tasters.shrunken')}</th>
              <th scope="col">{t('panel.tasters.repeat')}</th>
              <th scope="col">{t('panel.tasters.drift')}</th>
              <th scope="col">{t('panel.tasters.weight')}</th>
            </tr>
          </thead>
          <tbody>
            {found.map((one) => (
              <tr key={one.taster}>
                <th scope="row">{one.taster}</th>
                <td>
                  {signed(one.offset)}
                  {one.offset_se !== null && ` ± ${formatNumber(one.offset_se, 2)}`}
                </td>
                <td>{signed(one.shrunken_offset)}</td>
                <td>
                  {one.repeat_sd === null
                    ? t('panel.tasters.no_repeats')
                    : `± ${formatNumber(one.repeat_sd, 2)}`}
                </td>
                <td>
                  {one.drift === null
                    ? '–'
                    : t('panel.tasters.drift_of', {
                        drift: signed(one.drift.per_session),
                        p: formatNumber(one.drift.p, 2),
                      })}
                </td>
                <td>{formatNumber(100 * one.weight)} %</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="quiet-text">{t('panel.tasters.text')}</p>
    </>
  );
}

const signed = (value: number): string => `${value > 0 ? '+' : ''}${formatNumber(value, 2)}`;
