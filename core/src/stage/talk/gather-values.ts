import type { Cup } from '../../brew/result.ts';
import type { Plan, Trial } from '../../documents/index.ts';
import { pourEnd } from '../../documents/index.ts';
import type { BoundValue } from './bound-values.ts';

/** Numbers of a plan that a talk may speak of. */
export function valuesOfPlan(plan: Plan): BoundValue[] {
  const water = plan.pours.reduce((sum, { water_g }) => sum + water_g, 0);
  const temperatures = plan.pours.map(({ kettle_temperature_C }) => kettle_temperature_C);
  const of = (name: string, value: number | null, unit: string): BoundValue[] =>
    value === null
      ? []
      : [{ name, value, unit, source: 'plan', spread: null, from: `plan "${plan.name}"`, current: true }];
  return [
    ...of('dose_g', plan.dose_g, 'g'),
    ...of('water_g', water, 'g'),
    ...of('ratio', water / plan.dose_g, ''),
    ...of('pours', plan.pours.length, ''),
    ...of('coolest_pour_C', Math.min(...temperatures), '°C'),
    ...of('hottest_pour_C', Math.max(...temperatures), '°C'),
    ...of('poured_s', Math.max(...plan.pours.map(pourEnd)), 's'),
    ...of('age_d', plan.coffee_age_d, 'd'),
  ];
}

/**
 * Numbers that a trial measured. A trial of another plan, or of an older state of it, is not current.
 *
 * @param current whether the plan still is as it was brewed
 */
export function valuesOfTrial(trial: Trial, current: boolean): BoundValue[] {
  const from = `trial "${trial.name}"`;
  const of = (
    name: string,
    value: number | null,
    unit: string,
    spread: number | null = null,
  ): BoundValue[] =>
    value === null ? [] : [{ name, value, unit, source: 'measured', spread, from, current }];
  const strengths = trial.strength_readings.map(({ strength_pct }) => strength_pct);
  const strength = strengths.length === 0 ? null : strengths.reduce((a, b) => a + b, 0) / strengths.length;
  const { beverage_g, dose_g } = trial;
  const yielded = strength !== null && beverage_g !== null ? (strength * beverage_g) / dose_g : null;
  return [
    ...of('dose_g', dose_g, 'g'),
    ...of('water_g', trial.water_g, 'g'),
    ...of('beverage_g', beverage_g, 'g'),
    ...of('drawdown_s', trial.drawdown_s, 's'),
    ...of('strength_pct', strength, '%'),
    ...of('yield_pct', yielded, '%'),
  ];
}

/** Numbers of a predicted cup; `spreads` by name, where bands have been computed. */
export function valuesOfPrediction(
  cup: Cup,
  from: string,
  spreads: Readonly<Record<string, number>> = {},
): BoundValue[] {
  const names = [
    ['beverage_g', 'g'],
    ['strength_pct', '%'],
    ['yield_pct', '%'],
    ['server_C', '°C'],
  ] as const;
  return names.map(([name, unit]) => ({
    name,
    value: cup[name],
    unit,
    source: 'predicted',
    spread: spreads[name] ?? null,
    from,
    current: true,
  }));
}
