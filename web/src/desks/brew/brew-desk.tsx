import type { Plan } from '@pourline/core';
import { useCallback, useDeferredValue, useMemo, useState } from 'react';
import { usePrediction } from '../../engine/use-prediction.ts';
import {
  archiveDocument,
  createDocument,
  type Draft,
  duplicateDocument,
  newLocalId,
  type RevisionInfo,
  useDocument,
  useDocuments,
  useDraft,
} from '../../replica/index.ts';
import { makeCursor } from '../../strip/cursor.ts';
import type { Hands } from '../../strip/kernels/pour-edit.ts';
import { zoomAt } from '../../strip/kernels/time-axis.ts';
import { Strip } from '../../strip/strip.tsx';
import { Button, CheckInput, DraftForm, IconButton, Notice, Panel } from '../../ui/index.ts';
import { problemSentence, t } from '../../words/index.ts';
import { BedQuestion, useVisits } from './bed-question.tsx';
import { ComparePanel } from './compare-panel.tsx';
import { CupPanel } from './cup-panel.tsx';
import { GrindPanel } from './grind-panel.tsx';
import { DosePanel, HandsPanel } from './hands-panel.tsx';
import { HistoryWindow } from './history-window.tsx';
import { mergeHands } from './merge-hands.ts';
import { firstPlan, missingFor, type PlanParts } from './new-plan.ts';
import { NoPlan, PlanBar } from './plan-bar.tsx';
import { appended, PourTable } from './pour-table.tsx';
import { Summary } from './summary.tsx';
import { useBundle } from './use-brew.ts';
import { useGhost } from './use-ghost.ts';
import { usePlanChoice } from './use-plan-choice.ts';
import { WithPanel } from './with-panel.tsx';
import './brew.css';

/** The desk where a brew is planned: what will be in the cup? */
export default function BrewDesk({ campaignId }: { campaignId: string }) {
  const { planId, plans, choose } = usePlanChoice();
  const parts: PlanParts = {
    coffees: useDocuments('coffee'),
    setups: useDocuments('setup'),
    venues: useDocuments('venue'),
    waters: useDocuments('water'),
    grinders: useDocuments('grinder'),
  };
  const draft = useDraft('plan', planId);
  const make = async (): Promise<void> => {
    const body = firstPlan(t('brew.new_plan_name'), parts);
    const made = body ? await createDocument('plan', body, campaignId) : null;
    if (made?.ok) choose(made.value.id);
  };
  if (!draft)
    return <NoPlan missing={missingFor(parts).map((kind) => t(`kind.${kind}`))} onNew={() => void make()} />;
  return (
    <Desk
      key={draft.document.id}
      draft={draft}
      plans={plans}
      parts={parts}
      choose={choose}
      onNew={() => void make()}
    />
  );
}

export { BrewDesk };

interface DeskProps {
  draft: Draft<'plan'>;
  plans: readonly Plan[];
  parts: PlanParts;
  choose: (id: string) => void;
  onNew: () => void;
}

