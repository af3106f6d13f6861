import { type Category, type Contest, markPrices } from '@pourline/core';
import { type Draft, newLocalId } from '../../../replica/index.ts';
import {
  Button,
  CheckInput,
  Fields,
  IconButton,
  NumberAt,
  OptionAt,
  Panel,
  TextAt,
} from '../../../ui/index.ts';
import { formatNumber, problemSentence, t } from '../../../words/index.ts';

/** Categories of marks, how they become a total, and what each half point is worth in it. */
export function MarksPanel({ draft }: { draft: Draft<'contest'> }) {
  const { body } = draft;
  const setCategories = (categories: Category[]): void => draft.change({ ...body, categories });
  const add = (): void => {
    const last = body.categories.at(-1);
    setCategories([
      ...body.categories,
      {
        id: newLocalId('category', body.categories),
        name: t('stage.marks.new_name', { number: body.categories.length + 1 }),
        by: last?.by ?? 'each_judge',
        weight: 1,
        min: last?.min ?? 0,
        max: last?.max ?? 10,
        step: last?.step ?? 0.5,
      },
    ]);
  };
  const remove = (id: string): void =>
    draft.change({
      ...body,
      categories: body.categories.filter((category) => category.id !== id),
      combination: body.combination && {
        ...body.combination,
        parts: body.combination.parts
          .map((part) => ({ ...part, category_ids: part.category_ids.filter((other) => other !== id) }))
          .filter(({ category_ids }) => category_ids.length > 0),
      },
    });
  return (
    <Panel title={t('stage.marks.title')} fold="open">
      <Fields>
        <NumberAt
          path={['judges']}
          label={t('stage.marks.judges')}
          nullable
          placeholder={t('stage.unknown')}
        />
      </Fields>
      {body.categories.map(({ id, name }, i) => (
        <div className="stage-row stage-category" key={id}>
          <TextAt path={['categories', i, 'name']} label={t('stage.marks.name')} />
          <OptionAt
            path={['categories', i, 'by']}
            label={t('stage.marks.by')}
            options={(['each_judge', 'head_judge'] as const).map((value) => ({
              value,
              label: t(`stage.marks.${value}`),
            }))}
          />
          <NumberAt path={['categories', i, 'weight']} label={t('stage.marks.weight')} step={0.5} />
          <NumberAt path={['categories', i, 'min']} label={t('stage.marks.min')} />
          <NumberAt path={['categories', i, 'max']} label={t('stage.marks.max')} />
          <NumberAt path={['categories', i, 'step']} label={t('stage.marks.step')} step={0.25} />
          <IconButton icon="close" label={t('stage.remove_named', { name })} onPress={() => remove(id)} />
        </div>
      ))}
      <div className="buttons">
        <Button icon="add" onPress={add} isDisabled={body.categories.length >= 60}>
          {t('stage.marks.add')}
        </Button>
      </div>
      <Formula draft={draft} />
      <Prices contest={draft.document} />
    </Panel>
  );
}

/** How marks become a total. */
function Formula({ draft }: { draft: Draft<'contest'> }) {
  const { body } = draft;
  const { combination } = body;
  const set = (next: Contest['combination']): void => draft.change({ ...body, combination: next });
  const ids = body.categories.map(({ id }) => id);
  if (combination === null)
    return (
      <>
        <h4>{t('stage.formula.title')}</h4>
        <p className="quiet-text">{t('stage.formula.none')}</p>
        <div className="buttons">
          <Button
            isDisabled={ids.length === 0}
            onPress={() =>
              set({
                parts: [
                  {
                    name: t('stage.formula.part', { number: 1 }),
                    category_ids: ids,
                    over_judges: 'mean',
                    factor: 1,
                  },
                ],
                divide_by: 1,
              })
            }
          >
            {t('stage.formula.start')}
          </Button>
        </div>
      </>
    );
  const parts = combination.parts.map((part, i) => ({ ...part, key: `part ${i}` }));
  return (
    <>
      <h4>{t('stage.formula.title')}</h4>
      {parts.map((part, i) => (
        <fieldset className="stage-part" key={part.key}>
          <legend>{part.name}</legend>
          <Fields>
            <TextAt path={['combination', 'parts', i, 'name']} />
            <NumberAt
              path={['combination', 'parts', i, 'factor']}
              label={t('stage.formula.factor')}
              step={0.1}
            />
            <OptionAt
              path={['combination', 'parts', i, 'over_judges']}
              label={t('stage.formula.over')}
              options={(['mean', 'sum'] as const).map((value) => ({
                value,
                label: t(`stage.formula.${value}`),
              }))}
            />
          </Fields>
          <div className="stage-checks">
            {body.categories.map(({ id, name }) => (
              <CheckInput
                key={id}
                label={name}
                value={part.category_ids.includes(id)}
                onChange={(on) => {
                  const category_ids = on
                    ? [...part.category_ids, id]
                    : part.category_ids.filter((other) => other !== id);
                  set({
                    ...combination,
                    parts: combination.parts.map((other, p) =>
                      p === i ? { ...other, category_ids } : other,
                    ),
                  });
                }}
              />
            ))}
          </div>
          {combination.parts.length > 1 && (
            <div className="stage-part-end">
              <IconButton
                icon="close"
                label={t('stage.remove_named', { name: part.name })}
                onPress={() => set({ ...combination, parts: combination.parts.filter((_, p) => p !== i) })}
              />
            </div>
          )}
        </fieldset>
      ))}
      <Fields>
        <NumberAt path={['combination', 'divide_by']} label={t('stage.formula.divide')} step={0.1} />
      </Fields>
      <div className="buttons">
        <Button
          icon="add"
          isDisabled={ids.length === 0 || combination.parts.length >= 20}
          onPress={() =>
            set({
              ...combination,
              parts: [
                ...combination.parts,
                {
                  name: t('stage.formula.part', { number: combination.parts.length + 1 }),
                  category_ids: ids.slice(-1),
                  over_judges: 'mean',
                  factor: 1,
                },
              ],
            })
          }
        >
          {t('stage.formula.add')}
        </Button>
        <Button look="quiet" onPress={() => set(null)}>
          {t('stage.formula.drop')}
        </Button>
      </div>
    </>
  );
}

/** What one step of each category is worth in the total. */
function Prices({ contest }: { contest: Contest }) {
  const prices = markPrices(contest);
  return (
    <>
      <h4>{t('stage.prices.title')}</h4>
      {prices.ok ? (
        <div className="table-scroll">
          <table className="stage-table">
            <thead>
              <tr>
                <th scope="col">{t('stage.marks.name')}</th>
                <th scope="col">{t('stage.prices.step')}</th>
                <th scope="col">{t('stage.prices.one')}</th>
                <th scope="col">{t('stage.prices.all')}</th>
              </tr>
            </thead>
            <tbody>
              {prices.value.map(({ category, one, all }) => (
                <tr key={category.id}>
                  <td>{category.name}</td>
                  <td>{formatNumber(category.step, 2)}</td>
                  <td>{formatNumber(one * category.step, 2)}</td>
                  <td>{formatNumber(all * category.step, 2)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      ) : (
        <ul className="plain-list">
          {prices.problems.map((problem) => (
            <li key={problem.sentence}>{problemSentence(problem)}</li>
          ))}
        </ul>
      )}
    </>
  );
}
