import { choiceOf, type LiveWay, lookAt } from '@pourline/core';
import { type CSSProperties, useEffect, useMemo, useRef, useState } from 'react';
import { formatClock, formatNumber, t } from '../../words/index.ts';
import { type LiveLayout, layoutLive } from '../kernels/layout.ts';
import { type LateAnswer, LateDesk } from '../run/late-desk.ts';
import type { LiveRunner } from '../run/live-runner.ts';
import type { Recording } from '../run/recorder.ts';
import type { Awake } from '../run/wake-lock.ts';
import { cueName } from './cue-words.ts';
import { LaneRow } from './lane-row.tsx';
import { LatePanel } from './late-panel.tsx';
import { NowStrip } from './now-strip.tsx';
import { PressNow } from './press-now.tsx';
import { RunClockFace } from './run-clock-face.tsx';
import { RunMore } from './run-more.tsx';
import { RunNotices } from './run-notices.tsx';
import { useBeat } from './use-beat.ts';
import { type GlassChoice, useSize } from './use-glass.ts';
import { useKeys } from './use-keys.ts';
import { useRunView } from './use-runner.ts';

interface RunScreenProps {
  runner: LiveRunner;
  glass: GlassChoice;
  awake: Awake;
  recording: Recording;
}

/** Ways on are worked out anew this often while the panel is open [ms]. */
const LATE_EVERY_MS = 2_000;

/** The run while it goes on. */
export function RunScreen({ runner, glass, awake, recording }: RunScreenProps) {
  const { run, settings } = runner.stored;
  const view = useRunView(runner);
  const { state } = view;
  const [sounds, setSounds] = useState(settings.sounds);
  const now_s = useBeat(runner, sounds, settings.vibration);
  const look = useMemo(() => lookAt(run), [run]);
  const seen = look(state, now_s);
  const root = useRef<HTMLDivElement>(null);
  const size = useSize(root);
  const layout = layoutLive({
    width_px: size.width,
    height_px: size.height,
    px_per_mm: glass.px_per_mm,
    distance_m: glass.distance_m,
    lanes: seen.lanes.length,
  });
  const [panel, setPanel] = useState<'late' | 'more' | null>(null);
  const answer = useLateAnswer(runner, panel === 'late');
  const tapNext = (at: number): void => {
    if (seen.next) void runner.tap(seen.next.cue.id, at);
  };
  const toggle = (which: 'late' | 'more'): void => setPanel((open) => (open === which ? null : which));
  useKeys({
    tap: tapNext,
    undo: (at) => void runner.undo(at),
    mark: (at) => void runner.mark(at),
    late: () => toggle('late'),
  });
  useTitle(now_s, seen.next ? cueName(seen.next.cue, run.cues) : '');
  const choose = (way: LiveWay, at: number): void => {
    setPanel(null);
    void runner.choose(choiceOf(way), at);
  };
  // Those that are to be done first, when the glass does not hold them all; back in their own order.
  const rows = [...seen.lanes]
    .sort((a, b) => (a.next?.due_s ?? 1e9) - (b.next?.due_s ?? 1e9))
    .slice(0, layout.shown);
  return (
    <div
      className={`live-run live-${layout.form}`}
      ref={root}
      style={sizes(layout)}
      data-laps={state.laps.size}
      data-events={view.events.length}
      data-mode={state.mode}
      data-arcmin={layout.arcmin.toFixed(1)}
    >
      <RunClockFace now_s={now_s} look={seen} limit_s={run.limit_s} />
      <main className="live-lanes">
        {seen.lanes
          .filter((lane) => rows.includes(lane))
          .map((lane) => (
            <LaneRow
              key={lane.brewer ?? 'voice'}
              lane={lane}
              cues={run.cues}
              writing={lane.next !== null && view.writing.has(lane.next.cue.id)}
              first={lane.next !== null && lane.next.cue.id === seen.next?.cue.id}
              layout={layout}
              onTap={(id, at) => void runner.tap(id, at)}
            />
          ))}
        {seen.lanes.length > rows.length && (
          <p className="live-rest">{t('live.more_lanes', { count: seen.lanes.length - rows.length })}</p>
        )}
        {panel === 'late' && (
          <LatePanel run={run} answer={answer} onChoose={choose} onClose={() => setPanel(null)} />
        )}
        {panel === 'more' && (
          <RunMore
            runner={runner}
            state={state}
            sounds={sounds}
            onSounds={setSounds}
            awake={awake}
            recording={recording}
            layout={layout}
            onClose={() => setPanel(null)}
          />
        )}
      </main>
      {layout.strip_px > 20 && (
        <NowStrip
          runner={runner}
          run={run}
          state={state}
          ends_s={seen.ends_s}
          width_px={size.width - layout.side_px}
          height_px={layout.strip_px}
        />
      )}
      <RunNotices runner={runner} view={view} awake={awake} recording={recording} />
      <footer className="live-foot">
        <PressNow
          className="live-tap"
          onPress={(at) => (seen.next ? tapNext(at) : void runner.end('finished', at))}
          data-next={seen.next?.cue.id ?? 'end'}
        >
          <span className="live-tap-what">
            {seen.next ? cueName(seen.next.cue, run.cues) : t('live.call_time')}
          </span>
          <span className="live-tap-how">
            {seen.next
              ? state.mode === 'tap'
                ? t('live.tap_begins')
                : t('live.tap_early')
              : t('live.tap_ends')}
          </span>
        </PressNow>
        <div className="live-keys">
          <PressNow
            className="live-key"
            disabled={!state.undoable}
            onPress={(at) => void runner.undo(at)}
            data-key="undo"
          >
            {t('live.undo')}
          </PressNow>
          <PressNow className="live-key" onPress={(at) => void runner.mark(at)} data-key="mark">
            {state.marks.length > 0 ? t('live.marks', { count: state.marks.length }) : t('live.mark')}
          </PressNow>
          <PressNow
            className="live-key"
            pressed={panel === 'late'}
            onPress={() => toggle('late')}
            data-key="late"
            data-urgent={seen.behind_s >= 3 || seen.over_s > 0 ? 'yes' : undefined}
          >
            {seen.behind_s >= 3
              ? t('live.late_by', { seconds: formatNumber(Math.floor(seen.behind_s)) })
              : t('live.late_key')}
          </PressNow>
          <PressNow
            className="live-key"
            pressed={panel === 'more'}
            onPress={() => toggle('more')}
            data-key="more"
          >
            {t('live.more')}
          </PressNow>
        </div>
      </footer>
    </div>
  );
}

