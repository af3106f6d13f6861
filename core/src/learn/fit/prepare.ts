import { fingerprint } from '../../brew/hash.ts';
import { PARAMETERS } from '../../brew/index.ts';
import { CORE_VERSION } from '../../version.ts';
import { asBrewed } from './as-brewed.ts';
import type { Prepared } from './engine.ts';
import type { LearnFinding } from './finding.ts';
import { DEFAULT_AGE_D, type Layout, layoutOf, type Named } from './layout.ts';
import { observe } from './observe.ts';
import { CHANNEL_NAMES, type TrialSet } from './types.ts';

/** Seed of a fit when nobody asks for one. */
export const FIT_SEED = 20_250_101;

/** What says nothing of the brew itself. */
const BESIDE = new Set(['name', 'notes', 'tasted', 'photographs', 'traces', 'campaign_id', 'archived']);

/** Fingerprint of everything that a fit depends on: another one means that its result is out of date. */
export function fitHash(set: TrialSet, seed = FIT_SEED): string {
  const text = JSON.stringify([set.coffee.id, set.trials], (key, value) =>
    BESIDE.has(key) ? undefined : value,
  );
  return fingerprint([CORE_VERSION, 'fit 1', seed, text]);
}

/** Lays out the unknowns of a set of trials and makes them ready to be computed. */
export function prepare(set: TrialSet): {
  layout: Layout;
  trials: Prepared[];
  findings: LearnFinding[];
} {
  const seen = set.trials.map((trial) => observe(trial));
  const setups = namedOnce(set.trials.map(({ bundle }) => bundle.setup));
  const grinders = namedOnce(set.trials.flatMap(({ bundle }) => usedGrinders(bundle)));
  const used = new Set(seen.flatMap(({ observations }) => Array.from(observations.channels)));
  const ages = set.trials.flatMap(({ age_d }) => age_d ?? []);
  const layout = layoutOf({
    extractable:
      set.coffee.extractable_pct === null ? PARAMETERS.extractable.value : set.coffee.extractable_pct / 100,
    setups,
    grinders,
    channels: CHANNEL_NAMES.filter((_, k) => used.has(k)),
    reference_age_d: ages.length > 0 ? Math.round(middle(ages)) : DEFAULT_AGE_D,
  });
  const trials = set.trials.map((from, t): Prepared => {
    const used = usedGrinders(from.bundle);
    return {
      id: from.trial.id,
      bundle: asBrewed(from),
      observations: seen[t]!.observations,
      place: {
        setup: setups.findIndex(({ id }) => id === from.bundle.setup.id),
        grinders: used.map((g) => grinders.findIndex(({ id }) => id === g.id)),
        days: from.age_d === null ? 0 : from.age_d - layout.reference_age_d,
      },
      grinderIds: used.map(({ id }) => id),
    };
  });
  return { layout, trials, findings: seen.flatMap(({ findings }) => findings) };
}

/** Grinders whose grounds are in a brew. */
export const usedGrinders = (bundle: TrialSet['trials'][number]['bundle']): Named[] =>
  namedOnce(
    bundle.plan.grind
      .filter(({ share }) => share > 0)
      .flatMap(({ grinder_id }) => bundle.grinders[grinder_id] ?? []),
  );

function namedOnce(list: readonly Named[]): Named[] {
  const found = new Map<string, Named>();
  for (const { id, name } of list) if (!found.has(id)) found.set(id, { id, name });
  return [...found.values()];
}

const middle = (values: readonly number[]): number => (Math.min(...values) + Math.max(...values)) / 2;
