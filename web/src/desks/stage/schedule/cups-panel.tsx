import type { CupMoment, CupPlan, PlannedRun } from '@pourline/core';
import { Panel } from '../../../ui/index.ts';
import { formatClock, formatNumber, formatWithUnit, t } from '../../../words/index.ts';
import { RemarkList } from '../parts/remark-list.tsx';

/** How hot each cup is served, and for how many minutes it is hot, warm and cold, inside the run and after it. */
export function CupsPanel({ plan }: { plan: PlannedRun }) {
  const { cups } = plan;
  return (
    <Panel title={t('stage.cups.title')}>
      {cups === null ? (
        <p className="quiet-text">{t('stage.cups.none')}</p>
      ) : (
        <>
          <div className="table-scroll">
            <table className="stage-table">
              <thead>
                <tr>
                  <th scope="col">{t('stage.cups.cup')}</th>
                  <th scope="col">{t('stage.cups.served')}</th>
                  <th scope="col">{t('stage.cups.at')}</th>
                  <th scope="col">{t('stage.cups.hot', { limit: cups.hot_above_C })}</th>
                  <th scope="col">
                    {t('stage.cups.warm', { high: cups.hot_above_C, low: cups.cold_below_C })}
                  </th>
                  <th scope="col">{t('stage.cups.cold', { limit: cups.cold_below_C })}</th>
                </tr>
              </thead>
              <tbody>
                {cups.cups.map((cup) => (
                  <CupRow key={cup.brewer} cup={cup} limit_s={plan.limit_s} />
                ))}
              </tbody>
            </table>
          </div>
          <RemarkList remarks={cups.remarks} />
        </>
      )}
    </Panel>
  );
}

function CupRow({ cup, limit_s }: { cup: CupMoment; limit_s: number }) {
  const { hot, warm } = minutesOf(cup);
  return (
    <tr>
      <td>{cup.brewer}</td>
      <td>{formatClock(cup.served_s)}</td>
      <td>{formatWithUnit(cup.served_C, '°C', 1)}</td>
      <td>{hot === null ? '–' : formatWithUnit(hot, 'min', 1)}</td>
      <td>{warm === null ? '–' : formatWithUnit(warm, 'min', 1)}</td>
      <td>
        {cup.warm_until_s === null
          ? '–'
          : t(cup.warm_until_s > limit_s ? 'stage.cups.from_after' : 'stage.cups.from', {
              at: formatClock(cup.warm_until_s),
            })}
      </td>
    </tr>
  );
}

/** Minutes that a cup is hot and warm before its guest; null when that lies beyond what was computed. */
export function minutesOf({ served_s, hot_until_s, warm_until_s }: CupPlan['cups'][number]): {
  hot: number | null;
  warm: number | null;
} {
  const hot = hot_until_s === null ? null : Math.max(0, hot_until_s - served_s) / 60;
  const from = hot_until_s === null ? null : Math.max(served_s, hot_until_s);
  const warm = warm_until_s === null || from === null ? null : Math.max(0, warm_until_s - from) / 60;
  return { hot, warm };
}

/** A number of minutes as text for a sheet. */
export const minutesText = (value: number | null): string => (value === null ? '–' : formatNumber(value, 1));
