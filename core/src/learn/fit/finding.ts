import { fitSentences } from './sentences.ts';

/** How a finding is meant: good to know, a limit of what was learned, or something to put right first. */
export type LearnTone = 'note' | 'caution' | 'problem';

/** Something the trials say, or cannot say, as a code with its values and an English sentence. */
export interface LearnFinding {
  tone: LearnTone;
  /** Stable code for translation, for example `not_learned`. */
  code: string;
  values: Readonly<Record<string, string | number>>;
  sentence: string;
  /** The trial it is about; null for all together. */
  trial_id: string | null;
}

/** Fills the sentence of a code; an unknown code is a broken contract. */
export function fitSentence(code: string, values: Readonly<Record<string, string | number>>): string {
  const template = fitSentences[code];
  if (template === undefined) throw new Error(`There is no sentence for "${code}" of a fit.`);
  const text = template.replaceAll(/\{(\w+)\}/g, (whole, name: string) =>
    name in values ? String(values[name]) : whole,
  );
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Makes a finding from its code and values. */
export const learnFinding = (
  tone: LearnTone,
  code: string,
  values: Readonly<Record<string, string | number>> = {},
  trial_id: string | null = null,
): LearnFinding => ({ tone, code, values, sentence: fitSentence(code, values), trial_id });
