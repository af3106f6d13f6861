import { describe, expect, it } from 'vitest';
import { bundlePlan } from './bundle.ts';
import { checkDocument, type Kind } from './registry.ts';
import { type Place, put } from './testing/put.ts';
import { sample, sampleBody, sampleBundle } from './testing/samples.ts';

/** What is said about a document with some values replaced: `path | sentence`, in order. */
function said(kind: Kind, ...changes: readonly (readonly [Place, unknown])[]): string[] {
  const body = sampleBody(kind);
  for (const [place, value] of changes) put(body, place, value);
  const checked = checkDocument(body);
  return checked.ok ? [] : checked.problems.map((p) => `${p.path.join('.')} | ${p.sentence}`);
}

describe('one bad value', () => {
  const cases: readonly (readonly [Kind, Place, unknown, string])[] = [
    ['plan', ['dose_g'], 0, 'Dose is 0 g; it must be at least 1 g.'],
    ['plan', ['dose_g'], -3, 'Dose is -3 g; it must be at least 1 g.'],
    ['plan', ['dose_g'], 250, 'Dose is 250 g; it must be at most 200 g.'],
    ['plan', ['dose_g'], '14', 'Dose is "14"; it must be a number.'],
    ['plan', ['dose_g'], null, 'Dose is null; it must be a number.'],
    ['plan', ['dose_g'], Number.NaN, 'Dose is NaN; it must be a number.'],
    ['plan', ['dose_g'], undefined, 'Dose is missing; it must be given, as a number.'],
    ['plan', ['pours', 2, 'start_s'], -4, 'Pours, row 3: start is -4 s; it must be at least 0 s.'],
    ['plan', ['pours', 0, 'water_g'], -50, 'Pours, row 1: water is -50 g; it must be at least 0.5 g.'],
    [
      'plan',
      ['pours', 0, 'kettle_temperature_C'],
      120,
      'Pours, row 1: kettle temperature is 120 °C; it must be at most 100.5 °C.',
    ],
    [
      'plan',
      ['pours', 1, 'rate', 'duration_s'],
      -5,
      'Pours, row 2: rate: duration is -5 s; it must be at least 0.5 s.',
    ],
    [
      'plan',
      ['pours', 0, 'rate', 'flow_g_s'],
      0,
      'Pours, row 1: rate: flow is 0 g/s; it must be at least 0.2 g/s.',
    ],
    [
      'plan',
      ['pours', 0, 'rate', 'by'],
      'feel',
      'Pours, row 1: rate: by is "feel"; it must be one of: flow, duration.',
    ],
    ['plan', ['actions', 0, 'what'], 'tap', 'Actions, row 1: what is "tap"; it must be one of: stir, swirl.'],
    ['plan', ['pours'], [], 'Pours has 0 entries; it needs at least 1.'],
    ['plan', ['grind'], [], 'Grind has 0 entries; it needs at least 1.'],
    ['plan', ['grind', 0, 'share'], 0.6, 'The shares in grind add up to 0.85; together they must make 1.'],
    ['plan', ['name'], '   ', 'Name is empty; it needs at least 1 character.'],
    ['plan', ['name'], 'x'.repeat(121), 'Name is too long; it may hold at most 120 characters.'],
    [
      'plan',
      ['id'],
      'four pours',
      'Id is "four pours"; it must be written as a UUID, like 0190a5d2-7c3e-7b10-8f00-2d6c1e0b9a44.',
    ],
    ['plan', ['lift_s'], 0, 'Lift is 0 s; it must be more than 0 s.'],
    [
      'blend',
      ['parts', 1, 'below_um'],
      300,
      'Parts, row 2: below is 300 µm; it must not be less than the least, 355 µm.',
    ],
    ['blend', ['cups'], 2.5, 'Cups is 2.5; it must be a whole number.'],
    ['blend', ['parts', 0, 'share'], 0.5, 'The shares in parts add up to 0.75; together they must make 1.'],
    ['batch', ['use_by'], '2027-03-04', 'Use by is 2027-03-04; it must not be before 2027-03-05.'],
    [
      'contest',
      ['categories', 0, 'max'],
      -1,
      'Categories, row 1: max is -1; it must not be less than the least, 0.',
    ],
    [
      'contest',
      ['combination', 'parts', 1, 'category_ids', 0],
      'charm',
      'Combination: parts, row 2: category ids, row 1 is "charm", which is not among the categories; it must be one of: "flavour", "description", "flow".',
    ],
    [
      'tasting',
      ['samples'],
      [{ id: 'a', name: 'One' }],
      'Samples has 1 entries; this test compares exactly 2.',
    ],
    [
      'tasting',
      ['windows', 0, 'to_C'],
      60,
      'Windows, row 1: to is 60 °C; a cup only cools, so a window must end below its beginning, 60 °C.',
    ],
    ['tasting', ['windows', 0, 'from_C'], 70, 'Windows, row 1: from is 70 °C; it must be at most 65 °C.'],
    [
      'tasting',
      ['method'],
      { test: 'three_afc', attribute: 'sweetness', stronger_id: 'c' },
      'Method: stronger id is "c", which is not among the samples; it must be one of: "a", "b".',
    ],
    [
      'tasting',
      ['run', 'sets', 0, 'cups', 1, 'code'],
      '91',
      'Run: sets, row 1: cups, row 2: code is "91"; it must be the three digits on a cup, like 482.',
    ],
    [
      'words',
      ['words', 2, 'parent'],
      'agrumes',
      'Words, row 3: parent is "agrumes"; there is no such word in this tree. Add it, or choose a wider word that is there.',
    ],
    [
      'words',
      ['words', 0, 'parent'],
      'fruit',
      'Words, row 1: parent is "fruit", which is itself narrower than this word; a word cannot be wider than itself.',
    ],
    ['contest', ['cups', 'max_mL'], 100, 'Cups: max is 100 mL; it must not be less than the least, 120 mL.'],
    ['contest', ['timers', 'run_s'], -1, 'Timers: run is -1 s; it must be at least 0 s.'],
    ['contest', ['penalty', 'every_s'], 0, 'Penalty: every is 0 s; it must be more than 0 s.'],
    [
      'contest',
      ['rules', 1, 'of'],
      'own_water',
      'Rules, row 2: of is used twice ("own_water"); every entry needs its own.',
    ],
    [
      'talk',
      ['silence', 'zones', 0, 'to_s'],
      490,
      'Silence: zones, row 1: to is 490 s; it must not be before its beginning, 500 s.',
    ],
    [
      'talk',
      ['values', 0, 'name'],
      'peach found',
      'Values, row 1: name is "peach found"; it must begin with a letter and hold letters, digits and underscores only, like peach_found.',
    ],
    ['talk', ['brewing', 'brewers'], 0, 'Brewing: brewers is 0; it must be at least 1.'],
    [
      'talk',
      ['segments', 1, 'id'],
      'greeting',
      'Segments, row 2: id is used twice ("greeting"); every entry needs its own.',
    ],
    [
      'talk',
      ['segments', 0, 'pin', 'by'],
      'mood',
      'Segments, row 1: pin: by is "mood"; it must be one of: time, action.',
    ],
    [
      'budget',
      ['uses', 0, 'batch_id'],
      'b9',
      'Uses, row 1: batch id points to a roast batch that is not in this campaign. Choose one that is.',
    ],
    ['budget', ['search_brew_g'], 0, 'Search brew is 0 g; it must be more than 0 g.'],
    ['batch', ['bottles'], 1.5, 'Bottles is 1.5; it must be a whole number.'],
    ['batch', ['batch_g'], 0, 'Batch is 0 g; it must be at least 1 g.'],
    ['batch', ['given', 0, 'given_g'], -1, 'Given, row 1: given is -1 g; it must be at least 0 g.'],
    [
      'plan',
      ['kettles', 0, 'between'],
      'shelf',
      'Kettles, row 1: between is "shelf"; it must be one of: on_base, off_base.',
    ],
    ['plan', ['kettles', 0, 'fill_g'], 0, 'Kettles, row 1: fill is 0 g; it must be more than 0 g.'],
    ['plan', ['chill', 'first', 'drip_g'], 0, 'Chill: first: drip is 0 g; it must be more than 0 g.'],
    [
      'plan',
      ['chill', 'first', 'by'],
      'colour',
      'Chill: first: by is "colour"; it must be one of: mass, time.',
    ],
    ['plan', ['chill', 'temperature_C'], -80, 'Chill: temperature is -80 °C; it must be at least -30 °C.'],
    ['plan', ['serving', 'cups'], 2.5, 'Serving: cups is 2.5; it must be a whole number.'],
    ['plan', ['serving', 'cups'], 0, 'Serving: cups is 0; it must be at least 1.'],
    [
      'plan',
      ['serving', 'cold_below_C'],
      62,
      'Serving: cold below is 62 °C; a cup is hot above 62 °C, so cold must begin below that, with warm in between.',
    ],
    ['setup', ['cup', 'mass_g'], 0, 'Cup: mass is 0 g; it must be at least 2 g.'],
    ['setup', ['cup', 'inner_diameter_mm'], 9, 'Cup: inner diameter is 9 mm; it must be at least 20 mm.'],
    ['water', ['calcium_mg_L'], -3, 'Calcium is -3 mg/L; it must be at least 0 mg/L.'],
    [
      'setup',
      ['dripper', 'material'],
      'wood',
      'Dripper: material is "wood"; it must be one of: polypropylene, polycarbonate, acrylic, porcelain, soda_lime_glass, borosilicate_glass, stainless_steel, copper.',
    ],
    [
      'setup',
      ['dripper', 'rim_diameter_mm'],
      40,
      'Dripper: rim diameter is 40 mm; it must be at least 50 mm.',
    ],
    ['setup', ['paper', 'resistance_per_m'], -1, 'Paper: resistance is -1 1/m; it must be more than 0 1/m.'],
    ['setup', ['kettles'], undefined, 'Kettles is missing; it must be given, as a list.'],
    ['venue', ['mains_V'], 12, 'Mains is 12 V; it must be at least 90 V.'],
    ['venue', ['pressure_hPa'], 29.9, 'Pressure is 29.9 hPa; it must be at least 450 hPa.'],
    [
      'coffee',
      ['roasted_on'],
      '2027-02-30',
      'Roasted on is "2027-02-30"; it must be written as a date, like 2026-03-14.',
    ],
    ['coffee', ['frozen_on'], '2027-02-01', 'Frozen on is "2027-02-01"; it must not be before 2027-02-10.'],
    ['coffee', ['thawed_on'], '2027-02-11', 'Thawed on is "2027-02-11"; it must not be before 2027-02-16.'],
    [
      'grinder',
      ['settings', 0, 'distribution', 'modes', 0, 'share'],
      0.8,
      'The shares in settings, row 1: distribution: modes add up to 0.95; together they must make 1.',
    ],
    [
      'grinder',
      ['settings', 1, 'distribution', 'classes', 1, 'diameter_um'],
      60,
      'Settings, row 2: distribution: classes, row 2: diameter is 60 µm; particle sizes must rise from row to row.',
    ],
    [
      'grinder',
      ['settings', 0, 'distribution', 'by'],
      'sieves',
      'Settings, row 1: distribution: by is "sieves"; it must be one of: modes, classes.',
    ],
    [
      'grinder',
      ['settings', 0, 'retention_g'],
      -1,
      'Settings, row 1: retention is -1 g; it must be at least 0 g.',
    ],
    [
      'grinder',
      ['settings', 1, 'id'],
      's8',
      'Settings, row 2: id is used twice ("s8"); every entry needs its own.',
    ],
    [
      'trial',
      ['brewed_at'],
      '2027-03-05 09:12',
      'Brewed at is "2027-03-05 09:12"; it must be written as a moment with its offset from UTC, like 2026-03-14T09:30:00+08:00.',
    ],
    [
      'trial',
      ['traces', 0, 'attachment'],
      'AB',
      'Traces, row 1: attachment is "AB"; it must be written as a SHA-256 hash of 64 lower-case hexadecimal digits.',
    ],
    ['campaign', ['demo'], 'no', 'Demo is "no"; it must be true or false.'],
  ];
  it.each(cases)('%s %j = %j', (kind, place, value, sentence) => {
    expect(said(kind, [place, value]).map((line) => line.split(' | ')[1])).toEqual([sentence]);
  });
});

