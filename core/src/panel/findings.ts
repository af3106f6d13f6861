import { findingSentences } from './finding-sentences.ts';

/** How firm a finding is. 'cannot': these numbers could never have shown it. */
export type Firmness = 'clear' | 'maybe' | 'not_shown' | 'cannot' | 'note' | 'caution';

/** What a result means, as a code with its values and an English sentence. */
export interface Finding {
  firmness: Firmness;
  /** Stable code for translation, for example `difference_clear`. */
  code: string;
  values: Readonly<Record<string, string | number>>;
  sentence: string;
}

/** Makes a finding from its code and values; an unknown code is a broken contract. */
export function finding(
  firmness: Firmness,
  code: string,
  values: Readonly<Record<string, string | number>> = {},
): Finding {
  const template = findingSentences[code];
  if (template === undefined) throw new Error(`There is no sentence for the finding "${code}".`);
  const text = template.replaceAll(/\{(\w+)\}/g, (whole, name: string) =>
    name in values ? String(values[name]) : whole,
  );
  return { firmness, code, values, sentence: text.charAt(0).toUpperCase() + text.slice(1) };
}

/** A chance in words that people can count: "1 time in 83", "30 times in 100". */
export function chanceWords(p: number): string {
  if (p >= 0.02) return `${Math.round(p * 100)} times in 100`;
  if (p >= 1e-6) return `1 time in ${plainNumber(1 / p)}`;
  return 'less than once in a million times';
}

const plainNumber = (v: number): string => {
  const digits = v >= 1000 ? 10 ** (Math.floor(Math.log10(v)) - 1) : 1;
  return String(Math.round(v / digits) * digits);
};

/** A share as per cent without decimals. */
export const percent = (share: number): number => Math.round(100 * share);

/** A figure with at most so many decimals, without trailing zeros. */
export const rounded = (value: number, decimals = 2): number => Number(value.toFixed(decimals));

/** p as it is written: 0.012, or "below 0.001". */
export const writtenP = (p: number): string => (p < 0.001 ? 'below 0.001' : p.toFixed(p < 0.1 ? 3 : 2));

/** Below this p a result that misses its level is called "maybe"; our choice. */
export const MAYBE = 0.2;
