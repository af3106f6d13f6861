import '../../../no-eval.ts';
import {
  type Analysed,
  type AnalyseOptions,
  analyseSizes,
  type BrewBundle,
  type Checked,
  type GrindPart,
  type MixEffect,
  mixEffect,
  type ReadText,
  readSizeText,
  type SizingData,
} from '@pourline/core';
import { expose } from 'comlink';
import { answerCurve, type CurveAnswer, type CurveQuestion } from './curve-question.ts';
import { answerDial, type DialAnswer, type DialQuestion } from './dial-question.ts';

/** What the page may ask of the grind desk's worker. */
export interface GrindWorker {
  analyse(data: SizingData, options: Omit<AnalyseOptions, 'progress'>): Analysed;
  read(text: string, name: string): Checked<ReadText>;
  /** The curve of a grinder, drawn, and one question about it. */
  curve(question: CurveQuestion): CurveAnswer | null;
  /** A question that needs the engine or a second grinder. `report` is told the share done, 0–1. */
  dial(question: DialQuestion, report: (done: number) => void): DialAnswer | null;
  /** A mix beside each of its parts alone, in a brew. */
  effect(bundle: BrewBundle, name: string, parts: readonly GrindPart[]): MixEffect;
}

const worker: GrindWorker = {
  analyse: analyseSizes,
  read: readSizeText,
  curve: answerCurve,
  dial: answerDial,
  effect: (bundle, name, parts) => mixEffect(bundle, name, parts),
};

expose(worker);
