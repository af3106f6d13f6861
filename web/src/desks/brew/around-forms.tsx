import { type Chill, MATERIALS, type Plan, type Setup } from '@pourline/core';
import type { Draft } from '../../replica/index.ts';
import { CheckAt, CheckInput, Fields, NumberAt, OptionAt, WordAt } from '../../ui/index.ts';
import { t } from '../../words/index.ts';
import './around.css';

interface FormProps {
  draft: Draft<'plan'>;
}

/** How each kettle is handled; a kettle that is not ticked gives what is asked. */
export function KettlesForm({ draft, setup }: FormProps & { setup: Setup | null }) {
  const { body } = draft;
  const change = (kettles: Plan['kettles']): void => draft.change({ ...body, kettles });
  return (
    <div className="stack">
      <p className="quiet-text">{t('brew.kettles_help')}</p>
      {(setup?.kettles ?? []).map((kettle) => {
        const at = body.kettles.findIndex((use) => use.kettle_id === kettle.id);
        return (
          <div key={kettle.id} className="around-entry">
            <CheckInput
              label={t('brew.follow_kettle', { name: kettle.name })}
              value={at >= 0}
              onChange={(on) =>
                change(
                  on
                    ? [
                        ...body.kettles,
                        { kettle_id: kettle.id, fill_g: null, start_C: null, between: 'on_base' },
                      ]
                    : body.kettles.filter((use) => use.kettle_id !== kettle.id),
                )
              }
            />
            {at >= 0 ? (
              <Fields>
                <NumberAt path={['kettles', at, 'fill_g']} step={50} nullable placeholder={t('brew.full')} />
                <NumberAt path={['kettles', at, 'start_C']} nullable placeholder={t('brew.as_first_pour')} />
                <OptionAt
                  path={['kettles', at, 'between']}
                  options={[
                    { value: 'on_base', label: t('brew.between.on_base') },
                    { value: 'off_base', label: t('brew.between.off_base') },
                  ]}
                />
              </Fields>
            ) : null}
          </div>
        );
      })}
    </div>
  );
}

/** A plain cold body to start from: 150 g of steel out of a freezer. */
const NEW_CHILL: Chill = {
  how: 'runs_over',
  first: { by: 'mass', drip_g: 40 },
  material: 'stainless_steel',
  mass_g: 150,
  temperature_C: -16,
  contact_W_K: null,
};

/** The first of the drip on a cold body. */
export function ChillForm({ draft }: FormProps) {
  const { body } = draft;
  const { chill } = body;
  const set = (next: Plan['chill']): void => draft.change({ ...body, chill: next });
  return (
    <div className="stack">
      <CheckInput
        label={t('brew.chill')}
        value={chill !== null}
        onChange={(on) => set(on ? NEW_CHILL : null)}
      />
      {chill ? (
        <>
          <OptionAt
            path={['chill', 'how']}
            options={[
              { value: 'runs_over', label: t('brew.chill_how.runs_over') },
              { value: 'caught', label: t('brew.chill_how.caught') },
            ]}
          />
          <FirstPart chill={chill} set={set} />
          <Fields>
            {chill.first.by === 'mass' ? (
              <NumberAt path={['chill', 'first', 'drip_g']} />
            ) : (
              <NumberAt path={['chill', 'first', 'until_s']} />
            )}
            <WordAt path={['chill', 'material']} words="material" choices={MATERIALS} />
            <NumberAt path={['chill', 'mass_g']} step={10} />
            <NumberAt path={['chill', 'temperature_C']} />
            {chill.how === 'runs_over' ? (
              <NumberAt
                path={['chill', 'contact_W_K']}
                step={0.5}
                nullable
                placeholder={t('shelf.engine_default')}
              />
            ) : null}
          </Fields>
        </>
      ) : null}
    </div>
  );
}

/** By a mass or until a moment. */
function FirstPart({ chill, set }: { chill: Chill; set: (next: Chill) => void }) {
  return (
    <CheckInput
      label={t('brew.chill_by_time')}
      value={chill.first.by === 'time'}
      onChange={(byTime) =>
        set({ ...chill, first: byTime ? { by: 'time', until_s: 60 } : { by: 'mass', drip_g: 40 } })
      }
    />
  );
}

/** What the schema fills in, written out. */
const NEW_SERVING: NonNullable<Plan['serving']> = {
  stands_s: 15,
  lid: false,
  cups: 1,
  cup_g: null,
  cups_C: null,
  carry_s: 20,
  hot_above_C: 60,
  cold_below_C: 40,
};

/** From the end of the brew to the guests. */
export function ServingForm({ draft }: FormProps) {
  const { body } = draft;
  return (
    <div className="stack">
      <CheckInput
        label={t('brew.serve')}
        value={body.serving !== null}
        onChange={(on) => draft.change({ ...body, serving: on ? NEW_SERVING : null })}
      />
      {body.serving ? (
        <>
          <Fields>
            <NumberAt path={['serving', 'cups']} />
            <NumberAt path={['serving', 'cup_g']} step={5} nullable placeholder={t('brew.even_shares')} />
            <NumberAt path={['serving', 'cups_C']} nullable placeholder={t('brew.as_the_air')} />
            <NumberAt path={['serving', 'stands_s']} step={5} />
            <NumberAt path={['serving', 'carry_s']} step={5} />
            <NumberAt path={['serving', 'hot_above_C']} />
            <NumberAt path={['serving', 'cold_below_C']} />
          </Fields>
          <CheckAt path={['serving', 'lid']} />
          <p className="quiet-text">{t('brew.limits_note')}</p>
        </>
      ) : null}
    </div>
  );
}
