import type { BrewResult, KettleCourse, Plan } from '@pourline/core';
import { Panel } from '../../ui/index.ts';
import { formatClock, formatNumber, formatWithUnit, t } from '../../words/index.ts';
import { AroundDrawing } from './around-drawing.tsx';
import { rangeOf } from './around-kernels.ts';
import './around.css';

/** Temperature of every kettle over the brew, and what leaves its spout at each pour. */
export function KettlePanel({ result, plan }: { result: BrewResult; plan: Plan }) {
  const { kettles } = result;
  if (kettles.length === 0) return null;
  const followed = kettles.some((kettle) => kettle.followed);
  return (
    <Panel title={t('brew.kettles')} fold={followed ? 'open' : 'closed'}>
      <div className="around">
        <Courses kettles={kettles} result={result} />
        {kettles.length > 1 ? <Legend kettles={kettles} /> : null}
        <Pours kettles={kettles} plan={plan} />
        {kettles.map((kettle) => (
          <p key={kettle.kettle_id} className="quiet-text">
            {standing(kettle)}
          </p>
        ))}
        <p className="quiet-text">{t('brew.boils', { boils: formatNumber(kettles[0]!.boils_C, 1) })}</p>
      </div>
    </Panel>
  );
}

function standing({ name, followed, between, fill_g }: KettleCourse): string {
  if (!followed) return t('brew.kettle_free', { name });
  const key = between === 'on_base' ? 'brew.kettle_on_base' : 'brew.kettle_off_base';
  return t(key, { name, fill: formatWithUnit(fill_g, 'g') });
}

/** Which line is which kettle. */
function Legend({ kettles }: { kettles: readonly KettleCourse[] }) {
  return (
    <ul className="around-legend">
      {kettles.map((kettle, i) => (
        <li key={kettle.kettle_id}>
          <svg viewBox="0 0 26 8" width="26" height="8" aria-hidden="true">
            <path
              className="around-course"
              data-faint={!kettle.followed || undefined}
              strokeDasharray={i % 2 === 1 ? '5 3' : undefined}
              d="M0 4H26"
            />
          </svg>
          {kettle.name}
        </li>
      ))}
    </ul>
  );
}

function Courses({ kettles, result }: { kettles: readonly KettleCourse[]; result: BrewResult }) {
  const { low, high } = rangeOf(
    kettles.map((kettle) => kettle.temperature_C),
    2,
  );
  const { time_s, pour_g_s } = result.trace;
  const end = Math.max(...kettles.map((kettle) => kettle.time_s.at(-1) ?? 0));
  const spans: { key: string; from: number; to: number }[] = [];
  for (let i = 1; i < time_s.length; i++) {
    if (!(pour_g_s[i]! > 0)) continue;
    const last = spans.at(-1);
    if (last && last.to === time_s[i - 1]) last.to = time_s[i]!;
    else spans.push({ key: String(i), from: time_s[i - 1]!, to: time_s[i]! });
  }
  return (
    <AroundDrawing
      label={t('brew.kettles_drawing')}
      courses={kettles.map((kettle, i) => ({
        key: kettle.kettle_id,
        time: kettle.time_s,
        temperature_C: kettle.temperature_C,
        faint: !kettle.followed,
        dashed: i % 2 === 1,
      }))}
      from={0}
      to={end}
      low_C={low}
      high_C={high + 1}
      moment={(time) => formatClock(time)}
      steps={[10, 20, 30, 60, 120, 300, 600, 1_200]}
      spans={spans}
    />
  );
}

function Pours({ kettles, plan }: { kettles: readonly KettleCourse[]; plan: Plan }) {
  const rows = kettles
    .flatMap((kettle) => kettle.pours.map((pour) => ({ kettle, pour })))
    .map((row) => ({ ...row, number: plan.pours.findIndex(({ id }) => id === row.pour.pour_id) + 1 }))
    .filter((row) => row.number > 0)
    .sort((a, b) => a.number - b.number);
  return (
    <table className="shares around-table">
      <thead>
        <tr>
          <th scope="col">{t('brew.pour_number')}</th>
          <th scope="col">{t('brew.kettle')}</th>
          <th scope="col">
            {t('brew.asked')} <span className="unit">°C</span>
          </th>
          <th scope="col">
            {t('brew.leaves')} <span className="unit">°C</span>
          </th>
          <th scope="col">
            {t('brew.left')} <span className="unit">g</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ kettle, pour, number }) => (
          <tr key={pour.pour_id} data-missed={Math.abs(pour.start_C - pour.asked_C) > 1 || undefined}>
            <th scope="row">{number}</th>
            <td>{kettle.name}</td>
            <td>{formatNumber(pour.asked_C, 1)}</td>
            <td>
              {formatNumber(pour.start_C, 1)} – {formatNumber(pour.end_C, 1)}
            </td>
            <td>{formatNumber(pour.left_g)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
