import {
  convertHardness,
  convertIon,
  ION_FIELDS,
  ION_UNITS,
  type IonField,
  type IonUnit,
} from '@pourline/core';
import { useState } from 'react';
import { Fields, NumberInput, Panel } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { UNIT_TEXT, UNITS } from '../parts/hardness-unit.tsx';
import { SteadySelect } from '../parts/steady-select.tsx';

const steady = (value: number): number => Number(value.toPrecision(6));

/** Type a figure in any of its units and read it in all the others. */
export function UnitsPanel() {
  return (
    <Panel title={t('water.units.title')}>
      <p className="quiet-text">{t('water.units.text')}</p>
      <HardnessConverter />
      <IonConverter />
    </Panel>
  );
}

function HardnessConverter() {
  // Kept as it was typed and in which unit, so that the field under the finger does not change its text.
  const [typed, setTyped] = useState<{ value: unknown; unit: (typeof UNITS)[number] }>({
    value: 100,
    unit: 'mg_L_CaCO3',
  });
  return (
    <>
      <h4>{t('water.units.hardness')}</h4>
      <Fields>
        {UNITS.map((unit) => (
          <NumberInput
            key={unit}
            label={t(`water.unit.${unit}`)}
            unit={UNIT_TEXT[unit]}
            step={unit === 'mg_L_CaCO3' ? 1 : 0.1}
            value={
              unit === typed.unit || typeof typed.value !== 'number'
                ? unit === typed.unit
                  ? typed.value
                  : null
                : steady(convertHardness(typed.value, typed.unit, unit))
            }
            problem={unit === typed.unit ? notNumber(typed.value) : undefined}
            onChange={(value) => setTyped({ value, unit })}
          />
        ))}
      </Fields>
    </>
  );
}

function notNumber(value: unknown): string | undefined {
  if (typeof value !== 'string') return undefined;
  return t('common.not_a_number', { field: t('water.units.figure'), value });
}

function IonConverter() {
  const [ion, setIon] = useState<IonField>('calcium_mg_L');
  const [typed, setTyped] = useState<{ value: unknown; unit: IonUnit }>({ value: 40, unit: 'mg_L' });
  return (
    <>
      <h4>{t('water.units.ion')}</h4>
      <Fields>
        <SteadySelect
          label={t('water.ion')}
          value={ion}
          options={ION_FIELDS.map((field) => ({ value: field, label: t(`field.${field}`) }))}
          onChange={(next) => setIon(ION_FIELDS.find((field) => field === next) ?? ion)}
        />
        {ION_UNITS.map((unit) => (
          <NumberInput
            key={unit}
            label={t(`water.ion_unit.${unit}`)}
            value={
              unit === typed.unit
                ? typed.value
                : typeof typed.value === 'number'
                  ? steady(convertIon(typed.value, ion, typed.unit, unit))
                  : null
            }
            problem={unit === typed.unit ? notNumber(typed.value) : undefined}
            onChange={(value) => setTyped({ value, unit })}
          />
        ))}
      </Fields>
    </>
  );
}
