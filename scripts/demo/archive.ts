import { type Archive, makeArchive } from '@pourline/core';
import { blends } from './blends.ts';
import { batches, concentrates, mixes, salts } from './bottles.ts';
import { grinder, setups, venues } from './gear.ts';
import { plans } from './plans.ts';
import { rehearsals } from './rehearsals.ts';
import { campaign, coffees, waters } from './shelf.ts';
import { sizings } from './sizings.ts';
import { budget, contest, talk } from './stage.ts';
import { description, tastings, words } from './tastings.ts';
import { instruments, recordings, trials } from './trials.ts';

/** The demo campaign, as `examples/demo-campaign.json` holds it. */
export const demoArchive = (): Archive =>
  makeArchive(
    [
      campaign,
      ...coffees,
      ...waters,
      ...salts,
      ...concentrates,
      ...mixes,
      ...batches,
      grinder,
      ...sizings,
      ...blends,
      ...setups,
      ...venues,
      ...plans,
      ...instruments,
      ...trials,
      contest,
      talk,
      ...rehearsals,
      budget,
      words,
      ...tastings,
      description,
    ],
    '2026-11-30T08:00:00+00:00',
    recordings,
  );
