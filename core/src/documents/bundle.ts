import type { Coffee } from './kinds/coffee.ts';
import type { Grinder } from './kinds/grinder.ts';
import type { Plan } from './kinds/plan.ts';
import type { Setup } from './kinds/setup.ts';
import type { Venue } from './kinds/venue.ts';
import type { Water } from './kinds/water.ts';
import { type Checked, type Problem, problem } from './problem.ts';
import type { AnyDocument, DocumentOf, Kind } from './registry.ts';

/** A plan with every document it points to: all that a prediction needs. */
export interface BrewBundle {
  plan: Plan;
  coffee: Coffee;
  setup: Setup;
  venue: Venue;
  /** By document id. */
  waters: Readonly<Record<string, Water>>;
  /** By document id. */
  grinders: Readonly<Record<string, Grinder>>;
}

/** Finds a document by id. */
export type Lookup = (id: string) => AnyDocument | undefined;

/** Gathers what a plan points to, or says which reference leads nowhere. */
export function bundlePlan(plan: Plan, lookup: Lookup): Checked<BrewBundle> {
  const problems: Problem[] = [];
  const find = <K extends Kind>(
    kind: K,
    id: string,
    path: (string | number)[],
  ): DocumentOf<K> | undefined => {
    const found = lookup(id);
    if (found?.kind === kind) return found as DocumentOf<K>;
    problems.push(problem(path, 'not_found', { kind }));
    return undefined;
  };
  const coffee = find('coffee', plan.coffee_id, ['coffee_id']);
  const setup = find('setup', plan.setup_id, ['setup_id']);
  const venue = find('venue', plan.venue_id, ['venue_id']);
  const waters: Record<string, Water> = {};
  const grinders: Record<string, Grinder> = {};
  plan.pours.forEach((pour, i) => {
    const found = find('water', pour.water_id, ['pours', i, 'water_id']);
    if (found) waters[found.id] = found;
    if (pour.kettle_id !== null && setup && !setup.kettles.some((kettle) => kettle.id === pour.kettle_id))
      problems.push(problem(['pours', i, 'kettle_id'], 'not_found', { kind: 'kettle' }));
  });
  plan.kettles.forEach((use, i) => {
    if (setup && !setup.kettles.some((kettle) => kettle.id === use.kettle_id))
      problems.push(problem(['kettles', i, 'kettle_id'], 'not_found', { kind: 'kettle' }));
  });
  if (plan.bypass) {
    const found = find('water', plan.bypass.water_id, ['bypass', 'water_id']);
    if (found) waters[found.id] = found;
  }
  plan.grind.forEach((part, i) => {
    const found = find('grinder', part.grinder_id, ['grind', i, 'grinder_id']);
    if (!found) return;
    grinders[found.id] = found;
    if (!found.settings.some((setting) => setting.id === part.setting_id))
      problems.push(problem(['grind', i, 'setting_id'], 'not_found', { kind: 'grinder setting' }));
  });
  if (problems.length > 0 || !coffee || !setup || !venue) return { ok: false, problems };
  return { ok: true, value: { plan, coffee, setup, venue, waters, grinders } };
}
