import {
  bundlePlan,
  byMoment,
  type Contest,
  type PlannedRun,
  type Problem,
  type RunOverrun,
  type RunQuestion,
  type RunTalk,
  type Talk,
  type TimedRun,
  timedRunOf,
  timesOf,
  typedRuns,
} from '@pourline/core';
import { useMemo } from 'react';
import type { Latest } from '../../../engine/latest.ts';
import { useDocuments, useLookup } from '../../../replica/index.ts';
import { scheduleRoom, talkRoom } from './room.ts';
import { useAnswer } from './use-answer.ts';
import type { OverrunQuestion, TalkQuestion } from './worker.ts';

/** A run as it stands on screen, worked out. */
export interface Run {
  talk: Talk;
  contest: Contest | null;
  /** What keeps it from being worked out: something it points to is gone. */
  problems: readonly Problem[];
  plan: Latest<RunQuestion, PlannedRun>;
  placed: Latest<TalkQuestion, RunTalk>;
  timed: readonly TimedRun[];
}

/** What a schedule does not hang on is left out of the question, so that typing never asks for a new one. */
const withoutWords = (talk: Talk): Talk => ({
  ...talk,
  name: 'run',
  notes: '',
  segments: [],
  silence: { pours: 'none', zones: [] },
  judges_card: '',
  choices: [],
  runs: [],
  rate: null,
  table: { ...talk.table, things: [] },
  jars: { ...talk.jars, list: [] },
});

interface Asked {
  question: RunQuestion | null;
  problems: readonly Problem[];
  contest: Contest | null;
}

function useQuestion(talk: Talk): Asked {
  const lookup = useLookup();
  const trials = useDocuments('trial');
  const key = JSON.stringify(withoutWords(talk));
  return useMemo(() => {
    const asked: Talk = JSON.parse(key);
    const plan = lookup(asked.plan_id);
    const rules = asked.contest_id === null ? undefined : lookup(asked.contest_id);
    const contest = rules?.kind === 'contest' ? rules : null;
    if (plan?.kind !== 'plan') return { question: null, problems: [], contest };
    const bundle = bundlePlan(plan, lookup);
    if (!bundle.ok) return { question: null, problems: bundle.problems, contest };
    const venue = asked.venue_id === null ? undefined : lookup(asked.venue_id);
    const question: RunQuestion = {
      talk: asked,
      bundle: venue?.kind === 'venue' ? { ...bundle.value, venue } : bundle.value,
      contest,
      trials: trials
        .filter(({ plan_id }) => plan_id === asked.plan_id)
        .map((trial) => ({ ...trial, courses: [], traces: [], photographs: [] })),
    };
    return { question, problems: [], contest };
  }, [key, lookup, trials]);
}

const askPlan = (question: RunQuestion): Promise<PlannedRun> => scheduleRoom().plan(question);
const askTalk = (question: TalkQuestion): Promise<RunTalk> => talkRoom().talk(question);
const askOverrun = (question: OverrunQuestion): Promise<RunOverrun> => talkRoom().overrun(question);

/** Works a run out and keeps it up to date: the schedule in one worker, the talk in another. */
export function useRun(talk: Talk): Run {
  const { question, problems, contest } = useQuestion(talk);
  const plan = useAnswer(askPlan, question);
  const rehearsals = useDocuments('rehearsal');
  const timed = useMemo(
    () => [
      ...typedRuns(talk),
      ...byMoment(rehearsals.filter(({ talk_id }) => talk_id === talk.id)).map((run) =>
        timedRunOf(timesOf(run)),
      ),
    ],
    [talk, rehearsals],
  );
  const { output } = plan;
  const asked = useMemo<TalkQuestion | null>(() => {
    if (!output) return null;
    const { schedule, order, values, limit_s } = output;
    return { talk, plan: { schedule, order, values, limit_s }, runs: timed };
  }, [talk, output, timed]);
  const placed = useAnswer(askTalk, asked);
  return { talk, contest, problems, plan, placed, timed };
}

/** What earlier runs say about the next one, kept up to date. */
export function useOverrun({ talk, contest, plan, placed, timed }: Run): Latest<OverrunQuestion, RunOverrun> {
  const question = useMemo<OverrunQuestion | null>(
    () =>
      plan.output && placed.output
        ? { talk, contest, plan: plan.output, placed: placed.output, runs: timed }
        : null,
    [talk, contest, plan.output, placed.output, timed],
  );
  return useAnswer(askOverrun, question);
}
