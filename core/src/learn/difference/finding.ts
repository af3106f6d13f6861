import type { Finding, Firmness } from '../../panel/findings.ts';

type Values = Readonly<Record<string, string | number>>;

/**
 * Makes findings from one table of English sentences: a code with its values, and the sentence filled with them.
 * @throws Error for a code without a sentence: a broken contract.
 */
export const findingsFrom =
  (sentences: Readonly<Record<string, string>>) =>
  (firmness: Firmness, code: string, values: Values = {}): Finding => {
    const template = sentences[code];
    if (template === undefined) throw new Error(`There is no sentence for the finding "${code}".`);
    const text = template
      .replaceAll(/\{(\w+)\}/g, (whole, name: string) => (name in values ? String(values[name]) : whole))
      // A figure without a unit leaves a gap.
      .replaceAll(/ +(?=[ ;:,.)])/g, '');
    return { firmness, code, values, sentence: text.charAt(0).toUpperCase() + text.slice(1) };
  };

/** A figure with so many decimals, trailing zeros kept: 0.60. */
export const shownTo = (value: number, decimals: number): string => {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
};

/** A list as it is read: "a, b and c". */
export const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)!}`;
