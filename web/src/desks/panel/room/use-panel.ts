import type { Checked, PlainAnswer, SessionDesign } from '@pourline/core';
import { useLayoutEffect, useState, useSyncExternalStore } from 'react';
import { type Latest, makeLatest } from '../../../engine/latest.ts';
import type { DescribeAnswer, DescribeQuestion } from '../describe/describe-kernels.ts';
import type { PowerAnswer, PowerQuestion } from '../power/power-kernels.ts';
import type { BeforeAnswer } from '../session/before-kernels.ts';
import { thePanelRoom } from './room.ts';

function useAnswer<I, O>(run: (question: I) => Promise<O>, question: I | null): Latest<I, O> {
  const [store] = useState(() => makeLatest(run));
  useLayoutEffect(() => store.ask(question), [store, question]);
  return useSyncExternalStore(store.subscribe, store.get);
}

/** A statistic and its table. */
export interface PlainQuestion {
  kind: string;
  input: unknown;
}

const answerPlain = ({ kind, input }: PlainQuestion): Promise<Checked<PlainAnswer>> =>
  thePanelRoom().answer(kind, input);
const answerPower = (question: PowerQuestion): Promise<PowerAnswer> => thePanelRoom().power(question);

/** The newest answer of a statistic over a typed table. */
export const usePlain = (question: PlainQuestion | null): Latest<PlainQuestion, Checked<PlainAnswer>> =>
  useAnswer(answerPlain, question);

/** What numbers of answers can show. */
export const usePower = (question: PowerQuestion | null): Latest<PowerQuestion, PowerAnswer> =>
  useAnswer(answerPower, question);

const answerBefore = (design: SessionDesign): Promise<BeforeAnswer> => thePanelRoom().before(design);

/** What a session can show, before pouring. */
export const useBefore = (design: SessionDesign | null): Latest<SessionDesign, BeforeAnswer> =>
  useAnswer(answerBefore, design);

const answerDescribe = (question: DescribeQuestion): Promise<DescribeAnswer> =>
  thePanelRoom().describe(question);

/** A description weighed. */
export const useDescribed = (question: DescribeQuestion | null): Latest<DescribeQuestion, DescribeAnswer> =>
  useAnswer(answerDescribe, question);
