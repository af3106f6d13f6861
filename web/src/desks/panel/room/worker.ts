import '../../../no-eval.ts';
import { type Checked, PLAIN_PANEL, type PlainAnswer } from '@pourline/core';
import { expose } from 'comlink';
import { type PowerAnswer, type PowerQuestion, powerAnswer } from '../power/power-kernels.ts';

/** What the page may ask of the panel desk's worker. */
export interface PanelWorker {
  /** Answers one of core's statistics over a typed table. */
  answer(kind: string, input: unknown): Checked<PlainAnswer>;
  /** What numbers of answers can show. */
  power(question: PowerQuestion): PowerAnswer;
}

/** @throws Error for a statistic that core does not have */
function answer(kind: string, input: unknown): Checked<PlainAnswer> {
  const statistic = PLAIN_PANEL[kind];
  if (!statistic) throw new Error(`answer: there is no statistic "${kind}"`);
  return statistic.answer(input);
}

const worker: PanelWorker = {
  answer,
  power: powerAnswer,
};

expose(worker);
