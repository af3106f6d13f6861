import { RULED, type Talk } from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';
import { CheckInput, Fields, NumberAt, Panel } from '../../../ui/index.ts';
import { t } from '../../../words/index.ts';
import { FREEZABLE } from './rulings-panel.tsx';
import { TriState } from './timers-panel.tsx';

/** What the plan does not say about itself and rules ask for. */
export function FactsPanel({ draft }: { draft: Draft<'talk'> }) {
  const { body } = draft;
  const { facts } = body;
  const set = (part: Partial<Talk['facts']>): void => draft.change({ ...body, facts: { ...facts, ...part } });
  return (
    <Panel title={t('stage.facts.title')} fold="closed">
      <p className="quiet-text">{t('stage.facts.text')}</p>
      <div className="stage-checks">
        {RULED.map((of) => (
          <CheckInput
            key={of}
            label={t(`stage.ruled.${of}`)}
            value={facts.uses.includes(of)}
            onChange={(on) =>
              set({ uses: on ? [...facts.uses, of] : facts.uses.filter((other) => other !== of) })
            }
          />
        ))}
      </div>
      <Fields>
        <TriState path={['facts', 'individually_brewed']} label={t('stage.rules.alone')} />
        <NumberAt path={['facts', 'setup_s']} label={t('stage.facts.setup')} nullable />
        <NumberAt path={['facts', 'cleanup_s']} label={t('stage.facts.cleanup')} nullable />
      </Fields>
      <h4>{t('stage.facts.changes')}</h4>
      <div className="stage-checks">
        {FREEZABLE.map((what) => (
          <CheckInput
            key={what}
            label={t(`stage.frozen.${what}`)}
            value={facts.changes_after_setup.includes(what)}
            onChange={(on) =>
              set({
                changes_after_setup: on
                  ? [...facts.changes_after_setup, what]
                  : facts.changes_after_setup.filter((other) => other !== what),
              })
            }
          />
        ))}
      </div>
    </Panel>
  );
}