describe('a kettle spoken of twice', () => {
  it('is named at the second', () => {
    const uses = [{ kettle_id: 'k1' }, { kettle_id: 'k1', fill_g: 300 }];
    expect(said('plan', [['kettles'], uses])).toEqual([
      'kettles.1.kettle_id | Kettles, row 2: kettle id is used twice ("k1"); every entry needs its own.',
    ]);
  });
});

describe('pours that cannot all be', () => {
  it('overlapping ones are named at the later pour, with the end of the earlier', () => {
    expect(said('plan', [['pours', 1, 'start_s'], 8])).toEqual([
      'pours.1.start_s | Pours, row 2: start is 8 s; the pour before it runs until 10 s. Start later, or pour the one before faster.',
    ]);
  });
  it('overlap is found whatever order they are written in', () => {
    const body = sampleBody('plan');
    put(body, ['pours', 1, 'start_s'], 8);
    put(body, ['pours'], [...(body.pours as unknown[])].reverse());
    const checked = checkDocument(body);
    expect(checked.ok || checked.problems).toMatchObject([
      { code: 'pours_overlap', path: ['pours', 2, 'start_s'] },
    ]);
  });
  it('two pours may touch', () => {
    expect(said('plan', [['pours', 1, 'start_s'], 10])).toEqual([]);
  });
  it('a lift before the first pour is named at the lift', () => {
    expect(said('plan', [['pours', 0, 'start_s'], 5], [['lift_s'], 4])).toEqual([
      'lift_s | Lift is 4 s; it must be after the first pour starts, at 5 s.',
    ]);
  });
  it('a pour that runs past the lift is named at the pour', () => {
    expect(said('plan', [['lift_s'], 95])).toEqual([
      'pours.3.start_s | Pours, row 4: start is 90 s; the dripper is lifted away at 95 s, so this pour cannot end after it.',
    ]);
  });
  it('a broken pour is reported by itself and not compared with the rest', () => {
    expect(said('plan', [['pours', 0, 'rate', 'flow_g_s'], 0], [['pours', 1, 'start_s'], -4])).toEqual([
      'pours.0.rate.flow_g_s | Pours, row 1: rate: flow is 0 g/s; it must be at least 0.2 g/s.',
      'pours.1.start_s | Pours, row 2: start is -4 s; it must be at least 0 s.',
    ]);
    expect(said('plan', [['pours'], []], [['lift_s'], 30])).toEqual([
      'pours | Pours has 0 entries; it needs at least 1.',
    ]);
  });
  it('10 000 pours get one sentence, quickly', () => {
    const [first] = sampleBody('plan').pours as Record<string, unknown>[];
    const many = Array.from({ length: 10_000 }, (_, i) => ({ ...first, id: `p${i}`, start_s: i % 7000 }));
    const before = performance.now();
    expect(said('plan', [['pours'], many])).toEqual([
      'pours | Pours has 10000 entries; it may have at most 40.',
    ]);
    expect(performance.now() - before).toBeLessThan(2_000);
  });
});

