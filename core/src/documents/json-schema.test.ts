import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { jsonSchemaOf, KINDS, type Kind } from './registry.ts';
import { type Place, put } from './testing/put.ts';
import { sample, sampleBody } from './testing/samples.ts';

/** An independent reader of JSON Schema. Formats are left to the patterns that stand beside them. */
const reader = () =>
  new Ajv2020({ strict: true, strictTypes: false, allErrors: true, validateFormats: false });

describe.each(KINDS)('the JSON Schema of a %s', (kind) => {
  const schema = jsonSchemaOf(kind);
  it('is written in draft 2020-12, and rightly so', () => {
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    const ajv = reader();
    expect(ajv.validateSchema(schema), ajv.errorsText()).toBe(true);
  });
  it('accepts a document written by hand and one with every default filled in', () => {
    const ajv = reader();
    const validate = ajv.compile(schema);
    expect(validate(sampleBody(kind)), ajv.errorsText(validate.errors)).toBe(true);
    expect(validate(JSON.parse(JSON.stringify(sample(kind)))), ajv.errorsText(validate.errors)).toBe(true);
  });
  it('refuses a stray field, a missing name and another kind', () => {
    const validate = reader().compile(schema);
    expect(validate({ ...sampleBody(kind), flavor: 1 })).toBe(false);
    const { name: _, ...nameless } = sampleBody(kind);
    expect(validate(nameless)).toBe(false);
    expect(validate({ ...sampleBody(kind), kind: 'recipe' })).toBe(false);
  });
  it('survives a trip through JSON', () => {
    expect(JSON.parse(JSON.stringify(schema))).toEqual(schema);
  });
});

describe('the JSON Schema', () => {
  const cases: readonly (readonly [Kind, Place, unknown])[] = [
    ['plan', ['dose_g'], 0],
    ['plan', ['pours'], []],
    ['plan', ['pours', 0, 'rate', 'by'], 'feel'],
    ['plan', ['pours', 1, 'start_s'], -1],
    ['plan', ['id'], 'four pours'],
    ['grinder', ['settings', 0, 'distribution', 'by'], 'sieves'],
    ['setup', ['dripper', 'material'], 'wood'],
    ['coffee', ['roasted_on'], '2027-02-30'],
    ['trial', ['traces', 0, 'attachment'], 'AB'],
    ['water', ['calcium_mg_L'], '8'],
  ];
  it.each(cases)('of a %s refuses %j = %j, as the check does', (kind, place, value) => {
    const body = sampleBody(kind);
    put(body, place, value);
    expect(reader().compile(jsonSchemaOf(kind))(body)).toBe(false);
  });
});
