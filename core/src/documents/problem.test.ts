import { describe, expect, it } from 'vitest';
import { fieldName, problem, shown, unitOf } from './problem.ts';
import { families } from './registry.ts';
import { problemSentences, sentenceOf } from './sentences.ts';

describe('the unit in a field name', () => {
  it.each([
    ['dose_g', 'g'],
    ['start_s', 's'],
    ['flow_g_s', 'g/s'],
    ['kettle_temperature_C', '°C'],
    ['calcium_mg_L', 'mg/L'],
    ['co2_at_roast_mg_g', 'mg/g'],
    ['capacity_mL', 'mL'],
    ['loss_W_K', 'W/K'],
    ['mains_V', 'V'],
    ['altitude_m', 'm'],
    ['resistance_per_m', '1/m'],
    ['median_um', 'µm'],
    ['share', ''],
    ['notes', ''],
  ])('%s is in %s', (field, unit) => expect(unitOf(field)).toBe(unit));
});

describe('a path in words', () => {
  it.each([
    [[], 'the document'],
    [['dose_g'], 'dose'],
    [['pours', 2, 'water_g'], 'pours, row 3: water'],
    [['documents', 0, 'pours', 1, 'rate', 'flow_g_s'], 'documents, row 1: pours, row 2: rate: flow'],
  ])('%j', (path, words) => expect(fieldName(path)).toBe(words));
});

describe('a value as it is shown', () => {
  it.each([
    [undefined, 'missing'],
    [null, 'null'],
    ['', 'empty'],
    ['two\nlines', '"two\\nlines"'],
    ['x'.repeat(61), `"${'x'.repeat(57)}…"`],
    [`${'x'.repeat(56)}😀${'y'.repeat(9)}`, `"${'x'.repeat(56)}…"`],
    [[], 'an empty list'],
    [[1, 2], 'a list of 2'],
    [{}, 'an object'],
    [Object.create(null), 'an object'],
    [10n, '10'],
    [Symbol('x'), 'a symbol'],
    [-0.5, '-0.5'],
  ])('%# is short and on one line', (value, text) => expect(shown(value)).toBe(text));
});

describe('sentences', () => {
  it('start with a capital, end with a stop and leave nothing unfilled', () => {
    for (const [code, template] of Object.entries(problemSentences)) {
      const names = [...template.matchAll(/\{(\w+)\}/g)].map(([, name]) => name!);
      const values = Object.fromEntries(names.map((name) => [name, `some ${name}`]));
      const sentence = sentenceOf(code, values);
      expect(sentence).toMatch(/^[A-Z].*\.$/);
      expect(sentence).not.toMatch(/[{}]/);
    }
  });
  it('are never empty, even for a code that nobody wrote down', () => {
    expect(problem(['dose_g'], 'unheard_of', { value: '3 g' }).sentence).toBe(
      'Dose is 3 g, which is not valid here.',
    );
  });
});

describe('every numeric field of every document', () => {
  it('has a unit in its name or is a bare number by nature', () => {
    // A target's figures have the unit of what it is of; a meter's step, factor and reading that of its display.
    const target = ['aim', 'low', 'high', 'weight'];
    // A dial is read in its own marks; a grain may stand for several.
    const grains = ['dial', 'touch_dial', 'aspect', 'weight'];
    // Marks have no unit but that of their own scale.
    const marks = ['min', 'max', 'points', 'cap_points', 'divide_by', 'by', 'sd'];
    const bare = new Set([
      'version',
      'share',
      'gsd',
      'hydrate',
      'factor',
      'step',
      'meter_shows',
      'per_K',
      ...target,
      ...grains,
      ...marks,
      // A tasting: level of a test, size of a difference, a score on a scale of one's own.
      'alpha',
      'wanted_d_prime',
      'score',
      // A trial: a mark for a cup, what a refractometer shows, a course whose kind names its unit.
      'liking',
      'brix',
      'value',
      // A bound value's spread has the unit of the value.
      'spread',
      // A serial port.
      'data_bits',
      'stop_bits',
      // A description: marks of a judge, and steps of a list of answers.
      'exact',
      'one_step',
      'further',
      'found',
      'near',
      'missed',
      'steps',
    ]);
    const found: string[] = [];
    const walk = (node: unknown, name: string): void => {
      if (typeof node !== 'object' || node === null) return;
      const type = Reflect.get(node, 'type');
      if (type === 'number' && unitOf(name) === '' && !bare.has(name)) found.push(name);
      for (const [key, value] of Object.entries(node)) {
        const isMap = key === 'properties' && typeof value === 'object' && value !== null;
        if (isMap) for (const [field, inner] of Object.entries(value)) walk(inner, field);
        else walk(value, name);
      }
    };
    for (const { schema } of Object.values(families)) walk(schema.toJSONSchema({ io: 'input' }), '');
    expect(found).toEqual([]);
  });
});
