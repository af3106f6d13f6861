import type { BrewBundle, BrewResult } from '@pourline/core';
import { memo } from 'react';
import { type Draft, useDocument } from '../../replica/index.ts';
import type { Ghost } from '../../strip/strip.tsx';
import { DraftForm, Panel } from '../../ui/index.ts';
import { t } from '../../words/index.ts';
import { ChillForm, KettlesForm, ServingForm } from './around-forms.tsx';
import { BedQuestion, type useVisits } from './bed-question.tsx';
import { ComparePanel } from './compare-panel.tsx';
import { GrindPanel } from './grind-panel.tsx';
import { DosePanel, HandsPanel } from './hands-panel.tsx';
import type { PlanParts } from './new-plan.ts';
import { PourTable } from './pour-table.tsx';
import { WhatMattersPanel } from './what-matters.tsx';
import { WithPanel } from './with-panel.tsx';

/** Water from here on scalds at once; common practice, no source. */
const SCALDING_C = 85;

interface PlanPanelsProps {
  draft: Draft<'plan'>;
  bundle: BrewBundle | null;
  parts: PlanParts;
  selected: string | null;
  onSelect: (id: string | null) => void;
  ghost: Ghost | null;
  result: BrewResult | null;
  asked: number | string | null;
  found: ReturnType<typeof useVisits>;
  onAsk: (value: number | string | null) => void;
  onMoment: (time_s: number) => void;
}

/** The plan in figures, below the strip. */
export const PlanPanels = memo(function PlanPanels(props: PlanPanelsProps) {
  const { draft, bundle, parts, selected, onSelect, ghost, result, asked, found, onAsk, onMoment } = props;
  const { document: plan } = draft;
  const setup = useDocument('setup', plan.setup_id);
  return (
    <DraftForm draft={draft}>
      <div className="brew-below">
        {ghost && result ? (
          <ComparePanel names={[plan.name, ghost.name]} result={result} other={ghost.result} />
        ) : null}
        <Panel title={t('brew.pours')}>
          <PourTable
            draft={draft}
            waters={parts.waters}
            setup={setup}
            selected={selected}
            onSelect={onSelect}
          />
          {plan.pours.some((pour) => pour.kettle_temperature_C >= SCALDING_C) ? (
            <p className="caution-note">{t('brew.scald')}</p>
          ) : null}
        </Panel>
        <WhatMattersPanel bundle={bundle} />
        <div className="brew-pair">
          <Panel title={t('brew.hands')}>
            <HandsPanel draft={draft} valve={setup?.dripper.valve ?? false} />
          </Panel>
          <Panel title={t('brew.bed_panel')}>
            <BedQuestion asked={asked} found={found} onAsk={onAsk} onMoment={onMoment} />
          </Panel>
          <Panel title={t('brew.grind')}>
            <GrindPanel draft={draft} grinders={parts.grinders} />
          </Panel>
          <Panel title={t('brew.dose')}>
            <DosePanel draft={draft} waters={parts.waters} />
          </Panel>
          <Panel title={t('brew.kettles')}>
            <KettlesForm draft={draft} setup={setup} />
          </Panel>
          <Panel title={t('brew.after')}>
            <div className="stack">
              <ChillForm draft={draft} />
              <ServingForm draft={draft} />
            </div>
          </Panel>
          <Panel title={t('brew.with')}>
            <WithPanel
              ids={plan}
              waters={parts.waters.filter((water) => plan.pours.some((pour) => pour.water_id === water.id))}
              grinders={parts.grinders.filter((grinder) =>
                plan.grind.some((part) => part.grinder_id === grinder.id),
              )}
            />
          </Panel>
        </div>
      </div>
    </DraftForm>
  );
});
