import { useEffect, useState } from 'react';
import { t } from '../words/index.ts';
import { unfinishedRuns } from './keep-run.ts';
import { liveHref } from './prepare-run.ts';
import type { LiveRunner } from './run/live-runner.ts';
import { type Recording, record } from './run/recorder.ts';
import { type Awake, keepAwake } from './run/wake-lock.ts';
import type { RunSettings, StoredRun } from './store/db.ts';
import type { RunLog } from './store/run-log.ts';
import { EndScreen } from './view/end-screen.tsx';
import { PressNow } from './view/press-now.tsx';
import { ReadyScreen } from './view/ready-screen.tsx';
import { RunScreen } from './view/run-screen.tsx';
import { player } from './view/use-beat.ts';
import { useGlass } from './view/use-glass.ts';
import { useRunner, useRunView } from './view/use-runner.ts';
import './live.css';

interface LiveViewProps {
  /** What stands in the address after `live`. */
  rest: readonly string[];
  /** The rest of the app, which a run does not wait for. */
  ready: Promise<unknown>;
}

/** The live view: one run over the whole screen. It needs nothing but the log of this browser. */
export default function LiveView({ rest, ready }: LiveViewProps) {
  const run_id = rest[0];
  return (
    <div className="live">{run_id ? <OneRun key={run_id} run_id={run_id} ready={ready} /> : <RunList />}</div>
  );
}

function OneRun({ run_id, ready }: { run_id: string; ready: Promise<unknown> }) {
  const opened = useRunner(run_id);
  if (opened.stands === 'open') return <Run runner={opened.runner} log={opened.log} ready={ready} />;
  return (
    <div className="live-plain" role="status">
      <p>
        {opened.stands === 'trouble'
          ? t('live.cannot_open', { detail: opened.detail })
          : t(`live.${opened.stands}`)}
      </p>
      {opened.stands === 'elsewhere' && (
        <PressNow className="live-key" onPress={opened.take}>
          {t('live.take')}
        </PressNow>
      )}
      {opened.stands !== 'opening' && (
        <a className="live-key" href="#/stage/rehearsals">
          {t('live.back')}
        </a>
      )}
    </div>
  );
}

function Run({ runner, log, ready }: { runner: LiveRunner; log: RunLog; ready: Promise<unknown> }) {
  const { state } = useRunView(runner);
  const [settings, setSettings] = useState<RunSettings>(runner.stored.settings);
  const [glass, setGlass] = useGlass();
  const running = state.phase === 'running';
  const awake = useAwake(runner, running);
  const recording = useRecording(runner, log, running && settings.recording);
  const change = (next: RunSettings): void => {
    setSettings(next);
    Object.assign(runner.stored.settings, next);
    void log.change(runner.stored.run_id, { settings: next });
  };
  const start = (at: number): void => {
    if (settings.sounds) void player.open();
    void document.documentElement.requestFullscreen?.().catch(() => {});
    void runner.start(at);
  };
  if (state.phase === 'waiting')
    return (
      <ReadyScreen
        runner={runner}
        settings={settings}
        onSettings={change}
        glass={glass}
        onGlass={setGlass}
        onStart={start}
      />
    );
  if (state.phase === 'ended') return <EndScreen runner={runner} log={log} rest={ready} />;
  return <RunScreen runner={runner} glass={glass} awake={awake} recording={recording} />;
}

function useAwake(runner: LiveRunner, wanted: boolean): Awake {
  const [awake, setAwake] = useState<Awake>('off');
  useEffect(() => {
    if (!wanted) return;
    return keepAwake((now) => {
      runner.keptAwake = now === 'held';
      setAwake(now);
    });
  }, [runner, wanted]);
  return awake;
}

function useRecording(runner: LiveRunner, log: RunLog, wanted: boolean): Recording {
  const [recording, setRecording] = useState<Recording>('off');
  useEffect(() => {
    if (!wanted) return;
    const stop = record(log, runner.stored.run_id, () => runner.nowS(), setRecording);
    return () => {
      runner.recorded = stop();
    };
  }, [runner, log, wanted]);
  return recording;
}

/** Without a run in the address: those that are not finished. */
function RunList() {
  const [runs, setRuns] = useState<readonly { stored: StoredRun; phase: string }[] | null>(null);
  useEffect(() => {
    let gone = false;
    unfinishedRuns()
      .then((found) => !gone && setRuns(found))
      .catch(() => !gone && setRuns([]));
    return () => {
      gone = true;
    };
  }, []);
  if (!runs) return <p className="live-plain">{t('live.opening')}</p>;
  return (
    <div className="live-plain">
      <h1>{t('live.title')}</h1>
      {runs.length === 0 && <p>{t('live.none')}</p>}
      {runs.map(({ stored, phase }) => (
        <a key={stored.run_id} className="live-key" href={liveHref(stored.run_id)}>
          {t(phase === 'running' ? 'live.take_up' : 'live.begin', { name: stored.name || stored.run.title })}
        </a>
      ))}
      <a className="live-key" href="#/stage/rehearsals">
        {t('live.back')}
      </a>
    </div>
  );
}
