import type { Mix } from '@pourline/core';
import { memo, type ReactNode } from 'react';
import { CheckInput, Fields, NumberAt, Panel } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { SteadySelect } from '../parts/steady-select.tsx';
import { useFirstFold } from '../parts/use-first-fold.ts';

type Instruments = Mix['instruments'];
type Scale = Instruments['meter']['scale'];
type Compensation = Instruments['meter']['compensation'];

export const SCALES = ['uS_cm', 'half', 'seven', 'NaCl', 'KCl', '442', 'factor'] as const;
type ScaleChoice = (typeof SCALES)[number];

/** The scale as it is chosen: the two usual factors by name, any other by its figure. */
export function scaleChoice(scale: Scale): ScaleChoice {
  if (scale.by !== 'factor') return scale.by;
  if (scale.factor === 0.5) return 'half';
  return scale.factor === 0.7 ? 'seven' : 'factor';
}

/** The scale that a choice stands for. */
export function scaleOf(choice: string): Scale {
  switch (choice) {
    case 'half':
      return { by: 'factor', factor: 0.5 };
    case 'seven':
      return { by: 'factor', factor: 0.7 };
    case 'factor':
      return { by: 'factor', factor: 0.64 };
    case 'NaCl':
    case 'KCl':
    case '442':
      return { by: choice };
    default:
      return { by: 'uS_cm' };
  }
}

const COMPENSATIONS = ['none', 'linear', 'iso7888'] as const;
const compensationOf = (by: string): Compensation =>
  by === 'linear' ? { by, per_K: 0.02 } : { by: by === 'iso7888' ? by : 'none' };

/** What is weighed, dosed and measured with; steps and accuracies decide what a recipe can be. */
export const InstrumentsPanel = memo(function InstrumentsPanel({
  instruments,
  onChange,
}: {
  instruments: Instruments;
  onChange: (instruments: Instruments) => void;
}) {
  const fold = useFirstFold();
  const set = (change: Partial<Instruments>): void => onChange({ ...instruments, ...change });
  const { meter } = instruments;
  return (
    <Panel title={t('water.instruments.title')} fold={fold}>
      <div className="instruments">
        <Part title={t('water.instruments.balance')}>
          <NumberAt path={['instruments', 'balance', 'step_g']} step={0.01} />
          <NumberAt path={['instruments', 'balance', 'capacity_g']} step={10} />
        </Part>
        <Part title={t('water.instruments.water_balance')}>
          <NumberAt path={['instruments', 'water_balance', 'step_g']} step={0.1} />
        </Part>
        <Part
          title={t('water.instruments.syringe')}
          aside={
            <CheckInput
              label={t('water.instruments.have')}
              value={instruments.syringe !== null}
              onChange={(on) =>
                set({ syringe: on ? { step_mL: 0.1, accuracy_mL: 0.05, capacity_mL: 10 } : null })
              }
            />
          }
        >
          {instruments.syringe && (
            <>
              <NumberAt path={['instruments', 'syringe', 'step_mL']} step={0.01} />
              <NumberAt path={['instruments', 'syringe', 'accuracy_mL']} step={0.01} />
              <NumberAt path={['instruments', 'syringe', 'capacity_mL']} />
            </>
          )}
        </Part>
        <Part
          title={t('water.instruments.drop')}
          aside={
            <CheckInput
              label={t('water.instruments.have')}
              value={instruments.drop !== null}
              onChange={(on) => set({ drop: on ? { mass_g: 0.05, scatter_pct: 5 } : null })}
            />
          }
        >
          {instruments.drop && (
            <>
              <NumberAt path={['instruments', 'drop', 'mass_g']} step={0.001} />
              <NumberAt path={['instruments', 'drop', 'scatter_pct']} />
              <p className="field-hint">{t('water.instruments.drop_hint')}</p>
            </>
          )}
        </Part>
        <Part title={t('water.instruments.meter')}>
          <SteadySelect
            label={t('water.meter.scale')}
            value={scaleChoice(meter.scale)}
            options={SCALES.map((value) => ({ value, label: t(`water.scale.${value}`) }))}
            onChange={(choice) => set({ meter: { ...meter, scale: scaleOf(choice) } })}
          />
          {meter.scale.by === 'factor' && scaleChoice(meter.scale) === 'factor' && (
            <NumberAt path={['instruments', 'meter', 'scale', 'factor']} step={0.01} />
          )}
          <SteadySelect
            label={t('water.meter.compensation')}
            value={meter.compensation.by}
            options={COMPENSATIONS.map((value) => ({ value, label: t(`water.compensation.${value}`) }))}
            onChange={(by) => set({ meter: { ...meter, compensation: compensationOf(by) } })}
          />
          {meter.compensation.by === 'linear' && (
            <NumberAt path={['instruments', 'meter', 'compensation', 'per_K']} step={0.001} unit="1/K" />
          )}
          <NumberAt path={['instruments', 'meter', 'accuracy_pct']} step={0.5} />
          <NumberAt path={['instruments', 'meter', 'step']} label={t('water.meter.step')} />
        </Part>
        <Part title={t('water.instruments.travel')}>
          <NumberAt
            path={['container_mL']}
            nullable
            step={10}
            placeholder={t('water.instruments.no_limit')}
          />
        </Part>
      </div>
    </Panel>
  );
});

function Part({ title, aside, children }: { title: string; aside?: ReactNode; children: ReactNode }) {
  return (
    <section className="instrument">
      <header className="instrument-head">
        <h4>{title}</h4>
        {aside}
      </header>
      <Fields>{children}</Fields>
    </section>
  );
}
