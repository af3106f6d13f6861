import { type DesignFactor, type Plan, pourDuration } from '@pourline/core';

/** Something of a plan that can be set by a number, and read from a plan that was brewed. */
export interface Lever {
  readonly key: LeverKey;
  readonly unit: string;
  /** Smallest change worth making. */
  readonly step: number;
  /** What one might try around the plan's own value. */
  reach(value: number): [number, number];
  read(plan: Plan): number;
  /** The plan with this set; everything else as it was. */
  set(plan: Plan, value: number): Plan;
}

export const LEVERS = ['dose_g', 'water_g', 'first_g', 'kettle_C', 'flow_g_s'] as const;
export type LeverKey = (typeof LEVERS)[number];

const total = (plan: Plan): number => plan.pours.reduce((sum, pour) => sum + pour.water_g, 0);
const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);

/** Place of the first pour in time. */
const firstOf = (plan: Plan): number =>
  plan.pours.reduce((best, pour, i) => (pour.start_s < plan.pours[best]!.start_s ? i : best), 0);

const tenth = (value: number): number => Math.round(value * 10) / 10;

/** Pours that would run into the next one are poured faster, so that a plan with more water stays a plan. */
function fitted(plan: Plan): Plan {
  const order = [...plan.pours].sort((a, b) => a.start_s - b.start_s);
  const pours = plan.pours.map((pour) => {
    const next = order[order.indexOf(pour) + 1];
    const room = (next?.start_s ?? plan.lift_s ?? Number.POSITIVE_INFINITY) - pour.start_s;
    if (pourDuration(pour) <= room) return pour;
    return {
      ...pour,
      rate: { by: 'duration' as const, duration_s: Math.max(0.5, Math.floor(room * 10) / 10) },
    };
  });
  return { ...plan, pours };
}

const EVERY: Readonly<Record<LeverKey, Lever>> = {
  dose_g: {
    key: 'dose_g',
    unit: 'g',
    step: 0.1,
    reach: (value) => [tenth(value * 0.93), tenth(value * 1.07)],
    read: (plan) => plan.dose_g,
    set: (plan, value) => ({ ...plan, dose_g: value }),
  },
  water_g: {
    key: 'water_g',
    unit: 'g',
    step: 1,
    reach: (value) => [Math.round(value * 0.93), Math.round(value * 1.07)],
    read: total,
    set: (plan, value) => {
      const share = value / total(plan);
      return fitted({
        ...plan,
        pours: plan.pours.map((pour) => ({ ...pour, water_g: tenth(pour.water_g * share) })),
      });
    },
  },
  first_g: {
    key: 'first_g',
    unit: 'g',
    step: 1,
    reach: (value) => [Math.round(value * 0.7), Math.round(value * 1.3)],
    read: (plan) => plan.pours[firstOf(plan)]!.water_g,
    set: (plan, value) => {
      const at = firstOf(plan);
      return fitted({
        ...plan,
        pours: plan.pours.map((pour, i) => (i === at ? { ...pour, water_g: value } : pour)),
      });
    },
  },
  kettle_C: {
    key: 'kettle_C',
    unit: '°C',
    step: 0.5,
    reach: (value) => [Math.round(value) - 3, Math.min(99, Math.round(value) + 3)],
    read: (plan) => mean(plan.pours.map((pour) => pour.kettle_temperature_C)),
    set: (plan, value) => {
      const by = value - mean(plan.pours.map((pour) => pour.kettle_temperature_C));
      const moved = plan.pours.map((pour) => ({
        ...pour,
        kettle_temperature_C: Math.min(100, Math.max(0, tenth(pour.kettle_temperature_C + by))),
      }));
      return { ...plan, pours: moved };
    },
  },
  flow_g_s: {
    key: 'flow_g_s',
    unit: 'g/s',
    step: 0.5,
    reach: (value) => [Math.max(1, tenth(value * 0.75)), tenth(value * 1.25)],
    read: (plan) => total(plan) / plan.pours.reduce((sum, pour) => sum + pourDuration(pour), 0),
    set: (plan, value) =>
      fitted({
        ...plan,
        pours: plan.pours.map((pour) => ({ ...pour, rate: { by: 'flow' as const, flow_g_s: value } })),
      }),
  },
};

export const leverOf = (key: LeverKey): Lever => EVERY[key];

/** A row of the table of what is varied: a lever of the plan, or something of the person's own. */
export interface FactorRow {
  /** Null for one of the person's own. */
  lever: LeverKey | null;
  name: string;
  unit: string;
  low: unknown;
  high: unknown;
  step: unknown;
  on: boolean;
}

/** Factors that are switched on and whole: low below high. */
export function factorsOf(rows: readonly FactorRow[]): { factor: DesignFactor; lever: LeverKey | null }[] {
  return rows.flatMap(({ lever, name, unit, low, high, step, on }) => {
    if (!on || typeof low !== 'number' || typeof high !== 'number' || !(low < high)) return [];
    const set = typeof step === 'number' && step > 0 ? step : null;
    return [{ lever, factor: { name: name.trim() || '?', unit, low, high, step: set } }];
  });
}

/** Rows for a plan: every lever around the plan's own value, the first three switched on. */
export function rowsFor(plan: Plan, nameOf: (key: LeverKey) => string): FactorRow[] {
  return LEVERS.map((key) => {
    const { unit, step, reach, read } = EVERY[key];
    const [low, high] = reach(read(plan));
    return {
      lever: key,
      name: nameOf(key),
      unit,
      low,
      high,
      step,
      on: key === 'dose_g' || key === 'kettle_C',
    };
  });
}

/** The plan with levers set; own factors are left to the hands. */
export function turned(plan: Plan, levers: readonly (LeverKey | null)[], levels: readonly number[]): Plan {
  return levers.reduce<Plan>(
    (now, lever, i) => (lever === null ? now : EVERY[lever].set(now, levels[i]!)),
    plan,
  );
}
