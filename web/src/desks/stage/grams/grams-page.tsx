import { type Budget, gramBudget, gramOrder } from '@pourline/core';
import { createDocument, type Draft, newLocalId, useDocuments, useDraft } from '../../../replica/index.ts';
import {
  Button,
  DraftForm,
  Fields,
  IconButton,
  NumberAt,
  Panel,
  SelectInput,
  TextAt,
} from '../../../ui/index.ts';
import { formatNumber, formatWithUnit, t } from '../../../words/index.ts';
import { useKept } from '../../water/parts/use-kept.ts';
import { newBudget } from '../parts/new-documents.ts';
import { RemarkList } from '../parts/remark-list.tsx';

/** Where the coffee goes, and how many brews are left to search with. */
export function GramsPage({ campaignId }: { campaignId: string }) {
  const budgets = useDocuments('budget');
  const [kept, keep] = useKept('stage-budget', { id: null as string | null });
  const chosen = budgets.find(({ id }) => id === kept.id) ?? budgets[0] ?? null;
  const draft = useDraft('budget', chosen?.id ?? null);
  const make = async (): Promise<void> => {
    const made = await createDocument('budget', newBudget(t('stage.grams.new_name')), campaignId);
    if (made.ok) keep({ id: made.value.id });
  };
  if (!draft)
    return (
      <div className="page">
        <h2>{t('stage.grams.none')}</h2>
        <p>{t('stage.grams.none_text')}</p>
        <Button look="primary" icon="add" onPress={() => void make()}>
          {t('stage.grams.new')}
        </Button>
      </div>
    );
  return (
    <DraftForm draft={draft}>
      <div className="stage-bar stage-bar-short">
        <SelectInput
          label={t('stage.grams.budget')}
          value={draft.document.id}
          options={budgets.map(({ id, name }) => ({ value: id, label: name }))}
          onChange={(id) => keep({ id })}
        />
        <Button icon="add" onPress={() => void make()}>
          {t('stage.grams.new')}
        </Button>
      </div>
      <div className="stage-pair">
        <div className="stage-column">
          <Panel title={t('stage.grams.coffee')}>
            <Fields>
              <TextAt path={['name']} />
              <NumberAt path={['green_g']} label={t('stage.grams.green')} step={50} />
              <NumberAt path={['loss_pct']} label={t('stage.grams.loss')} step={0.5} />
              <NumberAt path={['search_brew_g']} label={t('stage.grams.search')} step={0.5} />
            </Fields>
          </Panel>
          <UsesPanel draft={draft} />
          <BatchesPanel draft={draft} />
        </div>
        <div className="stage-column">
          <Outcome budget={draft.document} />
        </div>
      </div>
    </DraftForm>
  );
}

function UsesPanel({ draft }: { draft: Draft<'budget'> }) {
  const { body } = draft;
  const set = (uses: Budget['uses']): void => draft.change({ ...body, uses });
  return (
    <Panel title={t('stage.grams.uses')}>
      {body.uses.map(({ id, name }, i) => (
        <div className="stage-row" key={id}>
          <TextAt path={['uses', i, 'name']} label={t('stage.grams.use')} />
          <NumberAt path={['uses', i, 'times']} label={t('stage.grams.times')} />
          <NumberAt path={['uses', i, 'each_g']} label={t('stage.grams.each')} step={0.5} />
          {body.batches.length > 0 && <BatchOf draft={draft} index={i} />}
          <IconButton
            icon="close"
            label={t('stage.remove_named', { name })}
            onPress={() => set(body.uses.filter((use) => use.id !== id))}
          />
        </div>
      ))}
      <div className="buttons">
        <Button
          icon="add"
          isDisabled={body.uses.length >= 60}
          onPress={() =>
            set([
              ...body.uses,
              {
                id: newLocalId('use', body.uses),
                name: t('stage.grams.new_use', { number: body.uses.length + 1 }),
                times: 1,
                each_g: body.uses.at(-1)?.each_g ?? 50,
                batch_id: null,
              },
            ])
          }
        >
          {t('stage.grams.add_use')}
        </Button>
      </div>
    </Panel>
  );
}

const ANY = 'any';

function BatchOf({ draft, index }: { draft: Draft<'budget'>; index: number }) {
  const { body } = draft;
  return (
    <SelectInput
      label={t('stage.grams.batch')}
      value={body.uses[index]?.batch_id ?? ANY}
      options={[
        { value: ANY, label: t('stage.grams.any') },
        ...body.batches.map(({ id, name }) => ({ value: id, label: name })),
      ]}
      onChange={(id) =>
        draft.change({
          ...body,
          uses: body.uses.map((use, i) => (i === index ? { ...use, batch_id: id === ANY ? null : id } : use)),
        })
      }
    />
  );
}

