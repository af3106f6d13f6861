import { stageSentences } from './sentences.ts';

/** How a remark is meant: settled, to be watched, not possible, to be asked, or a step that would make it possible. */
export type RemarkTone = 'good' | 'watch' | 'impossible' | 'ask' | 'nearest' | 'note';

/** Something a person should know about the run, as a code with its values and an English sentence. */
export interface StageRemark {
  tone: RemarkTone;
  /** Stable code for translation. */
  code: string;
  values: Readonly<Record<string, string | number>>;
  sentence: string;
}

/**
 * Makes a remark from its code and values.
 * @throws Error when there is no sentence for the code: a broken contract.
 */
export function stageRemark(
  tone: RemarkTone,
  code: string,
  values: Readonly<Record<string, string | number>> = {},
): StageRemark {
  const template = stageSentences[code];
  if (template === undefined) throw new Error(`There is no sentence for the stage remark "${code}".`);
  const text = template.replaceAll(/\{(\w+)\}/g, (whole, name: string) =>
    name in values ? String(values[name]) : whole,
  );
  return { tone, code, values, sentence: text.charAt(0).toUpperCase() + text.slice(1) };
}

/** A number with at most so many decimals, without trailing zeros. */
export const rounded = (value: number, decimals = 1): number => Number(value.toFixed(decimals));

/** Seconds as a stage clock shows them: 4:53; with tenths when they are not whole. */
export function clock(seconds: number): string {
  const tenths = Math.round(Math.abs(seconds) * 10);
  const minutes = Math.floor(tenths / 600);
  const rest = (tenths % 600) / 10;
  const text = Number.isInteger(rest) ? String(rest).padStart(2, '0') : rest.toFixed(1).padStart(4, '0');
  return `${seconds < 0 && tenths > 0 ? '−' : ''}${minutes}:${text}`;
}
