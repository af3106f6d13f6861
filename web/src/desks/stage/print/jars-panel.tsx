import type { Talk } from '@pourline/core';
import { type Draft, newLocalId } from '../../../replica/index.ts';
import { Button, Fields, IconButton, NumberAt, Panel, SelectInput, TextAt } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { RemarkList } from '../parts/remark-list.tsx';
import type { SheetsOf } from './sheet-page.tsx';

const SPARE = 'spare';

/** Jars, what they should hold, and what they do. */
export function JarsPanel({ draft, of }: { draft: Draft<'talk'>; of: SheetsOf | null }) {
  const { body } = draft;
  const { list } = body.jars;
  const set = (next: Talk['jars']['list']): void =>
    draft.change({ ...body, jars: { ...body.jars, list: next } });
  const brewers = Array.from({ length: body.brewing.brewers || 0 }, (_, b) => b + 1);
  const fresh = (brewer: number | null, others: Talk['jars']['list']) => ({
    id: newLocalId('jar', others),
    name: brewer === null ? t('stage.jars.spare') : t('stage.jars.new_name', { number: brewer }),
    brewer,
    weighed_g: null,
  });
  const all = (): void => {
    const next: Talk['jars']['list'] = [];
    for (const brewer of [...brewers, null]) next.push(fresh(brewer, next));
    set(next);
  };
  return (
    <Panel title={t('stage.jars.title')} fold="open">
      {of && (
        <p className="quiet-text">
          {t('stage.sheet.jar_sum', {
            dose: formatNumber(of.jars.dose_g, 1),
            retention: formatNumber(of.jars.retention_g, 2),
            target: formatNumber(of.jars.target_g, 2),
            tolerance: formatNumber(of.jars.tolerance_g, 2),
          })}
        </p>
      )}
      <Fields>
        <NumberAt
          path={['jars', 'retention_g']}
          label={t('stage.jars.retention')}
          nullable
          placeholder={t('stage.jars.of_grinder')}
          step={0.1}
        />
        <NumberAt path={['jars', 'tolerance_g']} label={t('stage.jars.tolerance')} step={0.05} />
      </Fields>
      {list.map(({ id, name, brewer }, i) => (
        <div className="stage-row" key={id}>
          <TextAt path={['jars', 'list', i, 'name']} label={t('stage.jars.jar')} />
          <SelectInput
            label={t('stage.actions.brewer')}
            value={brewer === null ? SPARE : String(brewer)}
            options={[
              { value: SPARE, label: t('stage.jars.spare') },
              ...brewers.map((number) => ({ value: String(number), label: String(number) })),
            ]}
            onChange={(value) =>
              set(
                list.map((jar) =>
                  jar.id === id ? { ...jar, brewer: value === SPARE ? null : Number(value) } : jar,
                ),
              )
            }
          />
          <NumberAt
            path={['jars', 'list', i, 'weighed_g']}
            label={t('stage.jars.weighed')}
            nullable
            step={0.1}
          />
          <IconButton
            icon="close"
            label={t('stage.remove_named', { name })}
            onPress={() => set(list.filter((jar) => jar.id !== id))}
          />
        </div>
      ))}
      <div className="buttons">
        {list.length === 0 && <Button onPress={all}>{t('stage.jars.all')}</Button>}
        <Button icon="add" onPress={() => set([...list, fresh(null, list)])} isDisabled={list.length >= 60}>
          {t('stage.jars.add')}
        </Button>
      </div>
      {of && <RemarkList remarks={of.jars.remarks} />}
    </Panel>
  );
}
