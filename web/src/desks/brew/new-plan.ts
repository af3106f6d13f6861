import type { Coffee, Grinder, Setup, Venue, Water } from '@pourline/core';
import type { NewDocument } from '../../replica/index.ts';

/** What a plan needs to be made with. */
export interface PlanParts {
  coffees: readonly Coffee[];
  setups: readonly Setup[];
  venues: readonly Venue[];
  waters: readonly Water[];
  grinders: readonly Grinder[];
}

/** Kinds that a campaign lacks for a first plan; empty when there is enough. */
export function missingFor(parts: PlanParts): ('coffee' | 'setup' | 'venue' | 'water' | 'grinder')[] {
  const kinds = {
    coffee: parts.coffees,
    setup: parts.setups,
    venue: parts.venues,
    water: parts.waters,
    grinder: parts.grinders,
  };
  return (Object.keys(kinds) as (keyof typeof kinds)[]).filter((kind) => kinds[kind].length === 0);
}

/** A plain plan to start from: 15 g, 250 g of water in three pours (common practice), made with what is first on the shelf. */
export function firstPlan(name: string, parts: PlanParts): NewDocument<'plan'> | null {
  const coffee = parts.coffees[0];
  const setup = parts.setups[0];
  const venue = parts.venues[0];
  const water = parts.waters[0];
  const grinder = parts.grinders[0];
  if (!coffee || !setup || !venue || !water || !grinder) return null;
  const pour = (id: string, start_s: number, water_g: number, duration_s: number) => ({
    id,
    start_s,
    water_g,
    rate: { by: 'duration' as const, duration_s },
    water_id: water.id,
    kettle_id: setup.kettles[0]?.id ?? null,
    kettle_temperature_C: 92,
  });
  return {
    name,
    coffee_id: coffee.id,
    setup_id: setup.id,
    venue_id: venue.id,
    dose_g: 15,
    grind: [{ grinder_id: grinder.id, setting_id: grinder.settings[0]!.id, share: 1 }],
    pours: [pour('pour-1', 0, 45, 10), pour('pour-2', 40, 105, 20), pour('pour-3', 80, 100, 20)],
  };
}
