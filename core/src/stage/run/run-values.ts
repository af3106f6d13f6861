import { fingerprint } from '../../brew/hash.ts';
import type { BrewResult } from '../../brew/result.ts';
import type { Plan, Talk, Trial } from '../../documents/index.ts';
import type { BoundValue } from '../talk/bound-values.ts';
import { valuesOfPlan, valuesOfPrediction, valuesOfTrial } from '../talk/gather-values.ts';
import type { CupPlan } from './cups.ts';

/** What makes a brew what it is, as a short mark: a figure that was measured with another mark is no longer true of the plan. */
export function brewMark(plan: Plan): string {
  const { name: _n, notes: _o, archived: _a, serving: _s, id: _i, campaign_id: _c, ...brew } = plan;
  return fingerprint(brew);
}

/** Everything that a talk may speak of: the plan, what was measured of it, what a panel found, and the prediction. */
export function valuesOfRun(
  talk: Talk,
  plan: Plan,
  trials: readonly Trial[],
  result: BrewResult | null,
  cups: CupPlan | null,
): BoundValue[] {
  const mark = brewMark(plan);
  const measured = trials
    .filter((trial) => trial.plan_id === plan.id && trial.counted)
    .sort((a, b) => b.brewed_at.localeCompare(a.brewed_at))
    .flatMap((trial) => valuesOfTrial(trial, trial.plan_then === null || brewMark(trial.plan_then) === mark));
  return [
    ...valuesOfPlan(plan),
    ...typedValues(talk, mark),
    ...newestOf(measured),
    ...(result ? predicted(result, plan) : []),
    ...(cups ? valuesOfCups(cups) : []),
    { ...base('brewers', 'plan', `run "${talk.name}"`), value: talk.brewing.brewers, unit: '' },
  ];
}

const base = (name: string, source: BoundValue['source'], from: string) => ({
  name,
  source,
  from,
  spread: null,
  current: true,
});

function typedValues({ values, name: run }: Talk, mark: string): BoundValue[] {
  return values.map(({ name, source, value, unit, spread, from, of_brew }) => ({
    name,
    source,
    value,
    unit,
    spread,
    from: from || `run "${run}"`,
    current: of_brew === null || of_brew === mark,
  }));
}

/** Of each figure the newest that is still current; an older brew only where there is none. */
function newestOf(values: readonly BoundValue[]): BoundValue[] {
  const best = new Map<string, BoundValue>();
  for (const value of values) {
    const known = best.get(value.name);
    if (!known || (value.current && !known.current)) best.set(value.name, value);
  }
  return [...best.values()];
}

function predicted(result: BrewResult, plan: Plan): BoundValue[] {
  const from = `prediction of "${plan.name}"`;
  const { cup } = result;
  const more: [name: string, value: number | null, unit: string][] = [
    ['bed_max_C', cup.peak_bed_C, '°C'],
    ['bed_min_C', cup.lowest_bed_C, '°C'],
    ['drawdown_s', cup.drawdown_s, 's'],
    ['end_s', cup.end_s, 's'],
    ['water_hardness', cup.hardness_mg_L_CaCO3, 'mg/L'],
    ['water_alkalinity', cup.alkalinity_mg_L_CaCO3, 'mg/L'],
  ];
  const errors = result.error;
  return [
    ...valuesOfPrediction(cup, from, {
      ...(errors && { beverage_g: errors.beverage_g, strength_pct: errors.strength_pct }),
    }),
    ...more.flatMap(([name, value, unit]) =>
      value === null || !Number.isFinite(value)
        ? []
        : [{ ...base(name, 'predicted' as const, from), value, unit }],
    ),
  ];
}

function valuesOfCups({ cups }: CupPlan): BoundValue[] {
  const from = 'prediction of the cups as the schedule serves them';
  const served = cups.map(({ served_C }) => served_C);
  return [
    {
      ...base('served_C', 'predicted', from),
      value: served.reduce((a, b) => a + b, 0) / served.length,
      unit: '°C',
    },
    { ...base('coolest_cup_C', 'predicted', from), value: Math.min(...served), unit: '°C' },
    { ...base('hottest_cup_C', 'predicted', from), value: Math.max(...served), unit: '°C' },
  ];
}
