import type { Plan, Problem } from '@pourline/core';
import { lazy, memo, Suspense, useCallback, useMemo, useRef, useState } from 'react';
import { usePrediction } from '../../engine/use-prediction.ts';
import {
  createDocument,
  type Draft,
  newLocalId,
  type RevisionInfo,
  useDocuments,
  useDraft,
} from '../../replica/index.ts';
import { makeCursor } from '../../strip/cursor.ts';
import type { Hands } from '../../strip/kernels/pour-edit.ts';
import { zoomAt } from '../../strip/kernels/time-axis.ts';
import { Strip } from '../../strip/strip.tsx';
import type { AxisControl } from '../../strip/use-axis.ts';
import { Button, CheckInput, DraftForm, IconButton, Notice } from '../../ui/index.ts';
import { problemSentence, t } from '../../words/index.ts';
import { useVisits } from './bed-question.tsx';
import { CupPanel } from './cup-panel.tsx';
import { HistoryWindow } from './history-window.tsx';
import { mergeHands } from './merge-hands.ts';
import { firstPlan, missingFor, type PlanParts } from './new-plan.ts';
import { NoPlan, PlanBar } from './plan-bar.tsx';
import { PlanPanels } from './plan-panels.tsx';
import { appended } from './pour-table.tsx';
import { Summary } from './summary.tsx';
import { useBundle } from './use-brew.ts';
import { useGhost } from './use-ghost.ts';
import { usePlanChoice } from './use-plan-choice.ts';
import { useSettled } from './use-settled.ts';
import './brew.css';

/** What trials of the coffee taught; fetched after the desk stands. */
const LearnedPanel = lazy(() => import('../trials/learn/learned-panel.tsx'));

/** The desk where a brew is planned: what will be in the cup? */
export default function BrewDesk({ campaignId }: { campaignId: string }) {
  const { planId, plans, choose } = usePlanChoice();
  const coffees = useDocuments('coffee');
  const setups = useDocuments('setup');
  const venues = useDocuments('venue');
  const waters = useDocuments('water');
  const grinders = useDocuments('grinder');
  const parts = useMemo<PlanParts>(
    () => ({ coffees, setups, venues, waters, grinders }),
    [coffees, setups, venues, waters, grinders],
  );
  const draft = useDraft('plan', planId);
  const make = useCallback(() => {
    void makePlan(parts, campaignId).then((id) => {
      if (id !== null) choose(id);
    });
  }, [parts, campaignId, choose]);
  if (!draft) return <NoPlan missing={missingFor(parts).map((kind) => t(`kind.${kind}`))} onNew={make} />;
  return (
    <Desk key={draft.document.id} draft={draft} plans={plans} parts={parts} choose={choose} onNew={make} />
  );
}

export { BrewDesk };

/** Saves a plain plan; null when the shelf lacks something for it. */
async function makePlan(parts: PlanParts, campaignId: string): Promise<string | null> {
  const body = firstPlan(t('brew.new_plan_name'), parts);
  const made = body ? await createDocument('plan', body, campaignId) : null;
  return made?.ok ? made.value.id : null;
}

interface DeskProps {
  draft: Draft<'plan'>;
  plans: readonly Plan[];
  parts: PlanParts;
  choose: (id: string) => void;
  onNew: () => void;
}