describe('several bad values', () => {
  it('are all reported at once', () => {
    expect(
      said(
        'plan',
        [['dose_g'], 0],
        [['pours', 1, 'water_g'], 'fifty'],
        [['rinse', 'temperature_C'], 130],
        [['venue_id'], ''],
      ),
    ).toEqual([
      'venue_id | Venue id is empty; it must be written as a UUID, like 0190a5d2-7c3e-7b10-8f00-2d6c1e0b9a44.',
      'dose_g | Dose is 0 g; it must be at least 1 g.',
      'rinse.temperature_C | Rinse: temperature is 130 °C; it must be at most 100.5 °C.',
      'pours.1.water_g | Pours, row 2: water is "fifty"; it must be a number.',
    ]);
  });
});

describe('a plan that points nowhere', () => {
  it('is told which reference it is', () => {
    const { plan } = sampleBundle();
    const all = [sample('coffee'), sample('setup'), sample('venue'), sample('water'), sample('grinder')];
    const lookup = (id: string) => all.find((document) => document.id === id);
    expect(bundlePlan(plan, lookup)).toEqual({ ok: true, value: sampleBundle() });
    plan.coffee_id = plan.venue_id;
    plan.pours[0]!.kettle_id = 'k9';
    plan.kettles[0]!.kettle_id = 'k8';
    plan.grind[1]!.setting_id = 's99';
    plan.bypass!.water_id = plan.id;
    const bundle = bundlePlan(plan, lookup);
    expect(bundle.ok || bundle.problems.map((p) => `${p.path.join('.')} | ${p.sentence}`)).toEqual([
      'coffee_id | Coffee id points to a coffee that is not in this campaign. Choose one that is.',
      'pours.0.kettle_id | Pours, row 1: kettle id points to a kettle that is not in this campaign. Choose one that is.',
      'kettles.0.kettle_id | Kettles, row 1: kettle id points to a kettle that is not in this campaign. Choose one that is.',
      'bypass.water_id | Bypass: water id points to a water that is not in this campaign. Choose one that is.',
      'grind.1.setting_id | Grind, row 2: setting id points to a grinder setting that is not in this campaign. Choose one that is.',
    ]);
  });
});

describe('an object that pretends to have a length', () => {
  it('is an object, and nothing is said of its length', () => {
    expect(said('plan', [['pours'], { length: 100 }])).toEqual([
      'pours | Pours is an object; it must be a list.',
    ]);
  });
  it('does not bring the check down, though plain JSON can hold it', () => {
    const pours: unknown = JSON.parse('{ "length": { "toString": 0 } }');
    expect(said('plan', [['pours'], pours])).toEqual([
      ' | The document could not be checked: somewhere in it stands an object where a list or a text belongs.',
    ]);
  });
});
