import { type LiveRun, liveWays, type RunState } from '@pourline/core';

export interface LateQuestion {
  ask: number;
  run: LiveRun;
  state: RunState;
  now_s: number;
}

self.onmessage = ({ data: { ask, run, state, now_s } }: MessageEvent<LateQuestion>) => {
  self.postMessage({ ask, ways: liveWays(run, state, now_s) });
};
