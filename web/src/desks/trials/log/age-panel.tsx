import { coffeeAge, type Lookup, type Plan } from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { DateAt, Fields, NumberAt, Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';

interface AgePanelProps {
  draft: Draft<'trial'>;
  plan: Plan | null;
  lookup: Lookup;
}

/** How old the coffee was, days in the freezer not counted. */
export function AgePanel({ draft, plan, lookup }: AgePanelProps) {
  const trial = draft.document;
  const found = lookup(trial.coffee_id ?? plan?.coffee_id ?? '');
  const coffee = found?.kind === 'coffee' ? found : null;
  const age = coffeeAge(trial, coffee ?? undefined);
  const said =
    age.age_d === null
      ? t('trials.age.unknown')
      : age.frozen_d >= 0.5
        ? t('trials.age.frozen', {
            age: formatNumber(age.age_d, 0),
            frozen: formatNumber(age.frozen_d, 0),
          })
        : t('trials.age.days', { age: formatNumber(age.age_d, 0) });
  return (
    <Panel title={t('trials.age.title')} aside={<b className="trial-age">{said}</b>}>
      <p className="quiet-text">
        {coffee
          ? t('trials.age.of', { coffee: coffee.name, roasted: coffee.roasted_on ?? t('trials.age.no_date') })
          : t('trials.age.no_coffee')}
      </p>
      <Fields>
        <DateAt path={['roasted_on']} label={t('trials.field.roasted_on')} />
        <NumberAt path={['frozen_d']} label={t('trials.field.frozen_d')} unit="d" nullable />
        <NumberAt path={['air_C']} label={t('trials.field.air_C')} unit="°C" nullable />
      </Fields>
    </Panel>
  );
}
