import {
  type ComparedBrew,
  coffeeAge,
  type DifferenceQuestion,
  type Lookup,
  pooledScatter,
  type Trial,
  type TrustedSpread,
} from '@pourline/core';
import { dayOf, type TrialRow } from '../list/rows.ts';
import { balanceIn } from '../parts/balance.ts';

/** What two trials, or two plans, can be compared in. */
export const COMPARED = ['yield_pct', 'strength_pct', 'beverage_g', 'drawdown_s'] as const;
export type Compared = (typeof COMPARED)[number];

export const COMPARED_UNITS: Readonly<Record<Compared, { unit: string; decimals: number }>> = {
  yield_pct: { unit: '%', decimals: 2 },
  strength_pct: { unit: '%', decimals: 3 },
  beverage_g: { unit: 'g', decimals: 1 },
  drawdown_s: { unit: 's', decimals: 0 },
};

/** A kitchen balance, and a moment taken by a thumb: standard uncertainties, common practice. */
const WEIGHED_g = 0.06;
const STOPPED_s = 1;

const planOf = (trial: Trial, lookup: Lookup) => {
  const found = lookup(trial.plan_id);
  return trial.plan_then ?? (found?.kind === 'plan' ? found : null);
};

/** How far one measured figure of a trial may be off. */
function doubtOf(trial: Trial, figure: Compared, lookup: Lookup): number {
  if (figure === 'beverage_g') return WEIGHED_g;
  if (figure === 'drawdown_s') return STOPPED_s;
  const balance = balanceIn(trial, planOf(trial, lookup), lookup);
  return balance[figure]?.uncertainty ?? 0;
}

function brewOf(row: TrialRow, plan: 'a' | 'b', figure: Compared, lookup: Lookup): ComparedBrew[] {
  const value = row[figure];
  if (value === null) return [];
  const coffee = lookup(row.coffee_id);
  const age = coffeeAge(row.trial, coffee?.kind === 'coffee' ? coffee : undefined);
  return [
    {
      plan,
      value,
      doubt: doubtOf(row.trial, figure, lookup),
      session: row.trial.event?.id ?? dayOf(new Date(row.at)),
      age_d: age.age_d,
    },
  ];
}

/** Which brews stand for either side. */
export type Scope = 'two' | 'plans';

/** Brews of either side: the two themselves, or every counted brew of the same plan and coffee. */
export function sidesOf(
  rows: readonly TrialRow[],
  a: TrialRow,
  b: TrialRow,
  scope: Scope,
): [readonly TrialRow[], readonly TrialRow[]] {
  if (scope === 'two') return [[a], [b]];
  const like = (one: TrialRow) =>
    rows.filter((row) => row.trial.counted && row.plan_id === one.plan_id && row.coffee_id === one.coffee_id);
  return [like(a), like(b)];
}

/**
 * How far brews of one plan and coffee usually scatter: pooled over all plans brewed at least twice, those compared left out. Null with
 * fewer than four degrees of freedom.
 */
export function usualSpread(
  rows: readonly TrialRow[],
  figure: Compared,
  without: readonly TrialRow[],
): TrustedSpread | null {
  const skip = new Set(without);
  const groups = new Map<string, number[]>();
  for (const row of rows) {
    const value = row[figure];
    if (value === null || !row.trial.counted || skip.has(row)) continue;
    const key = `${row.plan_id} ${row.coffee_id}`;
    groups.set(key, [...(groups.get(key) ?? []), value]);
  }
  const scatter = pooledScatter(groups.values());
  return scatter && scatter.free >= 4 ? { sd: scatter.sd, brews: scatter.free + 1 } : null;
}

interface Asked {
  rows: readonly TrialRow[];
  a: TrialRow;
  b: TrialRow;
  scope: Scope;
  figure: Compared;
  /** What the figure is called. */
  name: string;
  limit: number | null;
  lookup: Lookup;
}

/** The question for core; null when one side has no such figure. */
export function differenceQuestion(asked: Asked): DifferenceQuestion | null {
  const { rows, a, b, scope, figure, name, limit, lookup } = asked;
  const [left, right] = sidesOf(rows, a, b, scope);
  const brews = [
    ...left.flatMap((row) => brewOf(row, 'a', figure, lookup)),
    ...right.flatMap((row) => brewOf(row, 'b', figure, lookup)),
  ];
  if (!brews.some(({ plan }) => plan === 'a') || !brews.some(({ plan }) => plan === 'b')) return null;
  return {
    brews,
    names: scope === 'two' ? [a.name, b.name] : [a.plan, b.plan],
    figure: { name, ...COMPARED_UNITS[figure] },
    alpha: 0.05,
    history: usualSpread(rows, figure, [...left, ...right]),
    limit,
    drift: null,
    panel: null,
    dose_g: a.dose_g,
    seed: 1,
  };
}
