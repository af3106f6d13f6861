import type { Cue } from '@pourline/core';
import { formatNumber, formatWithUnit, t } from '../../../words/index.ts';
import { type Paper, PRINTED_MM } from './paper.ts';
import { PaperStrip } from './paper-strip.tsx';
import { paperClock, SheetPage, type SheetsOf } from './sheet-page.tsx';

/** Everything in the order of the clock, for a helper or a coach beside the stage. */
export function RunSheet({ of, paper }: { of: SheetsOf; paper: Paper }) {
  const { schedule, limit_s, heating, cups } = of.plan;
  return (
    <SheetPage
      name="run"
      of={of}
      title={t('stage.sheet.run')}
      note={[of.planName, of.coffeeName, t('stage.sheet.limit', { limit: paperClock(limit_s) })].join(' · ')}
    >
      {schedule.actions.length === 0 ? (
        <p>{schedule.remarks[0]?.sentence}</p>
      ) : (
        <PaperStrip of={of} width_mm={PRINTED_MM[paper]} />
      )}
      <table className="sheet-table">
        <thead>
          <tr>
            <th scope="col">{t('stage.actions.at')}</th>
            <th scope="col">{t('stage.sheet.brewer_short')}</th>
            <th scope="col">{t('stage.sheet.do')}</th>
            <th scope="col">{t('stage.sheet.scale')}</th>
            <th scope="col">{t('stage.sheet.spout')}</th>
          </tr>
        </thead>
        <tbody>
          {of.cues.map((cue) => (
            <CueRow key={cue.id} cue={cue} of={of} />
          ))}
        </tbody>
      </table>
      <dl className="sheet-facts">
        {heating.kettles
          .map((kettle, i) => ({ ...kettle, key: `${i} ${kettle.name}` }))
          .map(({ key, name, on_s, hot_s }) => (
            <div key={key}>
              <dt>{t('stage.sheet.kettle_on', { name })}</dt>
              <dd>
                {on_s === null
                  ? '–'
                  : t('stage.sheet.on_hot', { on: paperClock(on_s), hot: paperClock(hot_s) })}
              </dd>
            </div>
          ))}
        {cups?.cups.map(({ brewer, served_s, served_C }) => (
          <div key={brewer}>
            <dt>{t('stage.sheet.cup', { brewer })}</dt>
            <dd>
              {t('stage.sheet.served', { at: paperClock(served_s), is: formatWithUnit(served_C, '°C') })}
            </dd>
          </div>
        ))}
      </dl>
    </SheetPage>
  );
}

function CueRow({ cue, of }: { cue: Cue; of: SheetsOf }) {
  const water = of.plan.schedule.water?.pours.find(({ id }) => id === cue.id);
  const action = of.plan.schedule.actions.find(({ id }) => id === cue.id);
  if (cue.what === 'say')
    return (
      <tr className="sheet-said">
        <td>{paperClock(cue.at_s)}</td>
        <td />
        <td colSpan={3}>{cue.title}</td>
      </tr>
    );
  return (
    <tr>
      <td>{paperClock(cue.at_s)}</td>
      <td>{cue.brewer}</td>
      <td>
        {action?.pour
          ? t('stage.sheet.pour', { number: action.pour, grams: formatNumber(cue.water_g) })
          : action && t(`stage.what.${action.what}`)}
      </td>
      <td>{cue.scale_g === null ? '' : formatWithUnit(cue.scale_g, 'g')}</td>
      <td>{water ? formatWithUnit(water.start_C, '°C') : ''}</td>
    </tr>
  );
}
