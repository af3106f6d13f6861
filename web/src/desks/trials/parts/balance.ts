import type { Lookup, Plan, Trial } from '@pourline/core';

/** The figures of a trial that a list shows. */
export interface TrialFigures {
  dose_g: number;
  water_g: number | null;
  beverage_g: number | null;
  strength_pct: number | null;
  yield_pct: number | null;
  drawdown_s: number | null;
  cups: number;
  traces: number;
  photographs: number;
}

const mean = (values: readonly number[]): number | null =>
  values.length > 0 ? values.reduce((sum, value) => sum + value, 0) / values.length : null;

/** What a trial measured, and the yield that follows. */
export function figuresOf(trial: Trial, _plan: Plan | null): TrialFigures {
  const strength = mean(trial.strength_readings.map((reading) => reading.strength_pct));
  const { dose_g, water_g, beverage_g, drawdown_s } = trial;
  return {
    dose_g,
    water_g,
    beverage_g,
    strength_pct: strength,
    yield_pct: strength === null || beverage_g === null ? null : (strength * beverage_g) / dose_g,
    drawdown_s,
    cups: trial.event ? 2 : 1,
    traces: trial.traces.length,
    photographs: trial.photographs.length,
  };
}

export interface BalanceRow {
  key: 'strength' | 'yield' | 'held' | 'ratio';
  value: number | null;
  u: number | null;
  unit: string;
  digits: number;
}

export interface ShownBalance {
  rows: readonly BalanceRow[];
  remarks: readonly string[];
}

/** The mass balance of a trial, ready to be shown. */
export function balanceOf(trial: Trial, plan: Plan | null, _lookup: Lookup): ShownBalance {
  const { strength_pct, yield_pct, water_g, dose_g, beverage_g } = figuresOf(trial, plan);
  const held = water_g === null || beverage_g === null ? null : water_g - beverage_g;
  return {
    rows: [
      { key: 'strength', value: strength_pct, u: null, unit: '%', digits: 2 },
      { key: 'yield', value: yield_pct, u: null, unit: '%', digits: 1 },
      { key: 'held', value: held, u: null, unit: 'g', digits: 1 },
      { key: 'ratio', value: water_g === null ? null : water_g / dose_g, u: null, unit: '', digits: 1 },
    ],
    remarks: [],
  };
}
