import type { PlannedRun } from '@pourline/core';
import { formatClock, formatNumber, formatWithUnit, t } from '../../../words/index.ts';
import { actionWord } from '../parts/action-words.ts';

/** Every action with its moment, its room, and how hot its water is. */
export function ActionTable({ plan }: { plan: PlannedRun }) {
  const spout = new Map(plan.schedule.water?.pours.map((pour) => [pour.id, pour]));
  return (
    <div className="table-scroll">
      <table className="stage-table">
        <thead>
          <tr>
            <th scope="col">{t('stage.actions.at')}</th>
            <th scope="col">{t('stage.actions.brewer')}</th>
            <th scope="col">{t('stage.actions.what')}</th>
            <th scope="col">{t('stage.actions.water')}</th>
            <th scope="col">{t('stage.actions.kettle')}</th>
            <th scope="col" title={t('stage.actions.alone_why')}>
              {t('stage.actions.alone')}
            </th>
            <th scope="col" title={t('stage.actions.room_why')}>
              {t('stage.actions.room')}
            </th>
          </tr>
        </thead>
        <tbody>
          {plan.schedule.actions.map((action) => {
            const water = spout.get(action.id);
            const cooler = water !== undefined && water.asked_C - water.start_C >= 1;
            return (
              <tr key={action.id}>
                <td>{formatClock(action.start_s, 1)}</td>
                <td>{action.brewer}</td>
                <td>{actionWord(action)}</td>
                <td>{action.water_g === null ? '' : formatWithUnit(action.water_g, 'g')}</td>
                <td data-cooler={cooler || undefined}>
                  {water &&
                    t('stage.actions.spout', {
                      kettle: water.kettle,
                      start: formatNumber(water.start_C, 1),
                      end: formatWithUnit(water.end_C, '°C', 1),
                    })}
                  {cooler && (
                    <span className="stage-less">
                      {t('stage.actions.asked', { asked: formatWithUnit(water.asked_C, '°C') })}
                    </span>
                  )}
                </td>
                <td>{formatNumber(action.slack_alone_s, 1)}</td>
                <td>{formatNumber(action.slack_s, 1)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
