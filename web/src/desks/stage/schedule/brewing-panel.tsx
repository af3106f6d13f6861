import type { PlannedRun, Talk } from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { CheckAt, CheckInput, Fields, NumberAt, Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';

interface BrewingPanelProps {
  draft: Draft<'talk'>;
  plan: PlannedRun | null;
}

type Brewing = Talk['brewing'];

/** How the plan is poured several times over. */
export function BrewingPanel({ draft, plan }: BrewingPanelProps) {
  const { brewing } = draft.body;
  const set = (part: Partial<Brewing>): void =>
    draft.change({ ...draft.body, brewing: { ...brewing, ...part } });
  const known = plan?.order;
  return (
    <Panel title={t('stage.brewing.title')}>
      <Fields>
        <NumberAt path={['brewing', 'brewers']} label={t('stage.brewing.brewers')} />
        <NumberAt
          path={['brewing', 'flow_g_s']}
          label={t('stage.brewing.flow')}
          nullable
          placeholder={t('stage.as_plan')}
          step={0.5}
        />
        <NumberAt path={['brewing', 'move_s']} label={t('stage.brewing.move')} step={0.5} />
        <NumberAt
          path={['brewing', 'give_s']}
          label={t('stage.brewing.give')}
          hint={t('stage.brewing.give_hint')}
        />
        <NumberAt
          path={['brewing', 'drain_s']}
          label={t('stage.brewing.drain')}
          nullable
          placeholder={
            known ? t('stage.predicted', { value: formatNumber(known.drain_s) }) : t('common.optional')
          }
        />
        <NumberAt path={['brewing', 'first_pour_s']} label={t('stage.brewing.first')} />
        <NumberAt
          path={['limit_s']}
          label={t('stage.brewing.limit')}
          nullable
          placeholder={
            plan ? t('stage.by_rules', { value: formatNumber(plan.limit_s) }) : t('common.optional')
          }
        />
        <NumberAt path={['brewing', 'people']} label={t('stage.brewing.people')} />
        <NumberAt
          path={['brewing', 'scales']}
          label={t('stage.brewing.scales')}
          nullable
          placeholder={t('stage.brewing.scales_each')}
        />
        <NumberAt path={['brewing', 'apart_s']} label={t('stage.brewing.apart')} nullable />
      </Fields>
      <CheckAt path={['brewing', 'alongside']} label={t('stage.brewing.alongside')} />
      <CheckInput
        label={t('stage.brewing.decant')}
        value={brewing.decant !== null}
        onChange={(on) => set({ decant: on ? { takes_s: 8, within_s: 60 } : null })}
      />
      {brewing.decant && (
        <Fields>
          <NumberAt path={['brewing', 'decant', 'takes_s']} label={t('stage.brewing.takes')} />
          <NumberAt path={['brewing', 'decant', 'within_s']} label={t('stage.brewing.within')} />
        </Fields>
      )}
      <CheckInput
        label={t('stage.brewing.serve')}
        value={brewing.serve !== null}
        onChange={(on) => set({ serve: on ? { takes_s: 15, within_s: 120 } : null })}
      />
      {brewing.serve && (
        <Fields>
          <NumberAt path={['brewing', 'serve', 'takes_s']} label={t('stage.brewing.takes')} />
          <NumberAt path={['brewing', 'serve', 'within_s']} label={t('stage.brewing.serve_within')} />
        </Fields>
      )}
    </Panel>
  );
}
