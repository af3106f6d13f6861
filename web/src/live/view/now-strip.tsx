import type { LiveRun, RunState } from '@pourline/core';
import { useEffect, useMemo, useRef } from 'react';
import { formatClock, t } from '../../words/index.ts';
import { rulerMarks, type StripWindow, stripWindow } from '../kernels/strip-window.ts';
import type { LiveRunner } from '../run/live-runner.ts';

interface NowStripProps {
  runner: LiveRunner;
  run: LiveRun;
  state: RunState;
  ends_s: number;
  width_px: number;
  height_px: number;
}

/**
 * The run on its time axis, one track for each brewer and one for the voice, with the line of now. Frames move what is drawn; React draws
 * anew only when a bar changes.
 */
export function NowStrip({ runner, run, state, ends_s, width_px, height_px }: NowStripProps) {
  const line = useRef<HTMLDivElement>(null);
  const sheet = useRef<HTMLDivElement>(null);
  const all_s = Math.max(30, run.limit_s, ends_s);
  const window = stripWindow(0, all_s, width_px);
  const scale = width_px / (window.to_s - window.from_s);
  useEffect(() => {
    let frame = 0;
    const move = (): void => {
      const now = stripWindow(runner.nowS(), all_s, width_px);
      place(now, line.current, sheet.current, width_px, scale);
      frame = requestAnimationFrame(move);
    };
    move();
    return () => cancelAnimationFrame(frame);
  }, [runner, all_s, width_px, scale]);
  const lanes = useMemo(
    () => [...new Set(run.cues.map(({ brewer }) => brewer))].sort((a, b) => (a ?? 99) - (b ?? 99)),
    [run],
  );
  const marks = rulerMarks(
    { ...window, from_s: 0, to_s: all_s },
    width_px * (all_s / (window.to_s - window.from_s)),
  );
  return (
    <div className="live-strip" style={{ height: height_px }} role="img" aria-label={t('live.strip')}>
      <div className="live-sheet" ref={sheet} style={{ width: all_s * scale }}>
        {marks.map((at) => (
          <span key={at} className="live-tick" style={{ left: at * scale }}>
            {formatClock(at)}
          </span>
        ))}
        <span className="live-limit" style={{ left: run.limit_s * scale }} />
        <div className="live-tracks">
          {lanes.map((lane) => (
            <div key={lane ?? 'voice'} className="live-track">
              {run.cues
                .filter(({ brewer }) => brewer === lane)
                .map((cue) => {
                  const lap = state.laps.get(cue.id);
                  const at = state.planned.get(cue.id)!;
                  return (
                    <span key={cue.id}>
                      <span
                        className="live-bar"
                        data-kind={cue.what}
                        data-stands={state.skipped.has(cue.id) ? 'out' : lap ? 'done' : 'open'}
                        style={{ left: at * scale, width: Math.max(3, cue.takes_s * scale) }}
                      />
                      {lap && <span className="live-lap" style={{ left: lap.at_s * scale }} />}
                    </span>
                  );
                })}
            </div>
          ))}
        </div>
      </div>
      <div className="live-now" ref={line} />
    </div>
  );
}

function place(
  now: StripWindow,
  line: HTMLElement | null,
  sheet: HTMLElement | null,
  width_px: number,
  scale: number,
): void {
  if (line) line.style.transform = `translateX(${now.now * width_px}px)`;
  if (sheet) sheet.style.transform = `translateX(${-now.from_s * scale}px)`;
}
