import { formatClock, formatNumber, t } from '../../../words/index.ts';
import type { TraceFound } from './found.ts';

/** Every pour that was found: when, how much, and its shape. */
export function PourList({ found }: { found: TraceFound }) {
  if (found.poured.length === 0) return null;
  return (
    <div className="table-scroll">
      <table className="pour-list">
        <thead>
          <tr>
            <th scope="col">{t('trials.pours.pour')}</th>
            <th scope="col">{t('trials.pours.from')}</th>
            <th scope="col">{t('trials.pours.to')}</th>
            <th scope="col">{t('trials.pours.water')}</th>
            <th scope="col">{t('trials.pours.flow')}</th>
            <th scope="col">{t('trials.pours.front')}</th>
          </tr>
        </thead>
        <tbody>
          {found.poured.map((pour, i) => {
            const look = found.looks[i];
            return (
              <tr key={pour.start_s}>
                <th scope="row">
                  {i + 1}
                  {pour.pour_id === null && (
                    <span className="quiet-text"> {t('trials.pours.unplanned')}</span>
                  )}
                </th>
                <td>{formatClock(pour.start_s, 1)}</td>
                <td>{formatClock(pour.end_s, 1)}</td>
                <td>{formatNumber(pour.water_g, 1)} g</td>
                <td>{formatNumber(look?.mean_g_s, 1)} g/s</td>
                <td>
                  {formatNumber(look ? 100 * look.front_share : null, 0)} %
                  {look?.disturbed ? (
                    <span className="quiet-text"> {t('trials.pours.disturbed')}</span>
                  ) : null}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
