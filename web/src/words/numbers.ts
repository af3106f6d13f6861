import { i18n } from '@lingui/core';

/** Between a figure and its unit: does not break across lines. */
const NARROW = '\u202f';
const cache = new Map<string, Intl.NumberFormat>();

function formatter(digits: number): Intl.NumberFormat {
  const key = `${i18n.locale}|${digits}`;
  const kept = cache.get(key);
  if (kept) return kept;
  const made = new Intl.NumberFormat(i18n.locale, {
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  });
  cache.set(key, made);
  return made;
}

/** A figure with a fixed number of decimals; a dash when there is none. `-0.0` is shown as `0.0`. */
export function formatNumber(value: number | null | undefined, digits = 0): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return '–';
  const rounded = Math.abs(value) < 0.5 * 10 ** -digits ? 0 : value;
  return formatter(digits).format(rounded).replace('-', '−');
}

/** A figure with its unit, kept on one line: `155.3 g`. A degree sign alone stands without a space. */
export function formatWithUnit(value: number | null | undefined, unit: string, digits = 0): string {
  const figure = formatNumber(value, digits);
  if (unit === '') return figure;
  return unit === '°' ? `${figure}°` : `${figure}${NARROW}${unit}`;
}

/** Seconds as people call them on a clock: `1:45`, or `0:07.5` with one decimal. */
export function formatClock(seconds: number | null | undefined, digits = 0): string {
  if (seconds === null || seconds === undefined || !Number.isFinite(seconds)) return '–';
  const scale = 10 ** digits;
  const whole = Math.round(Math.abs(seconds) * scale);
  const minutes = Math.floor(whole / (60 * scale));
  const rest = (whole - minutes * 60 * scale) / scale;
  const sign = seconds < 0 && whole > 0 ? '−' : '';
  return `${sign}${minutes}:${formatter(digits)
    .format(rest)
    .padStart(digits > 0 ? 3 + digits : 2, '0')}`;
}

/** Day and time of a saved state, short, in the person's own zone. */
export function formatMoment(iso: string): string {
  const at = new Date(iso);
  return Number.isNaN(at.getTime())
    ? iso
    : new Intl.DateTimeFormat(i18n.locale, { dateStyle: 'medium', timeStyle: 'short' }).format(at);
}
