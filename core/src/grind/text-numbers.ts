/** A number with an optional unit or % sign behind it, its digits grouped or not, with point or comma. */
const NUMERIC = /^[-+]?(\d[\d.,\s\u00A0\u202F']*|[.,]\d+)(e[-+]?\d+)?\s*(%|µm|μm|um|mm|nm|g|mesh)?$/i;

/** Whether a cell is meant as a number. */
export const looksNumeric = (cell: string): boolean => NUMERIC.test(cell.trim());

/**
 * The number in a cell, or null. With `commaDecimals` points and spaces group digits and a comma starts the decimals; otherwise
 * commas group. A unit behind the number is left out.
 */
export function numberIn(cell: string, commaDecimals: boolean): number | null {
  const text = cell.trim();
  if (!looksNumeric(text)) return null;
  const bare = text.replace(/\s*(%|µm|μm|um|mm|nm|g|mesh)$/i, '').replaceAll(/[\s\u00A0\u202F']/g, '');
  const plain = commaDecimals
    ? (bare.includes(',') ? bare.replaceAll('.', '') : bare).replace(',', '.')
    : bare.replaceAll(',', '');
  const value = Number(plain);
  return Number.isFinite(value) ? value : null;
}

/** The unit of sizes that a heading names, as a factor to µm; null when it is µm or is not named. */
export function unitFactor(heading: string): { um: number; unit: 'nm' | 'mm' | null } {
  if (/(^|[^a-z])nm([^a-z]|$)|nanomet/i.test(heading)) return { um: 1e-3, unit: 'nm' };
  if (/(^|[^a-zµμ])mm([^a-z]|$)|millimet/i.test(heading)) return { um: 1e3, unit: 'mm' };
  return { um: 1, unit: null };
}
