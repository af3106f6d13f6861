import { type Distribution, type Grinder, unitOf } from '@pourline/core';
import { type Draft, newLocalId } from '../../replica/index.ts';
import { Button, Choice, Fields, IconButton, NumberAt, TextAt } from '../../ui/index.ts';
import { fieldLabel, t } from '../../words/index.ts';
import { classesOf, modesOf, seedModes } from './distributions.ts';
import { Part, ShelfForm } from './form.tsx';

type Setting = Grinder['settings'][number];

/** Editor of a grinder: what each of its settings gives. */
export function GrinderPanel({ id }: { id: string }) {
  return (
    <ShelfForm kind="grinder" id={id}>
      {(draft) => <Settings draft={draft} />}
    </ShelfForm>
  );
}

function Settings({ draft }: { draft: Draft<'grinder'> }) {
  const { settings } = draft.body;
  const change = (next: Setting[]): void => draft.change({ ...draft.body, settings: next });
  const add = (): void =>
    change([
      ...settings,
      {
        id: newLocalId('setting', settings),
        mark: String(settings.length + 1),
        distribution: settings.at(-1)?.distribution ?? seedModes(),
        retention_g: 0,
      },
    ]);
  return (
    <Part
      title={fieldLabel(['settings'])}
      aside={
        <Button look="quiet" icon="add" onPress={add}>
          {t('shelf.add_setting')}
        </Button>
      }
    >
      {settings.map((setting, i) => (
        <div key={setting.id} className="shelf-entry">
          <div className="shelf-entry-body">
            <Fields>
              <TextAt path={['settings', i, 'mark']} />
              <NumberAt path={['settings', i, 'retention_g']} step={0.1} />
            </Fields>
            <Sizes
              at={i}
              distribution={setting.distribution}
              onChange={(distribution) =>
                change(settings.map((entry, k) => (k === i ? { ...entry, distribution } : entry)))
              }
            />
          </div>
          {settings.length > 1 && (
            <IconButton
              icon="remove"
              label={`${t('common.remove')}: ${setting.mark}`}
              onPress={() => change(settings.filter((entry) => entry.id !== setting.id))}
            />
          )}
        </div>
      ))}
    </Part>
  );
}

interface SizesProps {
  at: number;
  distribution: Distribution;
  onChange: (distribution: Distribution) => void;
}

function Sizes({ at, distribution, onChange }: SizesProps) {
  return (
    <>
      <Choice
        label={fieldLabel(['distribution'])}
        value={distribution.by}
        onChange={(by) => onChange(by === 'modes' ? modesOf(distribution) : classesOf(distribution))}
        options={[
          { value: 'modes', label: t('field.modes') },
          { value: 'classes', label: t('field.classes') },
        ]}
      />
      {distribution.by === 'modes' ? (
        <Rows
          path={['settings', at, 'distribution', 'modes']}
          rows={distribution.modes}
          columns={[
            { field: 'share', step: 0.01 },
            { field: 'median_um', step: 10 },
            { field: 'gsd', step: 0.05 },
          ]}
          max={6}
          onChange={(modes) => onChange({ by: 'modes', modes })}
          onAdd={(rows) => [...rows, rows.at(-1) ?? { share: 1, median_um: 800, gsd: 1.6 }]}
        />
      ) : (
        <Rows
          path={['settings', at, 'distribution', 'classes']}
          rows={distribution.classes}
          columns={[
            { field: 'diameter_um', step: 10 },
            { field: 'share', step: 0.01 },
          ]}
          max={400}
          onChange={(classes) => onChange({ by: 'classes', classes })}
          onAdd={(rows) => [...rows, { diameter_um: (rows.at(-1)?.diameter_um ?? 50) * 1.25, share: 0 }]}
        />
      )}
    </>
  );
}

/** Narrow columns carry the unit in their head. */
function columnLabel(field: string): string {
  const unit = unitOf(field);
  return unit ? `${fieldLabel([field])}, ${unit}` : fieldLabel([field]);
}

interface RowsProps<R> {
  path: readonly (string | number)[];
  rows: readonly R[];
  columns: readonly { field: string; step: number }[];
  max: number;
  onChange: (rows: R[]) => void;
  onAdd: (rows: readonly R[]) => R[];
}

/** A small table of figures; rows have no name, so they go by their place. */
function Rows<R>({ path, rows, columns, max, onChange, onAdd }: RowsProps<R>) {
  return (
    <div className="shelf-rows">
      {rows.map((_, i) => (
        <div key={path.concat(i).join('/')} className="shelf-row">
          {columns.map(({ field, step }) => (
            <NumberAt
              key={field}
              path={[...path, i, field]}
              label={columnLabel(field)}
              unit=""
              step={step}
              hideLabel={i > 0}
            />
          ))}
          <IconButton
            icon="remove"
            label={`${t('common.remove')}${t('field.row', { row: i + 1 })}`}
            isDisabled={rows.length === 1}
            onPress={() => onChange(rows.filter((_row, k) => k !== i))}
          />
        </div>
      ))}
      <div>
        <Button look="quiet" icon="add" isDisabled={rows.length >= max} onPress={() => onChange(onAdd(rows))}>
          {t('shelf.add_row')}
        </Button>
      </div>
    </div>
  );
}
