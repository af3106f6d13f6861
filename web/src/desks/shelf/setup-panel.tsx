import { MATERIALS, type Setup } from '@pourline/core';
import { type Draft, newLocalId } from '../../replica/index.ts';
import { Button, CheckAt, CheckInput, Fields, IconButton, NumberAt, TextAt, WordAt } from '../../ui/index.ts';
import { fieldLabel, t } from '../../words/index.ts';
import { Part, ShelfForm } from './form.tsx';

/** Editor of dripper, paper, server and kettles. */
export function SetupPanel({ id }: { id: string }) {
  return (
    <ShelfForm kind="setup" id={id}>
      {(draft) => (
        <>
          <Part title={fieldLabel(['dripper'])}>
            <Fields>
              <WordAt path={['dripper', 'shape']} words="shape" choices={['flat', 'cone']} />
              <WordAt path={['dripper', 'material']} words="material" choices={MATERIALS} />
              <NumberAt path={['dripper', 'bottom_diameter_mm']} />
              <NumberAt path={['dripper', 'rim_diameter_mm']} />
              <NumberAt path={['dripper', 'height_mm']} />
              <NumberAt path={['dripper', 'mass_g']} />
              <CheckAt path={['dripper', 'valve']} />
            </Fields>
          </Part>
          <Part title={fieldLabel(['paper'])}>
            <Fields>
              <NumberAt path={['paper', 'mass_g']} step={0.1} />
              <NumberAt
                path={['paper', 'resistance_per_m']}
                unit="1/m"
                step={1e9}
                nullable
                placeholder={t('shelf.engine_default')}
              />
            </Fields>
          </Part>
          <Part title={fieldLabel(['server'])}>
            <Fields>
              <WordAt path={['server', 'material']} words="material" choices={MATERIALS} />
              <NumberAt path={['server', 'mass_g']} />
              <NumberAt path={['server', 'capacity_mL']} step={10} />
              <NumberAt path={['server', 'preheated_C']} nullable placeholder={t('shelf.air_temperature')} />
              <NumberAt
                path={['server', 'inner_diameter_mm']}
                nullable
                placeholder={t('shelf.as_wide_as_high')}
              />
            </Fields>
          </Part>
          <Cup draft={draft} />
          <Kettles draft={draft} />
        </>
      )}
    </ShelfForm>
  );
}

/** A plain porcelain cup to start from. */
const NEW_CUP: NonNullable<Setup['cup']> = {
  material: 'porcelain',
  mass_g: 200,
  inner_diameter_mm: 82,
  capacity_mL: 200,
  double_wall: false,
};

function Cup({ draft }: { draft: Draft<'setup'> }) {
  const { cup } = draft.body;
  return (
    <Part title={fieldLabel(['cup'])}>
      <CheckInput
        label={t('shelf.has_cup')}
        value={cup !== null}
        onChange={(on) => draft.change({ ...draft.body, cup: on ? NEW_CUP : null })}
      />
      {cup ? (
        <>
          <Fields>
            <WordAt path={['cup', 'material']} words="material" choices={MATERIALS} />
            <NumberAt path={['cup', 'mass_g']} step={5} />
            <NumberAt path={['cup', 'inner_diameter_mm']} />
            <NumberAt path={['cup', 'capacity_mL']} step={10} />
          </Fields>
          <CheckAt path={['cup', 'double_wall']} />
        </>
      ) : null}
    </Part>
  );
}

function Kettles({ draft }: { draft: Draft<'setup'> }) {
  const { kettles } = draft.body;
  const change = (next: typeof kettles): void => draft.change({ ...draft.body, kettles: next });
  const add = (): void =>
    change([
      ...kettles,
      {
        id: newLocalId('kettle', kettles),
        name: t('shelf.kettle', { number: kettles.length + 1 }),
        capacity_g: 900,
        power_W: 1_200,
        body_equivalent_g: 100,
        loss_W_K: 1.2,
      },
    ]);
  return (
    <Part
      title={fieldLabel(['kettles'])}
      aside={
        <Button look="quiet" icon="add" onPress={add} isDisabled={kettles.length >= 6}>
          {t('shelf.add_kettle')}
        </Button>
      }
    >
      {kettles.map((kettle, i) => (
        <div key={kettle.id} className="shelf-entry">
          <Fields>
            <TextAt path={['kettles', i, 'name']} />
            <NumberAt path={['kettles', i, 'capacity_g']} step={50} />
            <NumberAt path={['kettles', i, 'power_W']} step={50} />
            <NumberAt path={['kettles', i, 'body_equivalent_g']} step={10} />
            <NumberAt path={['kettles', i, 'loss_W_K']} step={0.1} />
          </Fields>
          {kettles.length > 1 && (
            <IconButton
              icon="remove"
              label={`${t('common.remove')}: ${kettle.name}`}
              onPress={() => change(kettles.filter((entry) => entry.id !== kettle.id))}
            />
          )}
        </div>
      ))}
    </Part>
  );
}
