import type { Tasting } from '@pourline/core';
import { type Draft, useDocuments } from '../../../replica/index.ts';
import { Button, Fields, IconButton, NumberAt, Panel, SelectInput, TextAt } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { freeId } from './methods.ts';

type Sample = Tasting['samples'][number];

/** The cups: from plans and trials, or typed. Tasters never see these names before the session is closed. */
export function SamplesPanel({ draft }: { draft: Draft<'tasting'> }) {
  const { samples } = draft.document;
  const put = (next: Sample[]): void => draft.change({ ...draft.document, samples: next });
  return (
    <Panel
      title={t('panel.design.samples')}
      aside={
        <Button look="quiet" icon="add" onPress={() => put([...samples, newSample(samples)])}>
          {t('panel.design.add_sample')}
        </Button>
      }
    >
      <p className="quiet-text">{t('panel.design.samples_text')}</p>
      {samples.map((sample, i) => (
        <div key={sample.id} className="sample">
          <div className="sample-head">
            <TextAt path={['samples', i, 'name']} label={t('panel.design.sample_name', { number: i + 1 })} />
            <FromBrew
              sample={sample}
              onChange={(part) => put(samples.map((other, k) => (k === i ? { ...other, ...part } : other)))}
            />
            <IconButton
              icon="close"
              label={t('panel.design.remove_sample', { name: sample.name })}
              onPress={() => put(samples.filter((_, k) => k !== i))}
            />
          </div>
          <details className="panel-more">
            <summary>{t('panel.design.sample_more')}</summary>
            <Fields>
              <NumberAt path={['samples', i, 'dose_g']} />
              <NumberAt path={['samples', i, 'brew_mL']} label={t('panel.design.brew')} />
              <NumberAt path={['samples', i, 'caffeine_low_mg_g']} label={t('panel.design.caffeine_low')} />
              <NumberAt path={['samples', i, 'caffeine_high_mg_g']} label={t('panel.design.caffeine_high')} />
            </Fields>
            <MayCarry
              sample={sample}
              onChange={(may_carry) =>
                put(samples.map((other, k) => (k === i ? { ...other, may_carry } : other)))
              }
            />
          </details>
        </div>
      ))}
    </Panel>
  );
}

const newSample = (samples: readonly Sample[]): Sample => ({
  id: freeId('c', samples),
  name: t('panel.design.new_sample', { number: samples.length + 1 }),
  plan_id: null,
  trial_id: null,
  dose_g: 15,
  brew_mL: 225,
  caffeine_low_mg_g: 10,
  caffeine_high_mg_g: 12,
  may_carry: [],
});

interface FromBrewProps {
  sample: Sample;
  onChange: (part: Partial<Sample>) => void;
}

/** Takes name, dose and volume from a plan or a trial. Volume of a plan: its water less about twice the dose, which the grounds keep. */
function FromBrew({ sample, onChange }: FromBrewProps) {
  const plans = useDocuments('plan');
  const trials = useDocuments('trial');
  const options = [
    { value: '', label: t('panel.design.from_nothing') },
    ...plans.map(({ id, name }) => ({ value: id, label: name, detail: t('panel.design.from_plan') })),
    ...trials.map(({ id, name }) => ({ value: id, label: name, detail: t('panel.design.from_trial') })),
  ];
  const take = (id: string): void => {
    const plan = plans.find((one) => one.id === id);
    const trial = trials.find((one) => one.id === id);
    if (plan) {
      const water = plan.pours.reduce((sum, { water_g }) => sum + water_g, 0);
      onChange({
        plan_id: id,
        trial_id: null,
        name: plan.name,
        dose_g: plan.dose_g,
        brew_mL: Math.max(10, Math.round(water - 2 * plan.dose_g)),
      });
    } else if (trial)
      onChange({
        trial_id: id,
        plan_id: trial.plan_id,
        name: trial.name,
        dose_g: trial.dose_g,
        ...(trial.beverage_g === null ? {} : { brew_mL: Math.max(10, Math.round(trial.beverage_g)) }),
      });
    else onChange({ plan_id: null, trial_id: null });
  };
  return (
    <SelectInput
      label={t('panel.design.from')}
      value={sample.trial_id ?? sample.plan_id ?? ''}
      options={options}
      onChange={take}
    />
  );
}

function MayCarry({ sample, onChange }: { sample: Sample; onChange: (foods: string[]) => void }) {
  return (
    <div className="field">
      <label className="field-label" htmlFor={`carry ${sample.id}`}>
        {t('panel.design.may_carry')}
      </label>
      <div className="field-box">
        <input
          id={`carry ${sample.id}`}
          className="field-input"
          autoComplete="off"
          defaultValue={sample.may_carry.join(', ')}
          onChange={(event) =>
            onChange(
              event.target.value
                .split(',')
                .map((food) => food.trim())
                .filter((food) => food !== ''),
            )
          }
        />
      </div>
      <p className="field-hint">{t('panel.design.may_carry_hint')}</p>
    </div>
  );
}
