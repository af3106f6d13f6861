import { type Description, isClosed, type TastedSource } from '@pourline/core';
import { type Draft, useDocuments } from '../../../replica/index.ts';
import { CheckInput, Fields, NumberAt, NumberInput, Panel, SelectInput } from '../../../ui/index.ts';
import { formatMoment, t } from '../../../words/index.ts';

interface SourcesPanelProps {
  draft: Draft<'description'>;
  sources: readonly TastedSource[];
}

/** Which cups of which tastings a description rests on, how old the coffee was, and the tree of words. */
export function SourcesPanel({ draft, sources }: SourcesPanelProps) {
  const { document } = draft;
  const trees = useDocuments('words');
  const tastings = useDocuments('tasting')
    .filter(isClosed)
    .filter(({ run }) => run.method.test === 'descriptors' || run.method.test === 'check_all');
  const put = (part: Partial<Description>): void => draft.change({ ...document, ...part });
  const isOn = (tasting_id: string, sample_id: string): boolean =>
    document.sources.some((s) => s.tasting_id === tasting_id && s.sample_id === sample_id);
  const toggle = (tasting_id: string, sample_id: string, on: boolean): void =>
    put({
      sources: on
        ? [...document.sources, { tasting_id, sample_id, age_d: null }]
        : document.sources.filter((s) => s.tasting_id !== tasting_id || s.sample_id !== sample_id),
    });
  return (
    <Panel title={t('panel.describe.sources')}>
      {tastings.length === 0 && <p className="quiet-text">{t('panel.describe.no_sources')}</p>}
      {tastings.map((tasting) => (
        <fieldset key={tasting.id} className="line-set">
          <legend>
            {tasting.name}, {formatMoment(tasting.run.closed_at)}
          </legend>
          {tasting.run.samples.map((sample) => {
            const at = document.sources.findIndex(
              (s) => s.tasting_id === tasting.id && s.sample_id === sample.id,
            );
            const known = sources.find(
              (s) => s.tasting.id === tasting.id && s.sample_id === sample.id,
            )?.age_d;
            return (
              <div key={sample.id} className="source-row">
                <CheckInput
                  label={sample.name}
                  value={isOn(tasting.id, sample.id)}
                  onChange={(on) => toggle(tasting.id, sample.id, on)}
                />
                {at >= 0 && (
                  <NumberInput
                    label={t('panel.describe.age')}
                    unit="d"
                    value={document.sources[at]?.age_d ?? null}
                    placeholder={known === null || known === undefined ? t('common.optional') : String(known)}
                    onChange={(age_d) =>
                      put({
                        sources: document.sources.map((s, k) =>
                          k === at ? { ...s, age_d: age_d as number | null } : s,
                        ),
                      })
                    }
                  />
                )}
              </div>
            );
          })}
        </fieldset>
      ))}
      <Fields>
        <NumberAt path={['served_age_d']} label={t('panel.describe.served_age')} unit="d" nullable />
        <SelectInput
          label={t('panel.describe.tree')}
          value={document.words_id ?? ''}
          options={[
            { value: '', label: t('panel.describe.starting_tree') },
            ...trees.map(({ id, name }) => ({ value: id, label: name })),
          ]}
          onChange={(id) => put({ words_id: id === '' ? null : id })}
        />
      </Fields>
    </Panel>
  );
}
