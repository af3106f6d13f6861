import { describe, expect, it } from 'vitest';
import { filterRows, NO_FILTER, sortRows } from './filter.ts';
import type { TrialRow } from './rows.ts';

const row = (id: string, part: Partial<TrialRow>): TrialRow =>
  ({
    id,
    name: id,
    at: 0,
    day: '2026-11-20',
    text: id,
    coffee_id: 'c',
    plan_id: 'p',
    setup_id: 's',
    plan: 'Plan',
    coffee: 'Coffee',
    setup: 'Setup',
    when: '',
    dose_g: 15,
    water_g: null,
    beverage_g: null,
    strength_pct: null,
    yield_pct: null,
    drawdown_s: null,
    cups: 1,
    traces: 0,
    photographs: 0,
    ...part,
  }) as TrialRow;

const ids = (rows: readonly TrialRow[]): string => rows.map(({ id }) => id).join(' ');

describe('finding trials', () => {
  const rows = [
    row('a', { text: 'first try\nsweet', strength_pct: 1.3, day: '2026-11-18' }),
    row('b', { text: 'second try\nclogged', traces: 1, coffee_id: 'd' }),
    row('c', { text: 'third\nsweet and clogged', strength_pct: 1.2, cups: 3, day: '2026-11-22' }),
  ];
  it('gives the very same list when nothing is asked for', () => {
    expect(filterRows(rows, NO_FILTER)).toBe(rows);
  });
  it('wants every word somewhere, in any case and order', () => {
    expect(ids(filterRows(rows, { ...NO_FILTER, text: 'Clogged  SWEET' }))).toBe('c');
  });
  it('takes days at both ends, and every thing it must have', () => {
    expect(ids(filterRows(rows, { ...NO_FILTER, from: '2026-11-18', to: '2026-11-20' }))).toBe('a b');
    expect(ids(filterRows(rows, { ...NO_FILTER, with: ['strength', 'cups'] }))).toBe('c');
    expect(ids(filterRows(rows, { ...NO_FILTER, with: ['trace'], coffee_id: 'd' }))).toBe('b');
  });
});

describe('sorting trials', () => {
  const rows = [
    row('Brew 10', { at: 1, yield_pct: 20 }),
    row('Brew 9', { at: 2, yield_pct: null }),
    row('Brew 2', { at: 3, yield_pct: 18 }),
  ];
  it('puts those without a figure last either way', () => {
    expect(ids(sortRows(rows, { by: 'yield_pct', down: false }))).toBe('Brew 2 Brew 10 Brew 9');
    expect(ids(sortRows(rows, { by: 'yield_pct', down: true }))).toBe('Brew 10 Brew 2 Brew 9');
  });
  it('reads numbers in names as numbers, and falls back to the newest first', () => {
    expect(ids(sortRows(rows, { by: 'name', down: false }))).toBe('Brew 2 Brew 9 Brew 10');
    expect(ids(sortRows(rows, { by: 'nothing known', down: true }))).toBe('Brew 2 Brew 9 Brew 10');
  });
});
