import '../../../no-eval.ts';
import {
  type Contest,
  overrunOfRun,
  type PlannedRun,
  planRun,
  type RunOverrun,
  type RunQuestion,
  type RunTalk,
  type Talk,
  type TimedRun,
  talkOfRun,
} from '@pourline/core';
import { expose } from 'comlink';

/** A talk to be placed on a run that is worked out. */
export interface TalkQuestion {
  talk: Talk;
  plan: Pick<PlannedRun, 'schedule' | 'order' | 'values' | 'limit_s'>;
  runs: readonly TimedRun[];
}

/** Earlier runs and the next one. */
export interface OverrunQuestion {
  talk: Talk;
  contest: Contest | null;
  plan: PlannedRun;
  placed: RunTalk;
  runs: readonly TimedRun[];
}

/** What the page may ask of the stage desk's worker. */
export interface StageWorker {
  plan(question: RunQuestion): PlannedRun;
  talk(question: TalkQuestion): RunTalk;
  overrun(question: OverrunQuestion): RunOverrun;
}

const worker: StageWorker = {
  plan: planRun,
  talk: ({ talk, plan, runs }) => talkOfRun(talk, plan, runs),
  overrun: ({ talk, contest, plan, placed, runs }) => overrunOfRun(talk, contest, plan, placed, runs),
};

expose(worker);
