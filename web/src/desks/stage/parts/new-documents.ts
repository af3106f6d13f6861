import type { NewDocument } from '../../../replica/index.ts';

/** A run to start from: three brewers side by side, a cup served from each. */
export const newRun = (name: string, plan_id: string, contest_id: string | null): NewDocument<'talk'> => ({
  name,
  plan_id,
  contest_id,
  brewing: {
    brewers: 3,
    give_s: 10,
    decant: { takes_s: 8, within_s: 60 },
    serve: { takes_s: 15, within_s: 120 },
    first_pour_s: 30,
  },
});

/** Rules with nothing known yet: every question stays open until it is answered. */
export const newContest = (name: string): NewDocument<'contest'> => ({
  name,
  timers: { run_s: 600, setup_s: 300 },
});

/** A gram budget to start from. */
export const newBudget = (name: string): NewDocument<'budget'> => ({
  name,
  green_g: 2_000,
  loss_pct: 14,
  search_brew_g: 17.5,
});
