/**
 * One valid document of every kind, as a person would write it by hand, for tests. Invented throughout. Every call makes
 * new objects, so that a test may spoil its copy.
 */
import type { BrewBundle } from '../bundle.ts';
import { type DocumentOf, families, type Kind } from '../registry.ts';

const uuid = (n: number): string => `0190a5d2-7c3e-7b10-8f00-${n.toString(16).padStart(12, '0')}`;

export const CAMPAIGN_ID = uuid(1);
export const COFFEE_ID = uuid(2);
export const WATER_ID = uuid(3);
export const GRINDER_ID = uuid(4);
export const SETUP_ID = uuid(5);
export const VENUE_ID = uuid(6);
export const PLAN_ID = uuid(7);
export const TRIAL_ID = uuid(8);
export const SALT_ID = uuid(9);
export const CONCENTRATE_ID = uuid(10);
export const MIX_ID = uuid(11);
export const SIZING_ID = uuid(12);
export const BATCH_ID = uuid(13);
export const BLEND_ID = uuid(15);
export const CONTEST_ID = uuid(14);
export const TASTING_ID = uuid(0x70);
export const WORDS_ID = uuid(0x71);
export const DESCRIPTION_ID = uuid(0x73);
export const REHEARSAL_ID = uuid(18);
export const INSTRUMENT_ID = uuid(20);
export const TALK_ID = uuid(16);
export const BUDGET_ID = uuid(17);

type Body = Record<string, unknown>;

const common = (id: string, name: string): Body => ({
  id,
  campaign_id: CAMPAIGN_ID,
  name,
  notes: 'Invented.',
});

const pour = (n: number, start_s: number, kettle_temperature_C: number): Body => ({
  id: `p${n}`,
  start_s,
  water_g: 50,
  rate: n % 2 ? { by: 'flow', flow_g_s: 5 } : { by: 'duration', duration_s: 12 },
  water_id: WATER_ID,
  kettle_id: 'k1',
  kettle_temperature_C,
  height_cm: 12,
});

/** Both clocks of a device, so long after it began. */
const clocks = (ms: number): Body => ({
  wall_ms: 1_804_158_300_000 + ms,
  mono_ms: 5_000 + ms,
  opened_ms: 1_804_158_295_000,
});

