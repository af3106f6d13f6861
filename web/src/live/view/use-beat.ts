import { beatsBetween } from '@pourline/core';
import { useEffect, useRef, useState } from 'react';
import { CountInPlayer } from '../run/count-in-player.ts';
import type { LiveRunner } from '../run/live-runner.ts';
import { startTicker } from '../run/ticker.ts';
import { canVibrate, vibrate } from '../run/vibration.ts';

/** The one sound of this page; opened by the press that starts a run. */
export const player = new CountInPlayer();

/**
 * Everything that goes on by itself while a run is in view: the clock is watched, sounds are put in line, the device vibrates, and the moment to be shown moves
 * on, some twenty times a second.
 */
export function useBeat(runner: LiveRunner, sounds: boolean, vibration: boolean): number {
  const [now_s, setNow] = useState(() => runner.nowS());
  const heard_s = useRef(now_s);
  useEffect(() => {
    const cues = runner.stored.run.cues;
    const stop = startTicker(() => {
      runner.tick();
      const at = runner.nowS();
      const { state } = runner.view();
      if (state.phase === 'running') {
        if (sounds) player.look(cues, state, at, (moment) => runner.pageMs(moment));
        if (vibration && canVibrate()) vibrate(beatsBetween(cues, state, heard_s.current, at));
      }
      heard_s.current = at;
      setNow(at);
    });
    return () => {
      stop();
      player.silence();
    };
  }, [runner, sounds, vibration]);
  return now_s;
}
