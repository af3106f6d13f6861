import { type BrewBundle, type Plan, type Pour, pourEnd, type Trial } from '../../documents/index.ts';
import type { TrialCase } from './types.ts';

/** Between the last pour and a lift that would come too early [s]. */
const GAP_S = 0.1;

/** A trial's bundle with what was measured of the hands put in: dose, water, pours, bypass, lift, age, air. */
export function asBrewed({ trial, bundle, age_d }: TrialCase): BrewBundle {
  const pours = pouredIn(trial, bundle.plan);
  const plan: Plan = {
    ...bundle.plan,
    dose_g: trial.dose_g,
    coffee_age_d: age_d,
    pours,
    bypass: bypassOf(trial, bundle.plan),
    lift_s: liftOf(trial, bundle.plan, pours),
  };
  const venue = trial.air_C === null ? bundle.venue : { ...bundle.venue, air_C: trial.air_C };
  return { ...bundle, plan, venue };
}

/** The pours as recorded; else as planned, all scaled to the water that was weighed. */
function pouredIn(trial: Trial, plan: Plan): Pour[] {
  if (trial.poured.length > 0) return recorded(trial, plan);
  const planned = plan.pours.reduce((sum, pour) => sum + pour.water_g, 0);
  const share = trial.water_g === null || trial.water_g <= 0 ? 1 : trial.water_g / planned;
  return plan.pours.map((pour) => ({ ...pour, water_g: pour.water_g * share }));
}

function recorded(trial: Trial, plan: Plan): Pour[] {
  return trial.poured.map((as, i) => {
    const like = plan.pours.find(({ id }) => id === as.pour_id) ?? nearest(plan, as.start_s);
    return {
      ...like,
      id: `${i + 1}`,
      start_s: as.start_s,
      water_g: as.water_g,
      rate: { by: 'duration', duration_s: as.end_s - as.start_s },
      kettle_temperature_C: as.kettle_C ?? like.kettle_temperature_C,
    };
  });
}

/** The planned pour that starts nearest to a moment. */
const nearest = (plan: Plan, start_s: number): Pour =>
  plan.pours.reduce((best, pour) =>
    Math.abs(pour.start_s - start_s) < Math.abs(best.start_s - start_s) ? pour : best,
  );

function bypassOf(trial: Trial, plan: Plan): Plan['bypass'] {
  if (trial.bypass_g === null || !plan.bypass) return plan.bypass;
  return trial.bypass_g > 0 ? { ...plan.bypass, water_g: trial.bypass_g } : null;
}

/** When the dripper was taken away: as noted, else as planned, and not before the last pour has ended. */
function liftOf(trial: Trial, plan: Plan, pours: readonly Pour[]): number | null {
  const lift = trial.lifted && trial.end_s !== null && trial.end_s > 0 ? trial.end_s : plan.lift_s;
  if (lift === null) return null;
  return Math.max(lift, ...pours.map((pour) => pourEnd(pour) + GAP_S));
}
