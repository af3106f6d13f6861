import type { Budget, Contest, Talk } from '@pourline/core';
import { BUDGET, CAMPAIGN, CONTEST, PLAN, TALK, VENUE } from './ids.ts';

const common = { campaign_id: CAMPAIGN, archived: false } as const;

/** Rules of the invented contest, with what its document leaves open. */
export const contest: Contest = {
  kind: 'contest',
  version: 1,
  ...common,
  id: CONTEST,
  name: 'Lanternmoor filter contest',
  notes: 'Invented. Two questions are open until the briefing.',
  round: 'open round',
  rules_of: '2026-11-02',
  timers: { practice_s: 2_400, setup_s: 300, run_s: 600, cleanup_s: 420 },
  cups: { count: 3, individually_brewed: true, min_mL: 120, max_mL: 300, strength_max_pct: 2 },
  rules: [
    { of: 'own_water', ruling: 'allowed', note: '' },
    { of: 'two_waters', ruling: 'allowed', note: '' },
    { of: 'own_grinder', ruling: 'allowed', note: '' },
    { of: 'ground_before', ruling: 'allowed', note: '' },
    { of: 'grinding_in_setup', ruling: 'not_allowed', note: 'Whoever does is out.' },
    { of: 'additives', ruling: 'not_allowed', note: '' },
    { of: 'other_food_or_smells', ruling: 'not_allowed', note: 'Zero in that part of the service.' },
    { of: 'device_on_stage', ruling: 'not_allowed', note: 'From the start of the run.' },
    { of: 'extra_electrical', ruling: 'unknown', note: 'To be declared beforehand?' },
  ],
  power_W: 3_000,
  judges: 3,
  categories: [
    { id: 'flavour', name: 'Flavour', by: 'each_judge', weight: 1, min: 0, max: 10, step: 0.5 },
    { id: 'acidity', name: 'Acidity', by: 'each_judge', weight: 1, min: 0, max: 10, step: 0.5 },
    { id: 'body', name: 'Body', by: 'each_judge', weight: 1, min: 0, max: 10, step: 0.5 },
    { id: 'description', name: 'Description', by: 'each_judge', weight: 2, min: 0, max: 10, step: 0.5 },
    { id: 'service', name: 'Service', by: 'each_judge', weight: 2, min: 0, max: 10, step: 0.5 },
    { id: 'sameness', name: 'Sameness of the cups', by: 'head_judge', weight: 1, min: 0, max: 10, step: 0.5 },
    { id: 'flow', name: 'Work flow', by: 'head_judge', weight: 1, min: 0, max: 10, step: 0.5 },
  ],
  combination: {
    parts: [
      {
        name: 'Judges',
        category_ids: ['flavour', 'acidity', 'body', 'description', 'service'],
        over_judges: 'mean',
        factor: 1.4,
      },
      { name: 'Head judge', category_ids: ['sameness', 'flow'], over_judges: 'mean', factor: 1 },
    ],
    divide_by: 1.6,
  },
  penalty: { grace_s: 0, points: 1, every_s: 1, counts: 'begun', cap_points: 30, hard_stop_s: 60 },
  frozen_after_setup: ['grind', 'dose', 'cups', 'table'],
};

type Piece = Talk['segments'][number];

const piece = (
  id: string,
  title: string,
  text: string,
  more: Partial<Omit<Piece, 'id' | 'title' | 'text'>> = {},
): Piece => ({
  id,
  title,
  text,
  takes_s: null,
  pause_s: 0,
  pin: null,
  give_s: 0,
  may_be_cut: false,
  points: 0,
  ...more,
});