/** While a finger drags, everything but the strip and the main figures waits until it rests this long [ms]. */
const LAG_ms = 160;

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
  const form = useMemo<Draft<'plan'>>(
    () => (problems.length === 0 ? draft : { ...draft, problems: [...draft.problems, ...problems] }),
    [draft, problems],
  );
  const lag = moving ? LAG_ms : 0;
  const slowForm = useSettled(form, lag);
  const slowBundle = useSettled(bundle, lag);
  const slowPrediction = useSettled(prediction, lag);
  const slowFound = useSettled(found, lag);
  // Callbacks outlive a drag's many drafts; they always work on the newest.
  const now = useRef({ draft, plans, choose });
  now.current = { draft, plans, choose };

  const edit = useCallback((hands: Hands, settled: boolean) => {
    const { draft: at } = now.current;
    setMoving(!settled);
    at.change(mergeHands(at.body, at.document, hands), { settled });
  }, []);
  const add = useCallback(() => {
    const { draft: at } = now.current;
    const next = appended(at);
    if (next) at.change({ ...at.body, ...next });
  }, []);
  const place = useRef<HTMLDivElement>(null);
  const moment = useCallback(
    (time_s: number) => {
      cursor.put(time_s);
      place.current?.scrollIntoView({ block: 'nearest', behavior: 'smooth' });
    },
    [cursor],
  );
  const compare = useCallback((id: string | null) => setGhostOf(id === null ? null : { id }), []);
  const newId = useCallback(() => newLocalId('pour', now.current.draft.body.pours), []);
  const waterName = useCallback(
    (id: string) => parts.waters.find((water) => water.id === id)?.name ?? '–',
    [parts.waters],
  );
  const tools = useCallback(
    (control: AxisControl) => (
      <StripTools control={control} ripple={ripple} onRipple={setRipple} onAdd={add} />
    ),
    [ripple, add],
  );

  return (
    <div className="brew">
      <h1 className="visually-hidden">{t('brew.title')}</h1>
      <DraftForm draft={slowForm}>
        <PlanBar
          draft={slowForm}
          plans={plans}
          compareId={ghostOf && 'id' in ghostOf ? ghostOf.id : null}
          choose={choose}
          onCompare={compare}
          onNew={onNew}
          onHistory={setLooking}
        />
      </DraftForm>
      <Standing
        problems={form.problems}
        shown={prediction.result !== null}
        cautions={cautions}
        failure={prediction.failure}
        ghost={ghost?.name ?? null}
        onEndCompare={compare}
      />
      <Summary result={prediction.result} stale={prediction.stale} />
      <div className="brew-strip" ref={place}>
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
          newId={newId}
          onSelect={setSelected}
          onEdit={edit}
          tools={tools}
        />
      </div>
      <div className="brew-side">
        <CupPanel
          prediction={prediction}
          lagging={slowPrediction}
          plan={slowForm.document}
          blocked={bundle === null}
          onMoment={moment}
        />
        <Suspense>{slowBundle ? <LearnedPanel bundle={slowBundle} /> : null}</Suspense>
      </div>
      <PlanPanels
        draft={slowForm}
        bundle={slowBundle}
        parts={parts}
        selected={selected}
        onSelect={setSelected}
        ghost={ghost}
        result={slowPrediction.result}
        asked={asked}
        found={slowFound}
        onAsk={setAsked}
        onMoment={moment}
      />
      <HistoryWindow
        planId={plan.id}
        open={looking}
        onClose={() => setLooking(false)}
        onLook={(revision) => setGhostOf({ revision })}
      />
    </div>
  );
}

interface StripToolsProps {
  control: AxisControl;
  ripple: boolean;
  onRipple: (on: boolean) => void;
  onAdd: () => void;
}

const StripTools = memo(function StripTools({ control, ripple, onRipple, onAdd }: StripToolsProps) {
  const { change, reset, zoomed } = control;
  const zoom = (factor: number): void =>
    change((axis, extent) => zoomAt(axis, axis.width_px / 2, factor, extent));
  return (
    <>
      <Button look="quiet" icon="add" onPress={onAdd}>
        {t('brew.add_pour')}
      </Button>
      <CheckInput label={t('brew.ripple')} value={ripple} onChange={onRipple} />
      <div className="zoom-tools">
        <IconButton
          icon="remove"
          label={t('strip.zoom_out')}
          isDisabled={!zoomed}
          onPress={() => zoom(1 / 1.6)}
        />
        <IconButton icon="add" label={t('strip.zoom_in')} onPress={() => zoom(1.6)} />
        <Button look="quiet" isDisabled={!zoomed} onPress={reset}>
          {t('strip.whole')}
        </Button>
      </div>
    </>
  );
});

interface StandingProps {
  problems: readonly Problem[];
  /** An earlier prediction is on screen. */
  shown: boolean;
  cautions: readonly Problem[];
  failure: string | null;
  ghost: string | null;
  onEndCompare: (id: null) => void;
}

/** What keeps the prediction from following the plan, in sentences. */
const Standing = memo(function Standing({
  problems,
  shown,
  cautions,
  failure,
  ghost,
  onEndCompare,
}: StandingProps) {
  return (
    <div className="standing">
      {problems.length > 0 ? (
        <Notice tone="alert">
          <p>{t(shown ? 'brew.not_shown' : 'brew.not_shown_yet')}</p>
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
            <Button look="quiet" onPress={() => onEndCompare(null)}>
              {t('brew.end_compare')}
            </Button>
          }
        >
          {t('brew.comparing', { name: ghost })}
        </Notice>
      ) : null}
    </div>
  );
});
