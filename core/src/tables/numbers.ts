/** A number with an optional unit or % sign behind it, its digits grouped or not, with point or comma. */
const NUMERIC =
  /^[-+]?(\d[\d.,\s\u00A0\u202F']*|[.,]\d+)(e[-+]?\d+)?\s*(%|µm|μm|um|mm|nm|kg|mg|g|oz|lb|mesh|ms|s|sec|min|°?[cf]|k)?$/i;
const UNIT_BEHIND = /\s*(%|µm|μm|um|mm|nm|kg|mg|g|oz|lb|mesh|ms|sec|s|min|°?[cf]|k)$/i;

/** Whether a cell is meant as a number. */
export const looksNumeric = (cell: string): boolean => NUMERIC.test(cell.trim());

/** The unit behind a number in a cell, as it stands there; empty when there is none. */
export const unitBehind = (cell: string): string =>
  looksNumeric(cell) ? (UNIT_BEHIND.exec(cell.trim())?.[1] ?? '') : '';

/**
 * The number in a cell, or null. With `commaDecimals` points and spaces group digits and a comma starts the decimals; otherwise
 * commas group. A unit behind the number is left out.
 */
export function numberIn(cell: string, commaDecimals: boolean): number | null {
  const text = cell.trim();
  if (!looksNumeric(text)) return null;
  const bare = text.replace(UNIT_BEHIND, '').replaceAll(/[\s\u00A0\u202F']/g, '');
  const plain = commaDecimals
    ? (bare.includes(',') ? bare.replaceAll('.', '') : bare).replace(',', '.')
    : bare.replaceAll(',', '');
  const value = Number(plain);
  return Number.isFinite(value) ? value : null;
}

/** Commas start decimals unless points plainly do; "1,180" beside "12.5" groups digits. */
export function commasAreDecimals(cells: readonly string[]): boolean {
  const points = cells.some((cell) => /^[-+]?\d*\.\d+/.test(cell) && !/^\d{1,3}(\.\d{3})+(,|$)/.test(cell));
  return !points && cells.some((cell) => /^[-+]?[\d.\s]*,\d+/.test(cell));
}

/** What parts the columns of a table in text. */
export const DELIMITERS = ['\t', ';', ',', '|'] as const;
export type Delimiter = (typeof DELIMITERS)[number];