const segments: Piece[] = [
  piece(
    'greeting',
    'Greeting',
    'Good morning, and welcome to my table. In the next ten minutes I will brew one coffee for each of you, and I would like you to watch the temperature of it with me.',
    { pin: { by: 'time', at_s: 0 }, give_s: 3 },
  ),
  piece(
    'why',
    'Why this brew',
    'Most of us drink a coffee once, at one temperature, and decide. I think a good coffee is a short walk, and that the brewer only chooses where it begins. So today I will not show you one flavour. I will show you three, in the order in which this cup gives them.',
  ),
  piece(
    'coffee',
    'The coffee',
    'It is a washed coffee from a small terrace, roasted light and rested for {plan:age_d:0} days. Into each brewer go {plan:dose_g:0} grams, ground in two sizes: three quarters coarse for clarity, the rest fine for weight.',
  ),
  piece(
    'roast',
    'The roast',
    'We roasted it twice to find out how little heat it needs, and stopped the second time as soon as it smelled of blossom instead of grain. It is lighter than I dared a year ago, and that is why water and temperature matter so much today.',
    { may_be_cut: true, points: 0.5 },
  ),
  piece(
    'table',
    'The table',
    'You see three brewers, and only one pair of hands. Each brewer has its own scale and its own clock, and each of you has one brewer that is yours from the first drop. If I am quiet for a moment, I am pouring for somebody.',
  ),
  piece(
    'waters',
    'Two waters',
    'I pour two waters. The first one is soft and cool, {plan:coolest_pour_C:0} degrees, so that the bed wakes up slowly. The other three are firmer, at {plan:hottest_pour_C:0} degrees.',
    { may_be_cut: true, points: 0.6 },
  ),
  piece(
    'bed',
    'Inside the bed',
    'Inside the bed the coffee goes from cool to {predicted:bed_max_C:0} degrees at its hottest. That step is the whole idea of this brew: acidity first, sweetness after.',
    { points: 0.9 },
  ),
  piece(
    'hill',
    'The hill',
    'The terrace looks north, so the cherries ripen late and slowly. Two neighbours share one washing station and one raised bed, and they turned this lot by hand for nineteen days. I have never been able to taste hurry in it.',
    { may_be_cut: true, points: 0.4 },
  ),
  piece(
    'listen',
    'Listen',
    'Listen now: a bed that is evenly wet makes almost no sound. I lift the kettle between pours so that the water can finish what it began, and I come back before the bed falls dry. Twelve pours, four for each of you, and none of them waits for another.',
    { pin: { by: 'action', brewer: 1, what: 'pour', pour: 2, after_s: 0 }, give_s: 25 },
  ),
  piece(
    'patience',
    'Patience',
    'The last pour is the longest to wait for. I take the brewers away while they still drip, because what comes last is thin and bitter, and we have promised you something sweet.',
    { may_be_cut: true, points: 0.3 },
  ),
  piece(
    'instructions',
    'How to taste',
    'Please taste three times: when I put the cup down, again when it is comfortable to hold, and once more when you have almost forgotten it. Each time it should be another coffee.',
    { pin: { by: 'action', brewer: 1, what: 'decant', pour: 1, after_s: 0 }, give_s: 25 },
  ),
  piece(
    'flavour',
    'Flavour',
    'Hot, look for citrus blossom. Warm, it opens to white peach: {panel:peach_found:0} of my five tasters found it without being told. As it cools, expect a sweet finish like honey water.',
    { points: 4 },
  ),
  piece(
    'acidity',
    'Acidity and body',
    'The acidity is medium, malic and round. The body is silky. Both become clearer as the cup cools below sixty degrees.',
    { points: 2.5 },
  ),
  piece(
    'service',
    'Service',
    'Your cup was poured at about {predicted:served_C:0} degrees. There are {plan:water_g:0} grams of water behind each one, and all three were brewed within the same minute.',
    { may_be_cut: true, points: 0.5 },
  ),
  piece(
    'again',
    'Once more',
    'If you have a little left in a few minutes, please go back to it. The blossom will be gone, the peach will have become a syrup, and what stays longest is the sweetness. I think that this is the best part, and I cannot hurry it for you.',
  ),
  piece(
    'people',
    'The people',
    'The two neighbours who grew it will pick again in spring, and they have asked what you thought. I will take your answer back to them in your own words, so please do not be kind for my sake. Say what you found, and at what temperature.',
    { may_be_cut: true, points: 0.4 },
  ),
  piece(
    'thanks',
    'Thanks',
    'Thank you for your patience and for your honesty. Please enjoy the coffee for as long as it keeps changing.',
    { points: 0.3 },
  ),
];

/** The pieces that were there when the runs were timed. */
const TIMED_PIECES = [
  'greeting',
  'coffee',
  'waters',
  'bed',
  'hill',
  'instructions',
  'flavour',
  'acidity',
  'service',
  'thanks',
] as const;

/** Seconds of each piece in six runs that were timed by hand, and of the whole. */
const TIMED: readonly (readonly [whole: number, ...pieces: number[]])[] = [
  [588, 17, 21, 19, 17, 22, 18, 19, 13, 16, 9],
  [601, 18, 22, 20, 18, 26, 18, 20, 13, 17, 9],
  [575, 16, 20, 18, 16, 21, 17, 18, 12, 15, 8],
  [612, 18, 23, 20, 18, 29, 19, 21, 14, 18, 10],
  [594, 17, 21, 20, 17, 24, 18, 20, 13, 16, 9],
  [583, 17, 20, 19, 16, 23, 18, 19, 12, 16, 9],
];

const thing = (
  id: string,
  what: Talk['table']['things'][number]['what'],
  brewer: number | null,
  x_cm: number,
  y_cm: number,
  name = '',
): Talk['table']['things'][number] => ({
  id,
  what,
  name,
  brewer,
  x_cm,
  y_cm,
  width_cm: what === 'brewer' || what === 'kettle' ? 13 : 9,
  depth_cm: what === 'brewer' || what === 'kettle' ? 13 : 9,
  reach_s: null,
});

