import type { Grinder } from '@pourline/core';
import { type Draft, newLocalId } from '../../../replica/index.ts';
import {
  Button,
  DateAt,
  DateInput,
  IconButton,
  NumberAt,
  problemAt,
  TextAt,
  useForm,
} from '../../../ui/index.ts';
import { fieldLabel, t } from '../../../words/index.ts';
import { dayOf, onDay } from '../sizes/moments.ts';

/** What is written down about a grinder over time: where its burrs touch, and which burrs it has. */
export function Record({ draft }: { draft: Draft<'grinder'> }) {
  const { problems } = useForm();
  const { body } = draft;
  const { zeros, burrs } = body;
  const setZeros = (next: Grinder['zeros']): void => draft.change({ ...body, zeros: next });
  const setBurrs = (next: Grinder['burrs']): void => draft.change({ ...body, burrs: next });
  const now = (): string => `${new Date().toISOString().slice(0, 19)}+00:00`;
  return (
    <div className="grind-stack">
      <h4>{t('grind.record.zeros')}</h4>
      <p className="quiet-text">{t('grind.record.zeros_text')}</p>
      {zeros.map((zero, i) => (
        <div key={zero.id} className="record-row">
          <DateInput
            label={t('grind.record.looked_on')}
            hideLabel={i > 0}
            value={dayOf(zero.at)}
            problem={problemAt(problems, ['zeros', i, 'at'])}
            onChange={(day) =>
              setZeros(zeros.map((one, k) => (k === i ? { ...one, at: onDay(one.at, day) ?? one.at } : one)))
            }
          />
          <NumberAt path={['zeros', i, 'touch_dial']} step={0.1} hideLabel={i > 0} />
          <IconButton
            icon="remove"
            label={`${t('common.remove')}${t('field.row', { row: i + 1 })}`}
            onPress={() => setZeros(zeros.filter((one) => one !== zero))}
          />
        </div>
      ))}
      <div>
        <Button
          look="quiet"
          icon="add"
          onPress={() =>
            setZeros([
              ...zeros,
              { id: newLocalId('zero', zeros), at: now(), touch_dial: zeros.at(-1)?.touch_dial ?? 0 },
            ])
          }
        >
          {t('grind.record.add_zero')}
        </Button>
      </div>
      <h4>{fieldLabel(['burrs'])}</h4>
      {burrs.map((burr, i) => (
        <div key={burr.id} className="record-row record-burrs">
          <TextAt path={['burrs', i, 'name']} hideLabel={i > 0} />
          <DateAt path={['burrs', i, 'fitted_on']} hideLabel={i > 0} />
          <NumberAt path={['burrs', i, 'used_kg']} step={1} hideLabel={i > 0} />
          <IconButton
            icon="remove"
            label={`${t('common.remove')}: ${burr.name}`}
            onPress={() => setBurrs(burrs.filter((one) => one !== burr))}
          />
        </div>
      ))}
      <div>
        <Button
          look="quiet"
          icon="add"
          onPress={() =>
            setBurrs([
              ...burrs,
              {
                id: newLocalId('burrs', burrs),
                name: t('grind.record.burrs_name', { number: burrs.length + 1 }),
                fitted_on: now().slice(0, 10),
                used_kg: 0,
              },
            ])
          }
        >
          {t('grind.record.add_burrs')}
        </Button>
      </div>
    </div>
  );
}
