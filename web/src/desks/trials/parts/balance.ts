import {
  balanceOfTrial,
  type CupRemark,
  type Instrument,
  type Lookup,
  methodOf,
  type Plan,
  type Propagated,
  percolationYield,
  readingsOfTrial,
  refractometerFacts,
  type Trial,
} from '@pourline/core';

/** An instrument that a trial names; undefined for a plain one. */
export function instrumentOf(id: string | null, lookup: Lookup): Instrument | undefined {
  const found = id === null ? undefined : lookup(id);
  return found?.kind === 'instrument' ? found : undefined;
}

/** The figures of a trial that a list shows. */
export interface TrialFigures {
  dose_g: number;
  water_g: number | null;
  beverage_g: number | null;
  strength_pct: number | null;
  yield_pct: number | null;
  drawdown_s: number | null;
  traces: number;
  photographs: number;
}

/** Distance to the middle reading, in scatters of the instrument, within which core leaves none out. */
const SURELY_TOGETHER = 3.5;

/**
 * Strength as core finds it, without its doubt. Readings so close that none can be left out are only averaged: a list of thousands
 * has no time for the doubts of each.
 */
export function strengthOf(trial: Trial, refractometer: Instrument | undefined): number | null {
  const values = trial.strength_readings.map(({ strength_pct }) => strength_pct);
  const { repeat_pct, step_pct } = refractometerFacts(refractometer);
  const near = SURELY_TOGETHER * Math.max(repeat_pct, step_pct / 2);
  const together = values.length < 3 || Math.max(...values) - Math.min(...values) <= near;
  if (values.length > 0 && together) {
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    return mean * (1 - trial.sample_lost_pct / 100);
  }
  return readingsOfTrial(trial, refractometer).readings.strength_pct?.value ?? null;
}

/** What a trial measured, and the yield that follows. */
export function figuresOf(trial: Trial, plan: Plan | null, lookup: Lookup): TrialFigures {
  const { dose_g, water_g, beverage_g, drawdown_s } = trial;
  const strength_pct = strengthOf(trial, instrumentOf(trial.refractometer_id, lookup));
  return {
    dose_g,
    water_g,
    beverage_g,
    strength_pct,
    yield_pct: yieldOf(trial, plan, strength_pct, lookup),
    drawdown_s,
    traces: trial.traces.length,
    photographs: trial.photographs.length,
  };
}

function yieldOf(
  trial: Trial,
  plan: Plan | null,
  strength_pct: number | null,
  lookup: Lookup,
): number | null {
  if (strength_pct === null || trial.beverage_g === null) return null;
  if (methodOf(plan ?? undefined) === 'immersion')
    return balanceIn(trial, plan, lookup).yield_pct?.value ?? null;
  return percolationYield(strength_pct, trial.beverage_g, trial.dose_g);
}

/** The mass balance of a trial with the instruments it names. */
export const balanceIn = (trial: Trial, plan: Plan | null, lookup: Lookup) =>
  balanceOfTrial(trial, plan ?? undefined, {
    balance: instrumentOf(trial.balance_id, lookup),
    refractometer: instrumentOf(trial.refractometer_id, lookup),
  });

const KEYS = ['strength', 'yield', 'total_yield', 'held', 'ratio', 'unaccounted'] as const;

export interface BalanceRow {
  key: (typeof KEYS)[number];
  figure: Propagated;
  unit: string;
  digits: number;
}

export interface ShownBalance {
  rows: readonly BalanceRow[];
  remarks: readonly CupRemark[];
}

/** The mass balance of a trial, ready to be shown. What cannot be worked out is left out. */
export function balanceOf(trial: Trial, plan: Plan | null, lookup: Lookup): ShownBalance {
  const found = balanceIn(trial, plan, lookup);
  const row = (key: BalanceRow['key'], figure: Propagated | null, unit: string, digits: number) =>
    figure ? [{ key, figure, unit, digits }] : [];
  return {
    rows: [
      ...row('strength', found.strength_pct, '%', 2),
      ...row('yield', found.yield_pct, '%', 1),
      ...(found.method === 'percolation' ? row('total_yield', found.total_yield_pct, '%', 1) : []),
      ...row('held', found.held_g, 'g', 1),
      ...row('ratio', found.ratio, '', 1),
      ...row('unaccounted', found.unaccounted_g, 'g', 1),
    ],
    remarks: found.remarks,
  };
}
