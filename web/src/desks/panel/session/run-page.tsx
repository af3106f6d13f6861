import type { HostView, Tasting } from '@pourline/core';
import { useState } from 'react';
import { Button, Notice, Panel } from '../../../ui/index.ts';
import { formatClock, t } from '../../../words/index.ts';
import { AnswerFeed } from './answer-feed.tsx';
import { answersOf } from './answers-of.ts';
import { Flights } from './flights.tsx';
import { JoinPanel } from './join-panel.tsx';
import { PourSheetWindow } from './pour-sheet.tsx';
import { Seats } from './seats.tsx';
import { SharingPanel } from './sharing-panel.tsx';
import { useServerNow } from './use-server-now.ts';
import { type Hosting, useSession } from './use-session.ts';

interface RunPageProps {
  tasting: Tasting;
  onResults: () => void;
}

/** Running a session: the code, who is in, pouring, windows, answers as they arrive, closing. */
export function RunPage({ tasting, onResults }: RunPageProps) {
  const hosting = useSession(tasting.id);
  const { view, refusal } = hosting;
  return (
    <div className="panel-stack">
      {refusal !== null && <Notice tone="alert">{refusal === 'away' ? t('panel.run.away') : refusal}</Notice>}
      {view === null ? (
        <NotOpen hosting={hosting} tasting={tasting} onResults={onResults} />
      ) : (
        <Running hosting={hosting} view={view} onResults={onResults} />
      )}
    </div>
  );
}

interface NotOpenProps extends RunPageProps {
  hosting: Hosting;
}

function NotOpen({ hosting, tasting, onResults }: NotOpenProps) {
  return (
    <div className="panel-two panel-two-even">
      <Panel title={t('panel.run.open_title')}>
        <p>{t(tasting.run === null ? 'panel.run.open_text' : 'panel.run.was_run')}</p>
        <div className="buttons">
          {tasting.run === null ? (
            <Button look="primary" isDisabled={hosting.busy} onPress={() => void hosting.open()}>
              {t('panel.run.open')}
            </Button>
          ) : (
            <Button look="primary" onPress={onResults}>
              {t('panel.run.to_results')}
            </Button>
          )}
        </div>
      </Panel>
      <SharingPanel />
    </div>
  );
}

interface RunningProps {
  hosting: Hosting;
  view: HostView;
  onResults: () => void;
}

function Running({ hosting, view, onResults }: RunningProps) {
  const now = useServerNow(hosting.offset_ms);
  const [sheet, setSheet] = useState(false);
  const seated = view.seats.filter((s) => s.name !== null);
  const [answered, expected] = [
    seated.reduce((n, s) => n + answersOf(view, s.seat), 0),
    seated.filter((s) => s.left_at === null).reduce((n, s) => n + s.expected, 0),
  ];
  return (
    <>
      <div className="run-bar">
        <p className="run-state">
          <strong>{t(`panel.run.state.${view.state}`)}</strong>{' '}
          <span className="quiet-text">
            {t('panel.run.for', { clock: formatClock((now - view.opened_at) / 1_000) })}
            {hosting.connected ? '' : ` · ${t('panel.run.reconnecting')}`}
          </span>
        </p>
        <p className="run-count">
          <span className="run-answers">{answered}</span> {t('panel.run.answers_of', { expected })}
        </p>
        <div className="buttons">
          <Button onPress={() => setSheet(true)}>{t('panel.run.pour_sheet')}</Button>
          {view.state === 'open' && (
            <Button
              look="primary"
              isDisabled={hosting.busy}
              onPress={() => void hosting.act({ do: 'start' })}
            >
              {t('panel.run.start')}
            </Button>
          )}
          {view.state !== 'closed' && (
            <CloseButton
              missing={Math.max(0, expected - answered)}
              onClose={() => void hosting.act({ do: 'close' })}
            />
          )}
          {view.state === 'closed' && (
            <Button look="primary" onPress={onResults}>
              {t('panel.run.to_results')}
            </Button>
          )}
        </div>
      </div>
      <div className="panel-two panel-two-even">
        <div className="panel-column">
          {view.state !== 'closed' && <JoinPanel hosting={hosting} view={view} />}
          <Seats hosting={hosting} view={view} />
        </div>
        <div className="panel-column">
          <Flights hosting={hosting} view={view} now={now} />
          <AnswerFeed view={view} />
          {view.state !== 'closed' && <SharingPanel />}
        </div>
      </div>
      <PourSheetWindow sessionId={view.session_id} open={sheet} onClose={() => setSheet(false)} />
    </>
  );
}

/** Closing tells everybody everything and cannot be taken back: asked twice, with what is missing. */
function CloseButton({ missing, onClose }: { missing: number; onClose: () => void }) {
  const [sure, setSure] = useState(false);
  if (!sure) return <Button onPress={() => setSure(true)}>{t('panel.run.close')}</Button>;
  return (
    <>
      <span className="quiet-text">
        {missing > 0 ? t('panel.run.close_missing', { missing }) : t('panel.run.close_sure')}
      </span>
      <Button look="alert" onPress={onClose}>
        {t('panel.run.close_yes')}
      </Button>
      <Button look="quiet" onPress={() => setSure(false)}>
        {t('common.cancel')}
      </Button>
    </>
  );
}