function BatchesPanel({ draft }: { draft: Draft<'budget'> }) {
  const { body } = draft;
  return (
    <Panel title={t('stage.grams.batches')} fold={body.batches.length > 0 ? 'open' : 'closed'}>
      <p className="quiet-text">{t('stage.grams.batches_text')}</p>
      {body.batches.map(({ id, name }, i) => (
        <div className="stage-row" key={id}>
          <TextAt path={['batches', i, 'name']} label={t('stage.grams.batch')} />
          <NumberAt path={['batches', i, 'green_g']} label={t('stage.grams.green')} step={50} />
          <IconButton
            icon="close"
            label={t('stage.remove_named', { name })}
            onPress={() =>
              draft.change({
                ...body,
                batches: body.batches.filter((batch) => batch.id !== id),
                uses: body.uses.map((use) => (use.batch_id === id ? { ...use, batch_id: null } : use)),
              })
            }
          />
        </div>
      ))}
      <div className="buttons">
        <Button
          icon="add"
          isDisabled={body.batches.length >= 60}
          onPress={() =>
            draft.change({
              ...body,
              batches: [
                ...body.batches,
                {
                  id: newLocalId('batch', body.batches),
                  name: t('stage.grams.new_batch', { number: body.batches.length + 1 }),
                  green_g: 500,
                },
              ],
            })
          }
        >
          {t('stage.grams.add_batch')}
        </Button>
      </div>
    </Panel>
  );
}

/** The sum, use by use, and what is left. */
function Outcome({ budget }: { budget: Budget }) {
  const names = new Map(budget.batches.map(({ id, name }) => [id, name]));
  const found = gramBudget(
    gramOrder.parse({
      green_g: budget.green_g,
      loss_pct: budget.loss_pct,
      uses: budget.uses.map(({ name, times, each_g, batch_id }) => ({
        name,
        times,
        each_g,
        batch: batch_id === null ? null : (names.get(batch_id) ?? null),
      })),
      search_brew_g: budget.search_brew_g,
      batches: budget.batches.map(({ name, green_g }) => ({ name, green_g })),
    }),
  );
  const rows = found.reserved.map((use, i) => ({ ...use, key: `${i} ${use.name}` }));
  const share = (grams: number): string =>
    `${Math.min(100, Math.max(0, (100 * grams) / Math.max(1, found.roasted_g)))}%`;
  return (
    <Panel title={t('stage.grams.outcome')}>
      <dl className="stage-figures">
        <div>
          <dt>{t('stage.grams.roasted')}</dt>
          <dd>
            <strong>{formatWithUnit(found.roasted_g, 'g')}</strong>
          </dd>
        </div>
        <div>
          <dt>{t('stage.grams.reserved')}</dt>
          <dd>
            <strong>{formatWithUnit(found.reserved_g, 'g')}</strong>
          </dd>
        </div>
        <div>
          <dt>{t('stage.grams.left')}</dt>
          <dd>
            <strong>{formatWithUnit(found.left_g, 'g')}</strong>
          </dd>
        </div>
        <div>
          <dt>{t('stage.grams.brews')}</dt>
          <dd>
            <strong>{formatNumber(found.search_brews)}</strong>
          </dd>
        </div>
      </dl>
      <ul className="stage-bars">
        {rows.map(({ key, name, grams, batch }) => (
          <li key={key}>
            <span>
              {name}
              {batch && <em> {batch}</em>}
            </span>
            <span className="stage-bar-track">
              <span style={{ width: share(grams) }} />
            </span>
            <span className="stage-bar-value">{formatWithUnit(grams, 'g')}</span>
          </li>
        ))}
        <li data-left="">
          <span>{t('stage.grams.left')}</span>
          <span className="stage-bar-track">
            <span style={{ width: share(found.left_g) }} />
          </span>
          <span className="stage-bar-value">{formatWithUnit(found.left_g, 'g')}</span>
        </li>
      </ul>
      {found.batches.length > 0 && (
        <div className="table-scroll">
          <table className="stage-table">
            <thead>
              <tr>
                <th scope="col">{t('stage.grams.batch')}</th>
                <th scope="col">{t('stage.grams.roasted')}</th>
                <th scope="col">{t('stage.grams.bound')}</th>
                <th scope="col">{t('stage.grams.left')}</th>
              </tr>
            </thead>
            <tbody>
              {found.batches
                .map((batch, i) => ({ ...batch, key: `${i} ${batch.name}` }))
                .map(({ key, name, roasted_g, reserved_g, left_g }) => (
                  <tr key={key}>
                    <td>{name}</td>
                    <td>{formatWithUnit(roasted_g, 'g')}</td>
                    <td>{formatWithUnit(reserved_g, 'g')}</td>
                    <td>{formatWithUnit(left_g, 'g')}</td>
                  </tr>
                ))}
            </tbody>
          </table>
        </div>
      )}
      <RemarkList remarks={found.remarks} />
    </Panel>
  );
}
