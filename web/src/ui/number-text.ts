/** Between figures as people type them and numbers. Kernels: no screen, no locale but the decimal sign. */

const DECIMAL = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/**
 * What a typed text means: a number, null for nothing at all, or the text itself when it is not a number, so that it
 * can stay on screen with its problem beside it. A comma or a point is read as the decimal sign, except `1,000`,
 * which means a thousand to some and one to others and is therefore not taken.
 */
export function parseFigure(text: string, decimal: '.' | ',' = '.'): number | string | null {
  const trimmed = text
    .trim()
    .replaceAll('\u2212', '-')
    .replaceAll(/[\u00a0\u202f ]/g, '');
  if (trimmed === '') return null;
  const other = decimal === '.' ? ',' : '.';
  const foreign = trimmed.includes(other);
  if (foreign && (trimmed.includes(decimal) || new RegExp(`^[+-]?\\d{1,3}\\${other}\\d{3}$`).test(trimmed)))
    return text;
  const plain = trimmed.replace(foreign ? other : decimal, '.');
  return DECIMAL.test(plain) && Number.isFinite(Number(plain)) ? Number(plain) : text;
}

/** A number as it is put into a field: no grouping, no padding, 12 significant figures at most. */
export function figureText(value: unknown, decimal: '.' | ',' = '.'): string {
  if (typeof value === 'string') return value;
  if (typeof value !== 'number' || Number.isNaN(value)) return '';
  const short = Number(value.toPrecision(12));
  const text = Math.abs(short) >= 1e7 ? short.toExponential().replace('e+', 'e') : String(short);
  return text.replace('.', decimal);
}

/** One step up or down from `value`, on the grid of `step` and without binary dust. */
export function stepFigure(value: unknown, step: number, direction: 1 | -1): number {
  const from = typeof value === 'number' ? value : 0;
  const decimals = Math.max(0, -Math.floor(Math.log10(step)) + 1);
  const target = from / step + direction;
  // From between two grid points the next one in that direction, not the one after it.
  const onGrid = Math.abs(from / step - Math.round(from / step)) < 1e-9;
  const grid = onGrid ? Math.round(target) : direction > 0 ? Math.ceil(target - 1) : Math.floor(target + 1);
  return Number((grid * step).toFixed(decimals));
}
