import type { Plan, Trial } from '@pourline/core';
import { useMemo, useState } from 'react';
import { archiveDocument, type Draft, useDocuments, useDraft, useLookup } from '../../../replica/index.ts';
import { go, hrefOf } from '../../../shell/route.ts';
import { Button, CheckAt, DraftForm, Fields, IconButton, Notice, Panel, TextAt } from '../../../ui/index.ts';
import { formatMoment, problemSentence, t } from '../../../words/index.ts';
import { TracePanel } from '../trace/trace-panel.tsx';
import { AgePanel } from './age-panel.tsx';
import { ClockPanel } from './clock-panel.tsx';
import { CupColumns } from './cup-columns.tsx';
import { InstrumentChoice } from './instrument-choice.tsx';
import { PhotoPanel } from './photo-panel.tsx';
import { addCup } from './start-trial.ts';
import { StartWindow } from './start-window.tsx';
import { TastedPanel } from './tasted-panel.tsx';
import { TemperaturePanel } from './temperature-panel.tsx';
import { TrialStrip } from './trial-strip.tsx';
import { UniformityPanel } from './uniformity-panel.tsx';
import './log.css';

interface LogPageProps {
  campaignId: string;
  chosen: string | undefined;
}

/** Where a brew is written down, with wet hands. */
export function LogPage({ campaignId, chosen }: LogPageProps) {
  const trials = useDocuments('trial');
  const [starting, setStarting] = useState(false);
  const id = chosen ?? newest(trials)?.id ?? null;
  const draft = useDraft('trial', id);
  return (
    <div className="trial-log">
      {draft ? (
        <Log key={draft.document.id} draft={draft} trials={trials} onStart={() => setStarting(true)} />
      ) : (
        <div className="page">
          <h2>{t(chosen ? 'trials.log.gone' : 'trials.log.none')}</h2>
          <p>{t('trials.log.none_text')}</p>
          <Button look="primary" icon="add" onPress={() => setStarting(true)}>
            {t('trials.start')}
          </Button>
        </div>
      )}
      <StartWindow open={starting} onClose={() => setStarting(false)} campaignId={campaignId} />
    </div>
  );
}

const newest = (trials: readonly Trial[]): Trial | null =>
  trials.reduce<Trial | null>(
    (last, trial) => (last === null || trial.brewed_at > last.brewed_at ? trial : last),
    null,
  );

/** Brews made at once with this one, in the order of their cups; this one alone when it has no event. */
export function cupsOf(trial: Trial, trials: readonly Trial[]): readonly Trial[] {
  const { event } = trial;
  if (!event) return [trial];
  const all = trials.filter((one) => one.event?.id === event.id);
  if (!all.some((one) => one.id === trial.id)) all.push(trial);
  return all.sort((a, b) =>
    (a.event?.cup ?? '').localeCompare(b.event?.cup ?? '', undefined, { numeric: true }),
  );
}

interface LogProps {
  draft: Draft<'trial'>;
  trials: readonly Trial[];
  onStart: () => void;
}

function Log({ draft, trials, onStart }: LogProps) {
  const trial = draft.document;
  const [previewed, preview] = useState<Trial | null>(null);
  const lookup = useLookup();
  const found = lookup(trial.plan_id);
  const planNow = found?.kind === 'plan' ? found : null;
  const plan = trial.plan_then ?? planNow;
  const cups = useMemo(() => cupsOf(trial, trials), [trial, trials]);
  const oneMore = (): void => {
    void addCup(trial, cups, (event) => draft.change({ ...draft.body, event })).then((id) =>
      go('trials', 'log', id),
    );
  };
  const archive = async (): Promise<void> => {
    await archiveDocument(trial.id);
    go('trials');
  };
  return (
    <>
      <DraftForm draft={draft}>
        <header className="log-head">
          <div className="log-name">
            <TextAt path={['name']} label={t('trials.log.name')} />
          </div>
          <div className="log-actions">
            <IconButton
              icon="undo"
              label={t('common.undo')}
              onPress={draft.undo}
              isDisabled={!draft.canUndo}
            />
            <IconButton
              icon="redo"
              label={t('common.redo')}
              onPress={draft.redo}
              isDisabled={!draft.canRedo}
            />
            <Button icon="add" onPress={oneMore}>
              {t('trials.log.one_more')}
            </Button>
            <Button icon="add" onPress={onStart}>
              {t('trials.start_next')}
            </Button>
            <IconButton icon="archive" label={t('trials.log.archive')} onPress={() => void archive()} />
          </div>
          <p className="quiet-text log-about">
            {formatMoment(trial.brewed_at)} ·{' '}
            {planNow ? <a href={hrefOf('brew', planNow.id)}>{planNow.name}</a> : (plan?.name ?? '–')}
            {trial.event ? ` · ${t('trials.log.cup', { cup: trial.event.cup })}` : ''}
          </p>
        </header>
      </DraftForm>
      <Problems draft={draft} />
      <div className="log-pair">
        <div className="log-column">
          <CupColumns cups={cups} openId={trial.id} plan={plan} lookup={lookup} />
          {cups.length > 1 && <UniformityPanel cups={cups} plan={plan} lookup={lookup} />}
          <DraftForm draft={draft}>
            <ClockPanel draft={draft} />
            <TemperaturePanel draft={draft} />
            <Panel title={t('trials.log.notes')}>
              <TextAt path={['notes']} long hideLabel />
            </Panel>
            <TastedPanel draft={draft} />
          </DraftForm>
        </div>
        <div className="log-column">
          <TrialStrip trial={previewed ?? trial} plan={plan} />
          <TracePanel draft={draft} plan={plan} onPreview={preview} />
          <DraftForm draft={draft}>
            <AgePanel draft={draft} plan={plan} lookup={lookup} />
            <Circumstances draft={draft} plan={plan} />
          </DraftForm>
          <PhotoPanel draft={draft} />
        </div>
      </div>
    </>
  );
}

/** Says what keeps typed figures from becoming a revision; they are kept meanwhile. */
function Problems({ draft }: { draft: Draft<'trial'> }) {
  if (draft.problems.length === 0) return null;
  return (
    <Notice tone="alert">
      <p>{t('trials.log.not_saved')}</p>
      <ul>
        {draft.problems.slice(0, 4).map((problem) => (
          <li key={`${problem.path.join('/')} ${problem.code}`}>{problemSentence(problem)}</li>
        ))}
      </ul>
    </Notice>
  );
}

function Circumstances({ draft, plan }: { draft: Draft<'trial'>; plan: Plan | null }) {
  return (
    <Panel title={t('trials.log.circumstances')} fold="closed">
      <Fields>
        <TextAt path={['poured_by']} label={t('trials.field.poured_by')} />
        <TextAt path={['dripper_mark']} label={t('trials.field.dripper_mark')} />
        <InstrumentChoice draft={draft} />
      </Fields>
      <CheckAt path={['counted']} label={t('trials.field.counted')} />
      <p className="quiet-text">{t('trials.log.counted_hint')}</p>
      {plan && draft.document.plan_then && (
        <p className="quiet-text">
          {t('trials.log.plan_then', { at: formatMoment(draft.document.brewed_at) })}
        </p>
      )}
    </Panel>
  );
}