const bodies: Readonly<Record<Kind, () => Body>> = {
  campaign: () => ({
    kind: 'campaign',
    version: 1,
    ...common(CAMPAIGN_ID, 'Spring round'),
    contest_date: '2027-03-06',
  }),
  coffee: () => ({
    kind: 'coffee',
    version: 1,
    ...common(COFFEE_ID, 'Lot seven'),
    process: 'washed',
    roast: 'light',
    roasted_on: '2027-02-10',
    frozen_on: '2027-02-16',
    thawed_on: '2027-03-05',
    stock_g: 900,
    moisture_pct: 2.1,
    extractable_pct: 29.5,
    co2_at_roast_mg_g: 5.5,
  }),
  water: () => ({
    kind: 'water',
    version: 1,
    ...common(WATER_ID, 'Water 75'),
    calcium_mg_L: 8.02,
    magnesium_mg_L: 3.65,
    potassium_mg_L: 13.68,
    bicarbonate_mg_L: 21.36,
    chloride_mg_L: 14.18,
    sulfate_mg_L: 14.41,
  }),
  salt: () => ({
    kind: 'salt',
    version: 1,
    ...common(SALT_ID, 'Magnesium sulfate, jar two'),
    salt: 'magnesium_sulfate',
    hydrate: 7,
    amount_g: 240,
    price_per_kg: 9.5,
    food_grade: true,
    opened_on: '2027-01-20',
  }),
  concentrate: () => ({
    kind: 'concentrate',
    version: 1,
    ...common(CONCENTRATE_ID, 'Buffer'),
    parts: [{ salt: 'potassium_bicarbonate', hydrate: 0, salt_g: 10 }],
    water_g: 490,
    made_on: '2027-02-28',
    left_g: 310,
  }),
  mix: () => ({
    kind: 'mix',
    version: 1,
    ...common(MIX_ID, 'Two waters'),
    waters: [
      {
        id: 'a',
        name: 'First pour',
        batch_g: 1500,
        poured_g: 50,
        targets: [
          { of: 'hardness', aim: 35 },
          { of: 'alkalinity', aim: 17 },
        ],
      },
      {
        id: 'b',
        name: 'The rest',
        batch_g: 1500,
        poured_g: 150,
        targets: [
          { of: 'hardness', aim: 50, weight: 2 },
          { of: 'alkalinity', low: 20, high: 30, hard: true },
        ],
      },
    ],
    bases: [{ water_id: WATER_ID, price_per_L: 0.1 }],
    salt_ids: [SALT_ID],
    concentrate_ids: [CONCENTRATE_ID],
    instruments: { balance: { step_g: 0.01, capacity_g: 200 } },
    container_mL: 100,
  }),
  batch: () => ({
    kind: 'batch',
    version: 1,
    ...common(BATCH_ID, 'First pour, Saturday'),
    mix_id: MIX_ID,
    water_id: 'a',
    batch_g: 1500,
    given: [{ item_id: CONCENTRATE_ID, given_g: 3.21 }],
    done: ['check', `add_buffer ${CONCENTRATE_ID}`],
    meter_shows: 61,
    sample_C: 23.5,
    made_on: '2027-03-05',
    use_by: '2027-03-12',
    bottles: 2,
  }),
  grinder: () => ({
    kind: 'grinder',
    version: 1,
    ...common(GRINDER_ID, 'Bench grinder'),
    settings: [
      {
        id: 's8',
        mark: '8.0',
        distribution: {
          by: 'modes',
          modes: [
            { share: 0.85, median_um: 800, gsd: 1.45 },
            { share: 0.15, median_um: 48, gsd: 1.6 },
          ],
        },
        retention_g: 0.1,
      },
      {
        id: 's10',
        mark: '10.0',
        distribution: {
          by: 'classes',
          classes: [
            { diameter_um: 60, share: 0.12 },
            { diameter_um: 700, share: 0.33 },
            { diameter_um: 1100, share: 0.55 },
          ],
        },
      },
    ],
    zeros: [{ id: 'z1', at: '2027-02-19T20:00:00+08:00', touch_dial: 0.5 }],
    burrs: [{ id: 'b1', name: 'First burrs', fitted_on: '2025-06-01', used_kg: 0 }],
  }),
  sizing: () => ({
    kind: 'sizing',
    version: 1,
    ...common(SIZING_ID, 'Setting eight, sieved'),
    measured_at: '2027-02-20T18:40:00+08:00',
    coffee_id: COFFEE_ID,
    grinder_id: GRINDER_ID,
    dial: 8,
    beans_C: 22,
    data: {
      by: 'sieves',
      load_g: 30.1,
      sieves: [
        { aperture_um: 1000, weighed_g: 5.9 },
        { aperture_um: 710, weighed_g: 9.6 },
        { aperture_um: 500, weighed_g: 7.2 },
        { aperture_um: 250, weighed_g: 3.4 },
      ],
      pan: { weighed_g: 152.3, tare_g: 148.5 },
    },
  }),
  blend: () => ({
    kind: 'blend',
    version: 1,
    ...common(BLEND_ID, 'Ten with a quarter of sieved eight'),
    parts: [
      { id: 'a', grinder_id: GRINDER_ID, setting_id: 's10', share: 0.75 },
      { id: 'b', grinder_id: GRINDER_ID, setting_id: 's8', share: 0.25, above_um: 355, loss_pct: 1 },
    ],
    dose_g: 15,
    cups: 3,
  }),
  setup: () => ({
    kind: 'setup',
    version: 1,
    ...common(SETUP_ID, 'Flat plastic on glass'),
    dripper: {
      shape: 'flat',
      bottom_diameter_mm: 50,
      rim_diameter_mm: 100,
      height_mm: 70,
      material: 'polypropylene',
      mass_g: 110,
    },
    paper: { mass_g: 1.4 },
    server: { material: 'borosilicate_glass', mass_g: 240, capacity_mL: 600 },
    cup: { material: 'porcelain', mass_g: 210, inner_diameter_mm: 82, capacity_mL: 220 },
    kettles: [{ id: 'k1', name: 'Kettle', capacity_g: 900, power_W: 1200 }],
  }),
  venue: () => ({
    kind: 'venue',
    version: 1,
    ...common(VENUE_ID, 'Hall by the sea'),
    altitude_m: 20,
    air_C: 23,
    humidity_pct: 45,
    mains_V: 230,
  }),
  plan: () => ({
    kind: 'plan',
    version: 1,
    ...common(PLAN_ID, 'Four pours'),
    coffee_id: COFFEE_ID,
    setup_id: SETUP_ID,
    venue_id: VENUE_ID,
    dose_g: 14,
    grind: [
      { grinder_id: GRINDER_ID, setting_id: 's10', share: 0.75 },
      { grinder_id: GRINDER_ID, setting_id: 's8', share: 0.25 },
    ],
    rinse: { water_g: 100, temperature_C: 95 },
    pours: [pour(1, 0, 70), pour(2, 30, 95), pour(3, 60, 95), pour(4, 90, 95)],
    actions: [{ id: 'a1', what: 'swirl', start_s: 104 }],
    lift_s: 150,
    bypass: { water_g: 10, temperature_C: 90, water_id: WATER_ID },
    kettles: [{ kettle_id: 'k1', fill_g: 850, between: 'off_base' }],
    chill: {
      first: { by: 'mass', drip_g: 40 },
      material: 'stainless_steel',
      mass_g: 120,
      temperature_C: -18,
    },
    serving: { cups: 2, cups_C: 55, hot_above_C: 62 },
  }),
  trial: () => ({
    kind: 'trial',
    version: 1,
    ...common(TRIAL_ID, 'Morning, third'),
    plan_id: PLAN_ID,
    brewed_at: '2027-03-05T09:12:30+08:00',
    event: { id: uuid(21), cup: 'B' },
    coffee_id: COFFEE_ID,
    kettle_id: 'k1',
    dripper_mark: 'left',
    poured_by: 'N',
    roasted_on: '2027-02-10',
    frozen_d: 17,
    dose_g: 14.02,
    water_g: 200.4,
    beverage_g: 163,
    bypass_g: 10.1,
    spent_g: 44.6,
    drawdown_s: 171,
    end_s: 180,
    strength_readings: [{ strength_pct: 1.52, sample_C: 22 }, { strength_pct: 1.53 }],
    brix_readings: [{ brix: 1.8, sample_C: 22 }],
    sample_lost_pct: 0.2,
    refractometer_id: INSTRUMENT_ID,
    temperatures: [{ time_s: 35, where: 'bed_middle', temperature_C: 71.5 }],
    poured: [
      { pour_id: 'p1', start_s: 0, end_s: 10.5, water_g: 51, kettle_C: 70.5 },
      { start_s: 31.2, end_s: 43, water_g: 49.4 },
    ],
    courses: [{ of: 'poured_g', time_s: [0, 10.5, 31.2, 43], value: [0, 51, 51, 100.4] }],
    tasted: [{ when: 'warm', temperature_C: 48, liking: 7.5, words: ['white peach'], by: 'N', blind: true }],
    traces: [
      { attachment: 'ab'.repeat(32), media_type: 'text/csv', name: 'scale.csv', zero_s: 3.5, read_as: '{}' },
    ],
    photographs: [
      { attachment: 'cd'.repeat(32), media_type: 'image/jpeg', name: 'bed.jpg', caption: 'Flat.' },
    ],
  }),
  instrument: () => ({
    kind: 'instrument',
    version: 1,
    ...common(INSTRUMENT_ID, 'Refractometer, old'),
    is: {
      what: 'refractometer',
      shows: 'brix',
      pairs: [{ brix: 1.7, strength_pct: 1.45, strength_doubt_pct: 0.03 }],
    },
    serial: { baud: 9600, pattern: '{number} {unit}' },
  }),
  rehearsal: () => ({
    kind: 'rehearsal',
    version: 1,
    ...common(REHEARSAL_ID, 'Third run'),
    plan_id: PLAN_ID,
    began_at: '2027-03-04T19:05:00+08:00',
    limit_s: 600,
    brewers: 1,
    cues: [
      { id: 'p1', what: 'pour', brewer: 1, at_s: 0, takes_s: 10, water_g: 50, scale_g: 50 },
      { id: 'story', what: 'say', at_s: 12, takes_s: 15, title: 'The hill', text: 'Grown high up.' },
      { id: 'p2', what: 'pour', brewer: 1, at_s: 30, takes_s: 10, water_g: 50, scale_g: 100 },
    ],
    events: [
      { what: 'start', n: 0, at_s: 0, count_in_s: 3, ...clocks(0) },
      { what: 'lap', n: 1, at_s: 0.4, cue_id: 'p1', ...clocks(400) },
      { what: 'lap', n: 2, at_s: 13.1, cue_id: 'story', ...clocks(13_100) },
      { what: 'end', n: 3, at_s: 41, how: 'finished', ...clocks(41_000) },
    ],
    sound: { media_type: 'audio/webm', size_kB: 410, from_s: -3 },
    cups: [{ brewer: 1, beverage_g: 163, strength_pct: 1.52, served_C: 66 }],
  }),
  tasting: () => ({
    kind: 'tasting',
    version: 1,
    ...common(TASTING_ID, 'Which grind, Tuesday'),
    method: { test: 'triangle' },
    samples: [
      { id: 'a', name: 'Two-step grind', plan_id: PLAN_ID, dose_g: 14, brew_mL: 170 },
      { id: 'b', name: 'One-step grind', dose_g: 14, brew_mL: 170, may_carry: ['milk'] },
    ],
    repeats: 2,
    windows: [
      { id: 'hot', name: 'Hot', from_C: 60, to_C: 52 },
      { id: 'warm', name: 'Warm', from_C: 45, to_C: 38 },
    ],
    cooling: { poured_C: 80, beverage_g: 50 },
    seats: 5,
    title: 'Tuesday',
    run: {
      method: { test: 'triangle' },
      samples: [
        { id: 'a', name: 'Two-step grind' },
        { id: 'b', name: 'One-step grind' },
      ],
      windows: [{ id: 'hot', name: 'Hot', from_C: 60, to_C: 52 }],
      opened_at: '2027-03-05T09:00:00+08:00',
      closed_at: '2027-03-05T09:40:00+08:00',
      tasters: [{ seat: 1, name: 'Ines', joined_at: '2027-03-05T09:01:00+08:00' }],
      sets: [
        {
          seat: 1,
          set: 1,
          flight: 1,
          window_id: 'hot',
          cups: [
            { code: '482', sample_id: 'a' },
            { code: '917', sample_id: 'b' },
            { code: '305', sample_id: 'a' },
          ],
          right: ['917'],
        },
      ],
      answers: [
        {
          answer_id: uuid(0x72),
          seat: 1,
          set: 1,
          code: null,
          window_id: 'hot',
          at: '2027-03-05T09:12:00+08:00',
          device_at: '2027-03-05T09:11:58+08:00',
          temperature_C: 56.5,
          counts: true,
          answer: { test: 'triangle', code: '917' },
        },
      ],
      poured: [{ flight: 1, at: '2027-03-05T09:05:00+08:00' }],
      measured: [{ flight: 1, at: '2027-03-05T09:10:00+08:00', temperature_C: 58.2 }],
      sheet_seen: [{ at: '2027-03-05T09:04:00+08:00', by: 'helper' }],
    },
  }),
  words: () => ({
    kind: 'words',
    version: 1,
    ...common(WORDS_ID, 'Our words'),
    words: [{ word: 'fruit' }, { word: 'citrus', parent: 'fruit' }, { word: 'bergamot', parent: 'citrus' }],
  }),
  description: () => ({
    kind: 'description',
    version: 1,
    ...common(DESCRIPTION_ID, 'What I say'),
    sources: [{ tasting_id: TASTING_ID, sample_id: 'a', age_d: 14 }],
    words_id: WORDS_ID,
    said: [
      { id: 'w1', window: 'Hot', word: 'bergamot' },
      { id: 'w2', window: 'Cold', word: 'raw honey' },
    ],
    statements: [
      { id: 's1', name: 'acidity level', said: 'medium-high', points: { exact: 2, one_step: 1, further: 0 } },
    ],
    points: { precise: { found: 2, near: 0, missed: -1 } },
    contest_id: CONTEST_ID,
    category_id: 'cat1',
    judges: 4,
    served_age_d: 24,
    offsets: [{ taster: 'Lena', name: 'acidity level', steps: 0.5 }],
  }),
  contest: () => ({
    kind: 'contest',
    version: 1,
    ...common(CONTEST_ID, 'Lantern Cup'),
    round: 'open round',
    rules_of: '2027-01-15',
    timers: { practice_s: 1800, setup_s: 300, run_s: 600 },
    cups: { count: 3, individually_brewed: true, min_mL: 120, max_mL: 300 },
    rules: [
      { of: 'own_water', ruling: 'allowed' },
      { of: 'grinding_in_setup', ruling: 'not_allowed', note: 'Whoever does is out.' },
      { of: 'device_on_stage', ruling: 'unknown' },
    ],
    judges: 3,
    categories: [
      { id: 'flavour', name: 'Flavour', by: 'each_judge', min: 0, max: 10, step: 0.5 },
      { id: 'description', name: 'Description', by: 'each_judge', weight: 2, min: 0, max: 10, step: 0.5 },
      { id: 'flow', name: 'Work flow', by: 'head_judge', min: 0, max: 10, step: 0.5 },
    ],
    combination: {
      parts: [
        { name: 'Judges', category_ids: ['flavour', 'description'], over_judges: 'mean', factor: 1.4 },
        { name: 'Head judge', category_ids: ['flow'] },
      ],
      divide_by: 1.6,
    },
    penalty: { points: 1, every_s: 1, cap_points: 30, hard_stop_s: 60 },
    frozen_after_setup: ['grind', 'cups'],
  }),
  talk: () => ({
    kind: 'talk',
    version: 1,
    ...common(TALK_ID, 'Lantern Cup, open round'),
    plan_id: PLAN_ID,
    contest_id: CONTEST_ID,
    venue_id: VENUE_ID,
    brewing: {
      brewers: 2,
      move_s: 3,
      give_s: 15,
      drain_s: 40,
      decant: { takes_s: 8, within_s: 60 },
      serve: { takes_s: 12, within_s: 90 },
      first_pour_s: 20,
    },
    kettles: [{ id: 'a', kettle_id: 'k1', name: 'Left', fill_g: 850, power_W: 1200, start_C: 95 }],
    circuits: [{ id: 'c1', name: 'wall', limit_A: 16 }],
    rate: { words_per_min: 132, characters_per_min: 190 },
    segments: [
      {
        id: 'greeting',
        title: 'Greeting',
        text: 'Good morning. Into each brewer go {dose_g} grams of lot seven.',
        pin: { by: 'time', at_s: 0 },
      },
      { id: 'story', title: 'The hill', takes_s: 40, may_be_cut: true, points: 0.5 },
      {
        id: 'flavour',
        title: 'Flavour',
        text: 'White peach, and at {measured:strength_pct:2} percent a silky body.',
        pause_s: 2,
        pin: { by: 'action', brewer: 1, what: 'decant', after_s: 5 },
        give_s: 20,
      },
    ],
    values: [
      { id: 'v1', name: 'peach_found', source: 'panel', value: 4, unit: 'of 5', from: 'panel of 3 March' },
    ],
    silence: { pours: 'first', zones: [{ id: 'z1', label: 'Taste', from_s: 500, to_s: 520 }] },
    facts: { uses: ['own_water'], individually_brewed: true, setup_s: 280 },
    choices: [
      {
        id: 'x',
        name: 'A longer story',
        marks: [{ category_id: 'flavour', by: 0.5, sd: 0.25 }],
        longer_s: 8,
      },
    ],
    runs: [{ id: 'r1', ended_s: 588, segments: [{ segment_id: 'story', took_s: 42 }] }],
    table: { things: [{ id: 't1', what: 'brewer', brewer: 1, x_cm: 50, y_cm: 20 }] },
    jars: { list: [{ id: 'j1', name: 'One', brewer: 1, weighed_g: 14.1 }] },
    judges_card: 'Lot seven, washed. {dose_g} g of coffee and {water_g} g of water.',
  }),
  budget: () => ({
    kind: 'budget',
    version: 1,
    ...common(BUDGET_ID, 'Two kilos'),
    green_g: 2000,
    loss_pct: 14,
    uses: [
      { id: 'stage', name: 'Stage', times: 2, each_g: 72, batch_id: 'b2' },
      { id: 'panel', name: 'Panel', times: 6, each_g: 52.5 },
    ],
    search_brew_g: 17.5,
    batches: [
      { id: 'b1', name: 'First', green_g: 1200 },
      { id: 'b2', name: 'Second', green_g: 800 },
    ],
  }),
};

/** A valid body of one kind with only what must be said and some of what may be. */
export const sampleBody = (kind: Kind): Body => bodies[kind]();

/** The same, checked: every default filled in. */
export const sample = <K extends Kind>(kind: K): DocumentOf<K> =>
  families[kind].schema.parse(bodies[kind]()) as DocumentOf<K>;

/** All that a prediction of the sample plan needs. */
export const sampleBundle = (): BrewBundle => ({
  plan: sample('plan'),
  coffee: sample('coffee'),
  setup: sample('setup'),
  venue: sample('venue'),
  waters: { [WATER_ID]: sample('water') },
  grinders: { [GRINDER_ID]: sample('grinder') },
});
