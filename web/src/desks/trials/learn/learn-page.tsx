import type { AnyDocument, Fit, LearnedParameter } from '@pourline/core';
import { useEffect, useMemo, useState, useSyncExternalStore } from 'react';
import { useDocuments, useLookup } from '../../../replica/index.ts';
import { Button, Notice, Panel, SelectInput } from '../../../ui/index.ts';
import { problemSentence, t } from '../../../words/index.ts';
import { FindingList } from '../compare/compare-page.tsx';
import { type FitStore, type FitView, theFits } from './fit-store.ts';
import { LessonTable } from './lesson-table.tsx';
import { DiagnosticsList, ParameterTable } from './parameter-table.tsx';
import './learn.css';

/** Everything a fit may look at: the campaign's documents but those that say nothing of a brew. */
function useFitDocuments(): readonly AnyDocument[] {
  const trials = useDocuments('trial');
  const plans = useDocuments('plan');
  const coffees = useDocuments('coffee');
  const setups = useDocuments('setup');
  const venues = useDocuments('venue');
  const waters = useDocuments('water');
  const grinders = useDocuments('grinder');
  const instruments = useDocuments('instrument');
  return useMemo(
    () => [...trials, ...plans, ...coffees, ...setups, ...venues, ...waters, ...grinders, ...instruments],
    [trials, plans, coffees, setups, venues, waters, grinders, instruments],
  );
}

/** What all trials of a coffee say together, and what each of them taught. */
export function LearnPage() {
  const store = theFits();
  const view = useSyncExternalStore(store.subscribe, store.get);
  const documents = useFitDocuments();
  const coffees = useDocuments('coffee');
  const trials = useDocuments('trial');
  const lookup = useLookup();
  const counts = useMemo(() => {
    const found = new Map<string, number>();
    for (const trial of trials) {
      const plan = trial.plan_then ?? lookup(trial.plan_id);
      const id = trial.coffee_id ?? (plan?.kind === 'plan' ? plan.coffee_id : '');
      found.set(id, (found.get(id) ?? 0) + 1);
    }
    return found;
  }, [trials, lookup]);
  const most = [...coffees].sort((a, b) => (counts.get(b.id) ?? 0) - (counts.get(a.id) ?? 0))[0]?.id ?? null;
  const [chosen, choose] = useState<string | null>(view.coffeeId);
  const coffeeId = coffees.some(({ id }) => id === chosen) ? chosen : most;
  useEffect(() => {
    if (coffeeId !== null) void store.look(documents, coffeeId);
  }, [store, documents, coffeeId]);
  if (coffeeId === null) return <p className="quiet-text">{t('trials.learn.no_coffee')}</p>;
  return (
    <div className="trials-stack">
      <div className="learn-head">
        <SelectInput
          label={t('field.coffee_id')}
          value={view.done === null ? coffeeId : view.coffeeId}
          disabled={view.done !== null}
          options={coffees.map(({ id, name }) => ({
            value: id,
            label: name,
            detail: t('trials.count', { count: counts.get(id) ?? 0 }),
          }))}
          onChange={choose}
        />
        <Work view={view} store={store} documents={documents} />
      </div>
      <Standing view={view} />
      {view.fit && <Learned fit={view.fit} />}
    </div>
  );
}

interface WorkProps {
  view: FitView;
  store: FitStore;
  documents: readonly AnyDocument[];
}

/** Starting, stopping and going on. */
function Work({ view, store, documents }: WorkProps) {
  const { done, stage, begun, gathered, fit } = view;
  if (done !== null)
    return (
      <div className="trace-progress learn-progress">
        <progress max={1} value={done} aria-label={t('trials.learn.working')} />
        <span>
          {t('trials.trace.done', { percent: Math.round(100 * done) })}
          {stage ? ` · ${t(`trials.learn.stage.${stage}`)}` : ''}
        </span>
        <Button onPress={store.stop}>{t('trials.learn.stop')}</Button>
      </div>
    );
  const resumable = begun !== null && gathered?.ok === true && begun.input_hash === gathered.hash;
  return (
    <div className="buttons">
      <Button
        look="primary"
        isDisabled={!gathered?.ok}
        onPress={() => void store.start(documents, !resumable)}
      >
        {t(resumable ? 'trials.learn.go_on' : fit ? 'trials.learn.again' : 'trials.learn.start')}
      </Button>
      {resumable && (
        <Button onPress={() => void store.start(documents, true)}>{t('trials.learn.anew')}</Button>
      )}
    </div>
  );
}

/** What the result rests on and whether it still holds. */
function Standing({ view }: { view: FitView }) {
  const { gathered, fit, failure, problems } = view;
  const outdated = fit !== null && gathered?.ok === true && fit.input_hash !== gathered.hash;
  const said = gathered && !gathered.ok ? gathered.problems : problems;
  return (
    <>
      {failure && <Notice tone="alert">{t('trials.learn.failed', { detail: failure })}</Notice>}
      {said.length > 0 && (
        <Notice tone="alert">
          <p>{t('trials.learn.cannot')}</p>
          <ul>
            {said.map((problem) => (
              <li key={problem.sentence}>{problemSentence(problem)}</li>
            ))}
          </ul>
        </Notice>
      )}
      {fit && (
        <p className="learn-standing" role="status">
          <b>{t('trials.learn.calibrated', { count: fit.trials })}</b>{' '}
          {outdated && <span className="learn-outdated">{t('trials.learn.outdated')}</span>}
        </p>
      )}
      {!fit && gathered?.ok && (
        <p className="quiet-text">{t('trials.learn.ready', { count: gathered.trials })}</p>
      )}
      {!fit && gathered?.ok && <FindingList findings={gathered.findings} />}
    </>
  );
}

const isMain = ({ kind }: LearnedParameter): boolean => kind !== 'noise' && kind !== 'between';

function Learned({ fit }: { fit: Fit }) {
  return (
    <>
      <Panel title={t('trials.learn.parameters')}>
        <ParameterTable parameters={fit.parameters.filter(isMain)} />
        <p className="quiet-text">{t('trials.learned.bands_note')}</p>
        <details className="mapping-more">
          <summary>{t('trials.learn.scatters')}</summary>
          <ParameterTable parameters={fit.parameters.filter((one) => !isMain(one))} />
        </details>
      </Panel>
      <div className="compare-pair">
        <Panel title={t('trials.learn.cannot_tell')}>
          {fit.findings.length === 0 && <p className="quiet-text">{t('trials.learn.all_told')}</p>}
          <FindingList findings={fit.findings} />
        </Panel>
        <Panel title={t('trials.learn.trust')} fold="closed">
          <DiagnosticsList fit={fit} />
        </Panel>
      </div>
      <Panel title={t('trials.learn.lessons')}>
        <LessonTable fit={fit} />
      </Panel>
    </>
  );
}
