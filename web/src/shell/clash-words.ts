import { unitOf } from '@pourline/core';
import { ORDER } from '../replica/index.ts';
import { fieldLabel, t } from '../words/index.ts';

/** Where a difference stands, in words: a row goes by its place in the list, not by its inner id. */
export function differenceLabel(path: readonly string[], mine: unknown, theirs: unknown): string {
  let text = '';
  let left = mine;
  let right = theirs;
  for (const [i, step] of path.entries()) {
    const list = Array.isArray(left) ? left : Array.isArray(right) ? right : null;
    if (step === ORDER) text += `: ${t('clash.order')}`;
    else if (list) {
      text += t('field.row', { row: placeIn(left, right, step) });
      left = rowOf(left, step);
      right = rowOf(right, step);
    } else {
      text += (i === 0 ? '' : ': ') + fieldLabel([step]);
      left = fieldOf(left, step);
      right = fieldOf(right, step);
    }
  }
  return text;
}

const fieldOf = (value: unknown, field: string): unknown =>
  typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[field] : undefined;

const hasId = (row: unknown, id: string): boolean => fieldOf(row, 'id') === id;

const rowOf = (rows: unknown, id: string): unknown =>
  Array.isArray(rows) ? rows.find((row) => hasId(row, id)) : undefined;

function placeIn(left: unknown, right: unknown, id: string): number {
  const at = Array.isArray(left) ? left.findIndex((row) => hasId(row, id)) : -1;
  if (at >= 0) return at + 1;
  return (Array.isArray(right) ? right.findIndex((row) => hasId(row, id)) : -1) + 1;
}

/** One side's value as a few words. */
export function valueText(value: unknown, path: readonly string[]): string {
  const unit = unitOf(path.at(-1) ?? '');
  if (value === undefined) return t('clash.not_there');
  if (value === null || value === '') return t('clash.empty');
  if (typeof value === 'number') return unit ? `${value} ${unit}` : String(value);
  if (typeof value === 'boolean') return value ? t('common.yes') : t('common.no');
  if (typeof value === 'string') return value.length > 200 ? `${value.slice(0, 200)}…` : value;
  if (Array.isArray(value))
    return path.at(-1) === ORDER ? value.join(', ') : t('clash.list', { count: value.length });
  return summary(value as Record<string, unknown>);
}

/** A whole row: its plain fields, one after another. */
function summary(row: Record<string, unknown>): string {
  const parts = Object.entries(row)
    .filter(([key, value]) => key !== 'id' && !key.endsWith('_id') && typeof value !== 'object')
    .map(([key, value]) => `${fieldLabel([key])} ${valueText(value, [key])}`);
  return parts.length > 0 ? parts.join(' · ') : t('clash.whole_row');
}
