import { groupsOf } from '../engine.ts';
import type { Layout } from '../layout.ts';
import { prepare } from '../prepare.ts';
import { type Campaign, lookAround } from '../rounds.ts';
import { type Evidence, makeTarget, type Target } from '../target.ts';
import type { TrialSet } from '../types.ts';

/** A campaign whose engine has been asked once and for all: truth and fit use the same short form of it. */
export interface ShortCampaign {
  campaign: Campaign;
  layout: Layout;
  evidence: Evidence[];
  target: Target;
}

/** Asks the engine about every brew of a set, one prior deviation and a little more to both sides of the defaults. */
export function shortCampaign(set: TrialSet): ShortCampaign {
  const { layout, trials } = prepare(set);
  const campaign: Campaign = { layout, trials, groups: groupsOf(trials), runs: new Map() };
  const size = layout.unknowns.length;
  const identity = Float64Array.from({ length: size * size }, (_, i) => (i % (size + 1) === 0 ? 1 : 0));
  const work = lookAround(campaign, new Float64Array(size), identity);
  let step = work.next();
  while (!step.done) step = work.next();
  const surrogates = step.value;
  const evidence = trials.map(({ place, observations }, t) => ({
    place,
    observations,
    surrogate: surrogates[t]!,
  }));
  return { campaign, layout, evidence, target: makeTarget(layout, evidence) };
}
