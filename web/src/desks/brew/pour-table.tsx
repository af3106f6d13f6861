import { MAX_POURS, type Plan, type Pour, pourDuration, type Setup, type Water } from '@pourline/core';
import { memo } from 'react';
import { type Draft, newLocalId } from '../../replica/index.ts';
import { addPour, type Hands } from '../../strip/kernels/pour-edit.ts';
import { Button, IconButton, NumberAt, OptionAt, SelectInput, useForm } from '../../ui/index.ts';
import { fieldLabel, formatNumber, t } from '../../words/index.ts';

interface PourTableProps {
  draft: Draft<'plan'>;
  waters: readonly Water[];
  setup: Setup | null;
  selected: string | null;
  onSelect: (id: string | null) => void;
}

/** Every pour in plain figures; what the strip shows, to be typed. */
export function PourTable({ draft, waters, setup, selected, onSelect }: PourTableProps) {
  const { body } = draft;
  const change = (pours: Pour[]): void => draft.change({ ...body, pours });
  const total = body.pours.reduce((sum, pour) => sum + (Number.isFinite(pour.water_g) ? pour.water_g : 0), 0);
  const add = (): void => {
    const next = appended(draft);
    if (next) draft.change({ ...body, ...next });
  };
  return (
    <div className="pour-table">
      <table>
        <caption className="visually-hidden">{t('brew.pours')}</caption>
        <thead>
          <tr>
            <th scope="col">{t('brew.pour_number')}</th>
            <th scope="col">{fieldLabel(['start_s'])}</th>
            <th scope="col">{fieldLabel(['water_g'])}</th>
            <th scope="col">{fieldLabel(['rate'])}</th>
            <th scope="col">{fieldLabel(['kettle_temperature_C'])}</th>
            <th scope="col">{fieldLabel(['water_id'])}</th>
            <th scope="col">{fieldLabel(['kettle_id'])}</th>
            <th scope="col">{fieldLabel(['height_cm'])}</th>
            <th>
              <span className="visually-hidden">{t('common.remove')}</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {body.pours.map((pour, i) => (
            <PourRow
              key={pour.id}
              index={i}
              pour={pour}
              waters={waters}
              kettles={setup?.kettles ?? NO_KETTLES}
              selected={pour.id === selected}
              last={body.pours.length === 1}
              onSelect={onSelect}
              onRemove={() => change(body.pours.filter((entry) => entry.id !== pour.id))}
            />
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row" colSpan={2}>
              {t('brew.total')}
            </th>
            <td className="pour-total">
              {formatNumber(total, total % 1 ? 1 : 0)} <span className="unit">g</span>
            </td>
            <td colSpan={6}>
              <Button look="quiet" icon="add" onPress={add} isDisabled={body.pours.length >= MAX_POURS}>
                {t('brew.add_pour')}
              </Button>
            </td>
          </tr>
        </tfoot>
      </table>
    </div>
  );
}

const NO_KETTLES: Setup['kettles'] = [];

/** The hand work with a pour added after the last; pushes a lift that would be in the way. */
export function appended(draft: Draft<'plan'>): Partial<Plan> | null {
  const { document, body } = draft;
  const last = document.pours.reduce((end, pour) => Math.max(end, pour.start_s + pourDuration(pour)), 0);
  const start = Math.ceil(last + 20);
  const like = document.pours.reduce((a, b) => (b.start_s >= a.start_s ? b : a));
  const end = start + pourDuration(like);
  const hands: Hands = {
    pours: document.pours,
    actions: document.actions,
    outlet_opens_s: document.outlet_opens_s,
    lift_s: document.lift_s === null ? null : Math.max(document.lift_s, Math.ceil(end + 20)),
  };
  const added = addPour(hands, start, newLocalId('pour', body.pours));
  if (!added) return null;
  return { pours: [...body.pours, added.hands.pours[added.index]!], lift_s: hands.lift_s };
}

interface PourRowProps {
  index: number;
  pour: Pour;
  waters: readonly Water[];
  kettles: Setup['kettles'];
  selected: boolean;
  last: boolean;
  onSelect: (id: string | null) => void;
  onRemove: () => void;
}

const PourRow = memo(function PourRow(props: PourRowProps) {
  const { index, pour, waters, kettles, selected, last, onSelect, onRemove } = props;
  const at = (field: string): (string | number)[] => ['pours', index, field];
  return (
    <tr data-selected={selected || undefined} onFocus={() => onSelect(pour.id)}>
      <th scope="row" className="pour-number-cell">
        {index + 1}
      </th>
      <td data-label={fieldLabel(['start_s'])}>
        <NumberAt path={at('start_s')} hideLabel label={cell(index, 'start_s')} />
      </td>
      <td data-label={fieldLabel(['water_g'])}>
        <NumberAt path={at('water_g')} hideLabel label={cell(index, 'water_g')} />
      </td>
      <td data-label={fieldLabel(['rate'])}>
        <RateCell index={index} pour={pour} />
      </td>
      <td data-label={fieldLabel(['kettle_temperature_C'])}>
        <NumberAt path={at('kettle_temperature_C')} hideLabel label={cell(index, 'kettle_temperature_C')} />
      </td>
      <td data-label={fieldLabel(['water_id'])}>
        <OptionAt
          path={at('water_id')}
          hideLabel
          label={cell(index, 'water_id')}
          options={waters.map((water) => ({ value: water.id, label: water.name }))}
        />
      </td>
      <td data-label={fieldLabel(['kettle_id'])}>
        <KettleCell index={index} pour={pour} kettles={kettles} />
      </td>
      <td data-label={fieldLabel(['height_cm'])}>
        <NumberAt path={at('height_cm')} hideLabel label={cell(index, 'height_cm')} />
      </td>
      <td>
        <IconButton
          icon="remove"
          label={`${t('common.remove')}: ${t('strip.pour.name', { number: index + 1 })}`}
          isDisabled={last}
          onPress={onRemove}
        />
      </td>
    </tr>
  );
});

const cell = (index: number, field: string): string =>
  `${t('strip.pour.name', { number: index + 1 })}: ${fieldLabel([field])}`;

/** Duration or flow, as the brewer thinks of it; changing over keeps the pour as it is. */
function RateCell({ index, pour }: { index: number; pour: Pour }) {
  const form = useForm();
  const by = pour.rate.by;
  const change = (next: string): void => {
    if (next === by) return;
    const duration_s = Number(pourDuration(pour).toPrecision(6));
    const flow_g_s = Number((pour.water_g / pourDuration(pour)).toPrecision(6));
    form.set(
      ['pours', index, 'rate'],
      next === 'flow' ? { by: 'flow', flow_g_s } : { by: 'duration', duration_s },
    );
  };
  return (
    <div className="rate-cell">
      <NumberAt
        path={['pours', index, 'rate', by === 'flow' ? 'flow_g_s' : 'duration_s']}
        step={by === 'flow' ? 0.5 : 1}
        unit=""
        hideLabel
        label={cell(index, by === 'flow' ? 'flow_g_s' : 'duration_s')}
      />
      <SelectInput
        label={`${t('strip.pour.name', { number: index + 1 })}: ${t('brew.rate_by')}`}
        hideLabel
        value={by}
        options={[
          { value: 'duration', label: 's' },
          { value: 'flow', label: 'g/s' },
        ]}
        onChange={change}
      />
    </div>
  );
}

function KettleCell(props: { index: number; pour: Pour; kettles: Setup['kettles'] }) {
  const { index, pour, kettles } = props;
  const form = useForm();
  return (
    <SelectInput
      label={cell(index, 'kettle_id')}
      hideLabel
      value={pour.kettle_id ?? 'none'}
      options={[
        { value: 'none', label: t('brew.any_kettle') },
        ...kettles.map((kettle) => ({ value: kettle.id, label: kettle.name })),
      ]}
      onChange={(id) => form.set(['pours', index, 'kettle_id'], id === 'none' ? null : id)}
    />
  );
}