/** Sizes for the style sheet. */
const sizes = (layout: LiveLayout): CSSProperties =>
  ({
    '--live-figure': `${layout.figure_px}px`,
    '--live-clock': `${layout.clock_px}px`,
    '--live-target': `${layout.target_px}px`,
    '--live-side': `${layout.side_px}px`,
  }) as CSSProperties;

/** Ways to go on, worked out beside the screen while they are asked for. */
function useLateAnswer(runner: LiveRunner, wanted: boolean): LateAnswer | null {
  const [answer, setAnswer] = useState<LateAnswer | null>(null);
  const desk = useRef<LateDesk | null>(null);
  // The worker is opened with the run, not when it is needed: late is no time to load anything.
  useEffect(() => {
    desk.current = new LateDesk(runner.stored.run);
    return () => desk.current?.close();
  }, [runner]);
  useEffect(() => {
    if (!wanted) return setAnswer(null);
    let gone = false;
    const ask = async (): Promise<void> => {
      const found = await desk.current?.waysFor(runner.view().state, runner.nowS());
      if (!gone && found) setAnswer(found);
    };
    void ask();
    const again = setInterval(() => void ask(), LATE_EVERY_MS);
    return () => {
      gone = true;
      clearInterval(again);
    };
  }, [runner, wanted]);
  return answer;
}

/** The title of the page, for a run that goes on in another tab. */
function useTitle(now_s: number, next: string): void {
  const title = `${formatClock(Math.floor(now_s))} ${next}`.trim();
  useEffect(() => {
    document.title = title;
    return () => {
      document.title = t('shell.app');
    };
  }, [title]);
}
