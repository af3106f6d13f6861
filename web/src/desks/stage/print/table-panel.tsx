import type { TableThing, Talk } from '@pourline/core';
import { type Draft, newLocalId } from '../../../replica/index.ts';
import { Button, Fields, IconButton, NumberAt, OptionAt, Panel, TextAt } from '../../../ui/index.ts';
import { formatClock, t } from '../../../words/index.ts';
import type { SheetsOf } from './sheet-page.tsx';
import { thingName } from './table-map.tsx';

const THINGS: readonly TableThing['what'][] = [
  'brewer',
  'kettle',
  'jar',
  'server',
  'cup',
  'scale',
  'tray',
  'cards',
  'cloth',
  'other',
];

/** What stands where on the table. */
export function TablePanel({ draft, of }: { draft: Draft<'talk'>; of: SheetsOf | null }) {
  const { body } = draft;
  const { table } = body;
  const set = (things: TableThing[]): void => draft.change({ ...body, table: { ...table, things } });
  const reached = new Map(of?.reach.map(({ thing, at_s }) => [thing.id, at_s]));
  return (
    <Panel title={t('stage.table.title')} fold="open">
      <Fields>
        <NumberAt path={['table', 'width_cm']} label={t('stage.table.width')} />
        <NumberAt path={['table', 'depth_cm']} label={t('stage.table.depth')} />
      </Fields>
      {table.things.map((thing, i) => {
        const at = (field: keyof TableThing) => ['table', 'things', i, field];
        const when = reached.get(thing.id);
        return (
          <fieldset className="stage-part" key={thing.id}>
            <legend>
              {thingName(thing)}
              {when !== undefined && when !== null && (
                <span className="stage-less"> {t('stage.table.reached', { at: formatClock(when) })}</span>
              )}
            </legend>
            <div className="stage-row">
              <OptionAt
                path={at('what')}
                label={t('stage.table.what')}
                options={THINGS.map((value) => ({ value, label: t(`stage.thing.${value}`) }))}
              />
              <TextAt path={at('name')} />
              <NumberAt path={at('brewer')} label={t('stage.actions.brewer')} nullable />
              <NumberAt path={at('x_cm')} label={t('stage.table.x')} />
              <NumberAt path={at('y_cm')} label={t('stage.table.y')} />
              <NumberAt path={at('reach_s')} label={t('stage.table.reach')} nullable />
              <IconButton
                icon="close"
                label={t('stage.remove_named', { name: thingName(thing) })}
                onPress={() => set(table.things.filter(({ id }) => id !== thing.id))}
              />
            </div>
          </fieldset>
        );
      })}
      <div className="buttons">
        {table.things.length === 0 && (
          <Button onPress={() => set(usualTable(body))}>{t('stage.table.usual')}</Button>
        )}
        <Button
          icon="add"
          isDisabled={table.things.length >= 80}
          onPress={() =>
            set([
              ...table.things,
              thing(newLocalId('thing', table.things), 'other', null, table.width_cm / 2, 20),
            ])
          }
        >
          {t('stage.table.add')}
        </Button>
      </div>
    </Panel>
  );
}

const thing = (
  id: string,
  what: TableThing['what'],
  brewer: number | null,
  x_cm: number,
  y_cm: number,
): TableThing => ({ id, what, name: '', brewer, x_cm, y_cm, width_cm: 12, depth_cm: 12, reach_s: null });

/** A table to start from: brewers in a row before you, kettle at your right hand, cups towards the judges. */
export function usualTable({ brewing, table }: Pick<Talk, 'brewing' | 'table'>): TableThing[] {
  const things: TableThing[] = [];
  const add = (what: TableThing['what'], brewer: number | null, x: number, y: number): void => {
    things.push(thing(newLocalId('thing', things), what, brewer, x, y));
  };
  const { width_cm, depth_cm } = table;
  for (let b = 1; b <= brewing.brewers; b++) {
    const x = (width_cm * b) / (brewing.brewers + 2);
    add('brewer', b, x, depth_cm * 0.3);
    add('server', b, x, depth_cm * 0.55);
    add('cup', b, x, depth_cm * 0.85);
  }
  add('kettle', null, width_cm * 0.88, depth_cm * 0.3);
  add('tray', null, width_cm * 0.88, depth_cm * 0.8);
  return things;
}
