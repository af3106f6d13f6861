import type { BrewResult, ChillCourse, CupCourse, ServingCourse } from '@pourline/core';
import { Panel } from '../../ui/index.ts';
import { formatClock, formatNumber, formatWithUnit, t } from '../../words/index.ts';
import { AroundDrawing } from './around-drawing.tsx';
import { rangeOf } from './around-kernels.ts';
import './around.css';

/** The brew after the brew: what the chilling did, and how long each cup is hot, warm and cold. */
export function ServingPanels({ result }: { result: BrewResult }) {
  const { chill, serving } = result;
  return (
    <>
      {chill ? (
        <Panel title={t('brew.chilled')} fold="open">
          <Chilled chill={chill} />
        </Panel>
      ) : null}
      {serving ? (
        <Panel title={t('brew.served')} fold="open">
          <Served serving={serving} start_s={result.trace.time_s.at(-1) ?? 0} />
        </Panel>
      ) : null}
    </>
  );
}

function Chilled({ chill }: { chill: ChillCourse }) {
  const rows: [string, string][] = [
    [
      t('brew.chilled_first'),
      `${formatWithUnit(chill.drip_g, 'g')}, ${formatWithUnit(chill.strength_pct, '%', 2)}`,
    ],
    [t('brew.chilled_until'), formatClock(chill.until_s)],
    [
      t('brew.chilled_cooled'),
      t('brew.chilled_from_to', { from: formatNumber(chill.before_C), to: formatNumber(chill.after_C) }),
    ],
    [t('brew.chilled_body'), formatWithUnit(chill.body_C, '°C')],
    [t('brew.chilled_server'), formatWithUnit(chill.server_K, 'K', 1)],
  ];
  return (
    <dl className="plain-list">
      {rows.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

/** Minutes shown after the last cup is cold, or has stopped being followed. */
const MARGIN_min = 1;

function Served({ serving, start_s }: { serving: ServingCourse; start_s: number }) {
  const { cups, hot_above_C, cold_below_C, lost } = serving;
  const ends = cups.map((cup) => ((cup.time_s.at(-1) ?? start_s) - start_s) / 60);
  const { low, high } = rangeOf(
    cups.map((cup) => cup.temperature_C),
    5,
  );
  const floor = Math.min(low, cold_below_C - 5);
  return (
    <div className="around">
      <AroundDrawing
        label={t('brew.served_drawing')}
        courses={cups.map((cup, i) => ({
          key: String(i),
          time: cup.time_s.map((time) => (time - start_s) / 60),
          temperature_C: cup.temperature_C,
          faint: i > 0,
        }))}
        from={0}
        to={Math.max(...ends) + MARGIN_min}
        low_C={floor}
        high_C={high}
        moment={(minute) => (minute === 0 ? t('brew.minute', { minute }) : formatNumber(minute))}
        steps={[1, 2, 5, 10, 20, 30]}
        zones={[
          { key: 'hot', from_C: hot_above_C, to_C: high, label: t('brew.hot') },
          { key: 'warm', from_C: cold_below_C, to_C: hot_above_C, label: t('brew.warm') },
          { key: 'cold', from_C: floor, to_C: cold_below_C, label: t('brew.cold') },
        ]}
      />
      <table className="shares around-table">
        <thead>
          <tr>
            <th scope="col">{t('brew.cup_number')}</th>
            <th scope="col">
              {t('brew.served_at')} <span className="unit">°C</span>
            </th>
            <th scope="col">
              {t('brew.hot_for')} <span className="unit">{t('brew.minutes')}</span>
            </th>
            <th scope="col">
              {t('brew.warm_for')} <span className="unit">{t('brew.minutes')}</span>
            </th>
            <th scope="col">
              {t('brew.strength_change')} <span className="unit">%</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {cups.map((cup, i) => (
            <CupRow key={cup.poured_s} number={i + 1} cup={cup} />
          ))}
        </tbody>
      </table>
      <p className="quiet-text">
        {t('brew.served_note', {
          hot: hot_above_C,
          cold: cold_below_C,
          evaporation: formatNumber(lost.evaporation_pct),
          wall: formatNumber(lost.wall_pct),
        })}
      </p>
    </div>
  );
}

function CupRow({ number, cup }: { number: number; cup: CupCourse }) {
  const minutes = (from: number, to: number | null): string =>
    to === null ? t('brew.beyond') : formatNumber((to - from) / 60, 1);
  const hotEnd = cup.hot_until_s;
  return (
    <tr>
      <th scope="row">
        {number} <span className="quiet-text">{formatWithUnit(cup.beverage_g, 'g')}</span>
      </th>
      <td>
        {formatNumber(cup.served_C, 1)} <span className="quiet-text">{formatClock(cup.served_s)}</span>
      </td>
      <td>{minutes(cup.served_s, hotEnd)}</td>
      <td>{hotEnd === null ? '–' : minutes(hotEnd, cup.warm_until_s)}</td>
      <td>
        {formatNumber(cup.served_strength_pct, 2)} → {formatNumber(cup.strength_pct.at(-1), 2)}
      </td>
    </tr>
  );
}
