import type { Checked, PlainAnswer } from '@pourline/core';
import { useLayoutEffect, useState, useSyncExternalStore } from 'react';
import { type Latest, makeLatest } from '../../../engine/latest.ts';
import type { PowerAnswer, PowerQuestion } from '../power/power-kernels.ts';
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
