import type { Action, Plan } from '@pourline/core';
import { type Draft, newLocalId } from '../../replica/index.ts';
import { Button, CheckInput, Fields, IconButton, NumberAt, OptionAt, WordAt } from '../../ui/index.ts';
import { t } from '../../words/index.ts';

/** Stirs and swirls, the lift, and the opening of the outlet. */
export function HandsPanel({ draft, valve }: { draft: Draft<'plan'>; valve: boolean }) {
  const { body } = draft;
  const set = (change: Partial<Plan>): void => draft.change({ ...body, ...change });
  const end = body.pours.reduce((last, pour) => Math.max(last, pour.start_s || 0), 0);
  const add = (what: Action['what']): void => {
    const action = {
      id: newLocalId('action', body.actions),
      what,
      start_s: Math.round(end + 15),
      duration_s: 3,
    };
    set({ actions: [...body.actions, action] });
  };
  return (
    <div className="stack">
      {body.actions.map((action, i) => (
        <div className="action-row" key={action.id}>
          <WordAt path={['actions', i, 'what']} words="strip" choices={['stir', 'swirl']} />
          <NumberAt path={['actions', i, 'start_s']} />
          <NumberAt path={['actions', i, 'duration_s']} />
          <IconButton
            icon="remove"
            label={`${t('common.remove')}: ${t(`strip.${action.what}`)}`}
            onPress={() => set({ actions: body.actions.filter((entry) => entry.id !== action.id) })}
          />
        </div>
      ))}
      <div className="buttons">
        <Button look="quiet" icon="add" onPress={() => add('swirl')}>
          {t('brew.add_swirl')}
        </Button>
        <Button look="quiet" icon="add" onPress={() => add('stir')}>
          {t('brew.add_stir')}
        </Button>
      </div>
      <Fields>
        <NumberAt path={['lift_s']} nullable placeholder={t('brew.when_drained')} />
        {valve || body.outlet_opens_s !== null ? (
          <NumberAt path={['outlet_opens_s']} nullable placeholder={t('brew.always_open')} />
        ) : null}
      </Fields>
    </div>
  );
}

/** Dose, age and temperature of the grounds, rinse, and water added straight to the server. */
export function DosePanel({
  draft,
  waters,
}: {
  draft: Draft<'plan'>;
  waters: readonly { id: string; name: string }[];
}) {
  const { body } = draft;
  const set = (change: Partial<Plan>): void => draft.change({ ...body, ...change });
  const first = waters[0];
  return (
    <div className="stack">
      <Fields>
        <NumberAt path={['dose_g']} step={0.1} />
        <NumberAt path={['coffee_age_d']} nullable placeholder={t('brew.rested')} />
        <NumberAt path={['grounds_C']} nullable placeholder={t('brew.as_the_air')} />
      </Fields>
      <CheckInput
        label={t('brew.rinse')}
        value={body.rinse !== null}
        onChange={(on) => set({ rinse: on ? { water_g: 150, temperature_C: 92 } : null })}
      />
      {body.rinse ? (
        <Fields>
          <NumberAt path={['rinse', 'water_g']} step={10} />
          <NumberAt path={['rinse', 'temperature_C']} />
        </Fields>
      ) : null}
      <CheckInput
        label={t('brew.bypass')}
        value={body.bypass !== null}
        disabled={!first && body.bypass === null}
        onChange={(on) =>
          set({ bypass: on && first ? { water_g: 20, temperature_C: 90, water_id: first.id } : null })
        }
      />
      {body.bypass ? (
        <Fields>
          <NumberAt path={['bypass', 'water_g']} />
          <NumberAt path={['bypass', 'temperature_C']} />
          <OptionAt
            path={['bypass', 'water_id']}
            options={waters.map((water) => ({ value: water.id, label: water.name }))}
          />
        </Fields>
      ) : null}
    </div>
  );
}