/** One performance at the invented contest. */
export const talk: Talk = {
  kind: 'talk',
  version: 1,
  ...common,
  id: TALK,
  name: 'Lanternmoor, open round',
  notes: 'Invented. Three brewers, two kettles, one voice.',
  plan_id: PLAN.fourPoursAtTheHall,
  contest_id: CONTEST,
  venue_id: VENUE.hall,
  limit_s: null,
  brewing: {
    brewers: 3,
    flow_g_s: null,
    move_s: 3,
    give_s: 12,
    drain_s: null,
    decant: { takes_s: 6, within_s: 90 },
    serve: { takes_s: 15, within_s: 120 },
    people: 1,
    scales: null,
    alongside: true,
    apart_s: null,
    first_pour_s: 240,
  },
  kettles: [
    {
      id: 'hot',
      kettle_id: 'a',
      name: 'Hot kettle',
      fill_g: 950,
      keep_g: 50,
      power_W: 1_200,
      rated_V: 230,
      start_C: 94,
      set_C: null,
      between: 'on_base',
      body_equivalent_g: 100,
      loss_W_K: 1.2,
      from_C: 40,
      circuit: 'left socket',
    },
    {
      id: 'cool',
      kettle_id: 'b',
      name: 'Cool kettle',
      fill_g: 400,
      keep_g: 50,
      power_W: 1_200,
      rated_V: 230,
      start_C: 70,
      set_C: null,
      between: 'off_base',
      body_equivalent_g: 90,
      loss_W_K: 1.1,
      from_C: 40,
      circuit: 'left socket',
    },
  ],
  circuits: [{ id: 'left', name: 'left socket', limit_A: 10, other_W: 60 }],
  rate: null,
  segments,
  values: [
    {
      id: 'peach',
      name: 'peach_found',
      source: 'panel',
      value: 4,
      unit: 'of 5',
      spread: null,
      from: 'panel of 18 November',
      of_brew: null,
    },
  ],
  silence: { pours: 'first', zones: [] },
  facts: {
    uses: ['own_water', 'own_grinder', 'ground_before', 'own_kettle'],
    individually_brewed: true,
    setup_s: 280,
    cleanup_s: 300,
    changes_after_setup: ['kettle_switch'],
  },
  choices: [
    {
      id: 'precise',
      name: 'Say “citrus blossom” instead of “citrus”',
      marks: [{ category_id: 'description', by: 0.5, sd: 0.6, judges: null }],
      longer_s: 0,
    },
    {
      id: 'story',
      name: 'Tell the story of the hill in full',
      marks: [{ category_id: 'service', by: 0.25, sd: 0.25, judges: null }],
      longer_s: 9,
    },
  ],
  runs: TIMED.map(([ended_s, ...took], r) => ({
    id: `r${r + 1}`,
    ended_s,
    segments: TIMED_PIECES.map((segment_id, i) => ({ segment_id, took_s: took[i]! })),
  })),
  table: {
    width_cm: 150,
    depth_cm: 60,
    things: [
      ...[1, 2, 3].flatMap((b) => [
        thing(`brewer-${b}`, 'brewer', b, 10 + 30 * b, 18),
        thing(`server-${b}`, 'server', b, 10 + 30 * b, 34),
        thing(`cup-${b}`, 'cup', b, 10 + 30 * b, 52),
      ]),
      thing('hot', 'kettle', null, 132, 18, 'Hot kettle'),
      thing('cool', 'kettle', null, 15, 18, 'Cool kettle'),
      thing('tray', 'tray', null, 132, 48),
      thing('cloth', 'cloth', null, 15, 48),
    ],
  },
  jars: {
    retention_g: null,
    tolerance_g: 0.1,
    list: [
      { id: 'j1', name: 'One', brewer: 1, weighed_g: 14.22 },
      { id: 'j2', name: 'Two', brewer: 2, weighed_g: 14.18 },
      { id: 'j3', name: 'Three', brewer: 3, weighed_g: null },
      { id: 'j4', name: 'Spare', brewer: null, weighed_g: null },
    ],
  },
  judges_card: [
    'A washed coffee in two waters',
    'Hot: citrus blossom',
    'Warm: white peach',
    'Cold: honey water',
    'Acidity medium, malic · body silky',
    '',
    '{plan:dose_g:0} g of coffee, {plan:water_g:0} g of water, four pours',
  ].join('\n'),
};

/** Where two kilograms of green go. */
export const budget: Budget = {
  kind: 'budget',
  version: 1,
  ...common,
  id: BUDGET,
  name: 'Two kilograms of the washed lot',
  notes: 'Invented.',
  green_g: 2_000,
  loss_pct: 14,
  uses: [
    { id: 'stage', name: 'Stage', times: 2, each_g: 72, batch_id: null },
    { id: 'venue', name: 'Brews at the venue', times: 12, each_g: 17.5, batch_id: null },
    { id: 'runs', name: 'Full rehearsals', times: 8, each_g: 55.5, batch_id: null },
    { id: 'panel', name: 'Panel sessions', times: 6, each_g: 52.5, batch_id: null },
  ],
  search_brew_g: 17.5,
  batches: [],
};
