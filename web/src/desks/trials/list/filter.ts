import type { TrialRow } from './rows.ts';

/** What a trial must have to be shown. */
export const WITH = ['strength', 'beverage', 'drawdown', 'trace', 'photograph', 'cups'] as const;
export type With = (typeof WITH)[number];

/** What a list of trials is narrowed to; an empty field asks for nothing. */
export interface TrialFilter {
  text: string;
  coffee_id: string;
  plan_id: string;
  setup_id: string;
  /** Calendar days, ISO 8601, both included. */
  from: string;
  to: string;
  with: readonly string[];
}

export const NO_FILTER: TrialFilter = {
  text: '',
  coffee_id: '',
  plan_id: '',
  setup_id: '',
  from: '',
  to: '',
  with: [],
};

/** Something is asked for. */
export const isNarrow = (filter: TrialFilter): boolean =>
  filter.with.length > 0 ||
  [filter.text.trim(), filter.coffee_id, filter.plan_id, filter.setup_id, filter.from, filter.to].some(
    (part) => part !== '',
  );

const HAS: Readonly<Record<With, (row: TrialRow) => boolean>> = {
  strength: (row) => row.strength_pct !== null,
  beverage: (row) => row.beverage_g !== null,
  drawdown: (row) => row.drawdown_s !== null,
  trace: (row) => row.traces > 0,
  photograph: (row) => row.photographs > 0,
  cups: (row) => row.cups > 1,
};

/** Rows that fit every part of a filter, in their order. Every word of the text must stand somewhere in the row. */
export function filterRows(rows: readonly TrialRow[], filter: TrialFilter): readonly TrialRow[] {
  if (!isNarrow(filter)) return rows;
  const words = filter.text.toLowerCase().split(/\s+/).filter(Boolean);
  const asked = WITH.filter((what) => filter.with.includes(what));
  return rows.filter(
    (row) =>
      (filter.coffee_id === '' || row.coffee_id === filter.coffee_id) &&
      (filter.plan_id === '' || row.plan_id === filter.plan_id) &&
      (filter.setup_id === '' || row.setup_id === filter.setup_id) &&
      (filter.from === '' || row.day >= filter.from) &&
      (filter.to === '' || row.day <= filter.to) &&
      asked.every((what) => HAS[what](row)) &&
      words.every((word) => row.text.includes(word)),
  );
}

export const SORTS = [
  'at',
  'name',
  'plan',
  'coffee',
  'setup',
  'dose_g',
  'water_g',
  'beverage_g',
  'strength_pct',
  'yield_pct',
  'drawdown_s',
] as const;
export type SortKey = (typeof SORTS)[number];

export interface Sort {
  by: string;
  down: boolean;
}

const collator = new Intl.Collator(undefined, { numeric: true });

/** Rows in the order of a column; a row without a value comes last, whichever way the column runs. */
export function sortRows(rows: readonly TrialRow[], { by, down }: Sort): readonly TrialRow[] {
  const key = SORTS.find((entry) => entry === by) ?? 'at';
  const sign = down ? -1 : 1;
  return [...rows].sort((a, b) => {
    const left = a[key];
    const right = b[key];
    if (left === null || right === null) {
      if (left !== right) return left === null ? 1 : -1;
    } else {
      const order =
        typeof left === 'string' ? collator.compare(left, String(right)) : left - (right as number);
      if (order !== 0) return sign * order;
    }
    return b.at - a.at || (a.id < b.id ? 1 : -1);
  });
}