function Desk({ draft, plans, parts, choose, onNew }: DeskProps) {
  const { document: plan } = draft;
  const [cursor] = useState(makeCursor);
  const [selected, setSelected] = useState<string | null>(null);
  const [ripple, setRipple] = useState(false);
  const [moving, setMoving] = useState(false);
  const [looking, setLooking] = useState(false);
  const [asked, setAsked] = useState<number | string | null>(null);
  const [ghostOf, setGhostOf] = useState<{ id: string } | { revision: RevisionInfo } | null>(null);
  const { bundle, problems, cautions } = useBundle(plan);
  const prediction = usePrediction(bundle, moving);
  const ghost = useGhost(ghostOf);
  const found = useVisits(prediction.result, asked);
  // While a finger drags, everything but the strip may lag behind it.
  const lagging = useDeferredValue(draft);
  const shown = moving ? lagging : draft;
  const later = useDeferredValue(prediction);
  const form = useMemo<Draft<'plan'>>(
    () => ({ ...shown, problems: [...shown.problems, ...problems] }),
    [shown, problems],
  );
  const setup = useDocument('setup', plan.setup_id);

  const edit = useCallback(
    (hands: Hands, settled: boolean) => {
      setMoving(!settled);
      draft.change(mergeHands(draft.body, draft.document, hands), { settled });
    },
    [draft],
  );
  const moment = useCallback((time_s: number) => cursor.put(time_s), [cursor]);
  const duplicate = async (): Promise<void> => {
    const copy = await duplicateDocument(plan.id, t('common.copy_of', { name: plan.name }));
    if (copy) choose(copy.id);
  };
  const archive = async (): Promise<void> => {
    const next = plans.find((entry) => entry.id !== plan.id);
    await archiveDocument(plan.id);
    if (next) choose(next.id);
  };
  const add = (): void => {
    const next = appended(draft);
    if (next) draft.change({ ...draft.body, ...next });
  };
  const waterName = (id: string): string => parts.waters.find((water) => water.id === id)?.name ?? '–';

  return (
    <DraftForm draft={form}>
      <div className="brew">
        <h1 className="visually-hidden">{t('brew.title')}</h1>
        <PlanBar
          draft={draft}
          plans={plans}
          compareId={ghostOf && 'id' in ghostOf ? ghostOf.id : null}
          onChoose={choose}
          onCompare={(id) => setGhostOf(id === null ? null : { id })}
          onNew={onNew}
          onDuplicate={() => void duplicate()}
          onArchive={() => void archive()}
          onHistory={() => setLooking(true)}
        />
        <Standing
          draft={form}
          cautions={cautions}
          failure={prediction.failure}
          ghost={ghost?.name ?? null}
          onEndCompare={() => setGhostOf(null)}
        />
        <Summary result={prediction.result} stale={prediction.stale} />
        <div className="brew-strip">
          <Strip
            plan={plan}
            result={prediction.result}
            stale={prediction.stale}
            ghost={ghost}
            bands={prediction.bands}
            visits={found.visits}
            cursor={cursor}
            selected={selected}
            ripple={ripple}
            waterName={waterName}
            newId={() => newLocalId('pour', draft.body.pours)}
            onSelect={setSelected}
            onEdit={edit}
            tools={(control) => (
              <>
                <Button look="quiet" icon="add" onPress={add}>
                  {t('brew.add_pour')}
                </Button>
                <CheckInput label={t('brew.ripple')} value={ripple} onChange={setRipple} />
                <div className="zoom-tools">
                  <IconButton
                    icon="remove"
                    label={t('strip.zoom_out')}
                    isDisabled={!control.zoomed}
                    onPress={() =>
                      control.change((axis, extent) => zoomAt(axis, axis.width_px / 2, 1 / 1.6, extent))
                    }
                  />
                  <IconButton
                    icon="add"
                    label={t('strip.zoom_in')}
                    onPress={() =>
                      control.change((axis, extent) => zoomAt(axis, axis.width_px / 2, 1.6, extent))
                    }
                  />
                  <Button look="quiet" isDisabled={!control.zoomed} onPress={control.reset}>
                    {t('strip.whole')}
                  </Button>
                </div>
              </>
            )}
          />
        </div>
        <div className="brew-side">
          <CupPanel prediction={later} plan={plan} onMoment={moment} />
        </div>
        <div className="brew-below">
          {ghost && later.result ? (
            <ComparePanel names={[plan.name, ghost.name]} result={later.result} other={ghost.result} />
          ) : null}
          <Panel title={t('brew.pours')}>
            <PourTable
              draft={shown}
              waters={parts.waters}
              setup={setup}
              selected={selected}
              onSelect={setSelected}
            />
            {plan.pours.some((pour) => pour.kettle_temperature_C >= SCALDING_C) ? (
              <p className="caution-note">{t('brew.scald')}</p>
            ) : null}
          </Panel>
          <div className="brew-pair">
            <Panel title={t('brew.hands')}>
              <HandsPanel draft={shown} valve={setup?.dripper.valve ?? false} />
            </Panel>
            <Panel title={t('brew.bed_panel')}>
              <BedQuestion asked={asked} found={found} onAsk={setAsked} onMoment={moment} />
            </Panel>
            <Panel title={t('brew.grind')}>
              <GrindPanel draft={shown} grinders={parts.grinders} />
            </Panel>
            <Panel title={t('brew.dose')}>
              <DosePanel draft={shown} waters={parts.waters} />
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
        <HistoryWindow
          planId={plan.id}
          open={looking}
          onClose={() => setLooking(false)}
          onLook={(revision) => setGhostOf({ revision })}
        />
      </div>
    </DraftForm>
  );
}

/** Water from here on scalds at once; common practice, no source. */
const SCALDING_C = 85;

interface StandingProps {
  draft: Draft<'plan'>;
  cautions: readonly {
    sentence: string;
    path: readonly (string | number)[];
    code: string;
    values: Readonly<Record<string, string | number>>;
  }[];
  failure: string | null;
  ghost: string | null;
  onEndCompare: () => void;
}

/** What keeps the prediction from following the plan, in sentences. */
function Standing({ draft, cautions, failure, ghost, onEndCompare }: StandingProps) {
  const { problems } = draft;
  return (
    <div className="standing">
      {problems.length > 0 ? (
        <Notice tone="alert">
          <p>{t('brew.not_shown')}</p>
          <ul>
            {problems.slice(0, 4).map((problem) => (
              <li key={`${problem.path.join('/')} ${problem.code}`}>{problemSentence(problem)}</li>
            ))}
          </ul>
        </Notice>
      ) : null}
      {failure ? <Notice tone="alert">{t('brew.failed', { detail: failure })}</Notice> : null}
      {cautions.map((caution) => (
        <Notice key={caution.sentence}>{problemSentence(caution)}</Notice>
      ))}
      {ghost ? (
        <Notice
          actions={
            <Button look="quiet" onPress={onEndCompare}>
              {t('brew.end_compare')}
            </Button>
          }
        >
          {t('brew.comparing', { name: ghost })}
        </Notice>
      ) : null}
    </div>
  );
}
