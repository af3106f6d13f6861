import '../../../no-eval.ts';
import { type Checked, PLAIN_PANEL, type PlainAnswer, type SessionDesign } from '@pourline/core';
import { expose } from 'comlink';
import { type DescribeAnswer, type DescribeQuestion, describeAnswer } from '../describe/describe-kernels.ts';
import { type PowerAnswer, type PowerQuestion, powerAnswer } from '../power/power-kernels.ts';
import { type BeforeAnswer, beforeAnswer } from '../session/before-kernels.ts';

/** What the page may ask of the panel desk's worker. */
export interface PanelWorker {
  /** Answers one of core's statistics over a typed table. */
  answer(kind: string, input: unknown): Checked<PlainAnswer>;
  /** What numbers of answers can show. */
  power(question: PowerQuestion): PowerAnswer;
  /** What a session can show, before pouring. */
  before(design: SessionDesign): BeforeAnswer;
  /** Weighs a description. */
  describe(question: DescribeQuestion): DescribeAnswer;
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
  before: beforeAnswer,
  describe: describeAnswer,
};

expose(worker);
