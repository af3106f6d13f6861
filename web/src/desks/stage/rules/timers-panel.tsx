import { DateAt, Fields, NumberAt, Panel, SelectInput, TextAt, useForm } from '../../../ui/index.ts';
import { getAt } from '../../../ui/path.ts';
import { t } from '../../../words/index.ts';

/** What the document of the rules is, its timers and its cups. */
export function TimersPanel() {
  return (
    <Panel title={t('stage.rules.title')}>
      <Fields>
        <TextAt path={['name']} />
        <TextAt path={['round']} label={t('stage.rules.round')} />
        <DateAt path={['rules_of']} label={t('stage.rules.of')} />
        <NumberAt
          path={['timers', 'run_s']}
          label={t('stage.rules.run')}
          nullable
          placeholder={t('stage.unknown')}
        />
        <NumberAt
          path={['timers', 'setup_s']}
          label={t('stage.rules.setup')}
          nullable
          placeholder={t('stage.unknown')}
        />
        <NumberAt
          path={['timers', 'cleanup_s']}
          label={t('stage.rules.cleanup')}
          nullable
          placeholder={t('stage.unknown')}
        />
        <NumberAt
          path={['timers', 'practice_s']}
          label={t('stage.rules.practice')}
          nullable
          placeholder={t('stage.unknown')}
        />
        <NumberAt
          path={['cups', 'count']}
          label={t('stage.rules.cups')}
          nullable
          placeholder={t('stage.unknown')}
        />
        <TriState path={['cups', 'individually_brewed']} label={t('stage.rules.alone')} />
        <NumberAt
          path={['cups', 'min_mL']}
          label={t('stage.rules.min')}
          nullable
          placeholder={t('stage.unknown')}
        />
        <NumberAt
          path={['cups', 'max_mL']}
          label={t('stage.rules.max')}
          nullable
          placeholder={t('stage.unknown')}
        />
        <NumberAt
          path={['cups', 'strength_max_pct']}
          label={t('stage.rules.strength')}
          nullable
          placeholder={t('stage.unknown')}
          step={0.1}
        />
        <NumberAt
          path={['power_W']}
          label={t('stage.rules.power')}
          nullable
          placeholder={t('stage.unknown')}
          step={100}
        />
      </Fields>
    </Panel>
  );
}

/** Yes, no, or not known. */
export function TriState({ path, label }: { path: (string | number)[]; label: string }) {
  const form = useForm();
  const value = getAt(form.body, path);
  return (
    <SelectInput
      label={label}
      value={value === true ? 'yes' : value === false ? 'no' : 'unknown'}
      options={[
        { value: 'unknown', label: t('stage.unknown') },
        { value: 'yes', label: t('common.yes') },
        { value: 'no', label: t('common.no') },
      ]}
      onChange={(next) => form.set(path, next === 'unknown' ? null : next === 'yes')}
    />
  );
}
