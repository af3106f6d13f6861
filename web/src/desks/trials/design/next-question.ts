import { coffeeAge, type Lookup, type Plan, type TriedBrew } from '@pourline/core';
import type { TrialRow } from '../list/rows.ts';
import { balanceIn } from '../parts/balance.ts';
import { type LeverKey, leverOf } from './levers.ts';

/** What may be made better. */
export const VALUES = ['liking', 'yield_pct', 'strength_pct'] as const;
export type ValueKey = (typeof VALUES)[number];

export const VALUE_LOOK: Readonly<Record<ValueKey, { unit: string; digits: number }>> = {
  liking: { unit: '', digits: 1 },
  yield_pct: { unit: '%', digits: 1 },
  strength_pct: { unit: '%', digits: 2 },
};

/** Mean mark of a trial over hot, warm and cold; null when it was never marked. */
export function likingOf({ trial }: TrialRow): number | null {
  const marks = trial.tasted.flatMap(({ liking }) => (liking === null ? [] : [liking]));
  return marks.length > 0 ? marks.reduce((sum, mark) => sum + mark, 0) / marks.length : null;
}

const planOf = (row: TrialRow, lookup: Lookup): Plan | null => {
  const found = lookup(row.plan_id);
  return row.trial.plan_then ?? (found?.kind === 'plan' ? found : null);
};

/** Brews of the same coffee and setup as a plan, as points of the levers; those without a value are left out. */
export function triedBrews(
  rows: readonly TrialRow[],
  plan: Plan,
  levers: readonly LeverKey[],
  value: ValueKey,
  lookup: Lookup,
): TriedBrew[] {
  return rows.flatMap((row) => {
    const then = planOf(row, lookup);
    if (!then || !row.trial.counted || row.coffee_id !== plan.coffee_id || then.setup_id !== plan.setup_id)
      return [];
    const found = value === 'liking' ? likingOf(row) : row[value];
    if (found === null) return [];
    const balance = value === 'liking' ? null : balanceIn(row.trial, then, lookup)[value];
    const brewed = { ...then, dose_g: row.dose_g };
    const coffee = lookup(row.coffee_id);
    return [
      {
        name: row.name,
        levels: levers.map((key) => leverOf(key).read(brewed)),
        value: found,
        doubt: balance?.uncertainty ?? 0,
        age_d: coffeeAge(row.trial, coffee?.kind === 'coffee' ? coffee : undefined).age_d,
      },
    ];
  });
}
