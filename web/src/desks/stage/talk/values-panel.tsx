import type { PlannedRun } from '@pourline/core';
import { type Draft, newLocalId } from '../../../replica/index.ts';
import { Button, CheckInput, IconButton, NumberAt, OptionAt, Panel, TextAt } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';

interface ValuesPanelProps {
  draft: Draft<'talk'>;
  plan: PlannedRun | null;
}

/** Figures that no document holds: from a panel, or measured by hand. */
export function ValuesPanel({ draft, plan }: ValuesPanelProps) {
  const { values } = draft.body;
  const set = (next: typeof values): void => draft.change({ ...draft.body, values: next });
  return (
    <Panel title={t('stage.values.title')} fold={values.length > 0 ? 'open' : 'closed'}>
      <p className="quiet-text">{t('stage.values.text')}</p>
      {values.map((value, i) => {
        const at = (field: keyof typeof value) => ['values', i, field];
        return (
          <fieldset className="stage-part" key={value.id}>
            <legend>{value.name}</legend>
            <div className="fields">
              <TextAt path={at('name')} label={t('stage.values.name')} hint={t('stage.values.name_hint')} />
              <NumberAt path={at('value')} label={t('stage.values.value')} />
              <TextAt path={at('unit')} label={t('stage.values.unit')} />
              <NumberAt path={at('spread')} label={t('stage.values.spread')} nullable />
              <OptionAt
                path={at('source')}
                label={t('stage.values.source')}
                options={(['measured', 'panel'] as const).map((value) => ({
                  value,
                  label: t(`stage.source.${value}`),
                }))}
              />
              <TextAt path={at('from')} label={t('stage.values.from')} />
            </div>
            <div className="stage-part-end">
              <CheckInput
                label={t('stage.values.of_brew')}
                value={value.of_brew !== null}
                disabled={!plan}
                onChange={(on) =>
                  set(
                    values.map((entry) =>
                      entry.id === value.id
                        ? { ...entry, of_brew: on ? (plan?.brew_mark ?? null) : null }
                        : entry,
                    ),
                  )
                }
              />
              <IconButton
                icon="close"
                label={t('stage.remove_named', { name: value.name })}
                onPress={() => set(values.filter(({ id }) => id !== value.id))}
              />
            </div>
          </fieldset>
        );
      })}
      <div className="buttons">
        <Button
          icon="add"
          isDisabled={values.length >= 100}
          onPress={() =>
            set([
              ...values,
              {
                id: newLocalId('value', values),
                name: `found_${values.length + 1}`,
                source: 'panel',
                value: 0,
                unit: '',
                spread: null,
                from: '',
                of_brew: plan?.brew_mark ?? null,
              },
            ])
          }
        >
          {t('stage.values.add')}
        </Button>
      </div>
    </Panel>
  );
}
