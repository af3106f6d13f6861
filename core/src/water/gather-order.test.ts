import { describe, expect, it } from 'vitest';
import { checkDocument } from '../documents/registry.ts';
import { sample, sampleBody } from '../documents/testing/samples.ts';
import { gatherOrder, readPlainOrder } from './gather-order.ts';
import { makingSteps } from './making-steps.ts';
import { solveWaters } from './solve-waters.ts';

const documents = [sample('water'), sample('salt'), sample('concentrate'), sample('mix')];
const lookup = (id: string) => documents.find((d) => d.id === id);

describe('a mix and what it points to', () => {
  it('becomes an order that can be solved', () => {
    const order = gatherOrder(sample('mix'), lookup);
    if (!order.ok) throw new Error(order.problems.map((p) => p.sentence).join('\n'));
    expect(order.value.jars[0]!.assay_pct).toEqual([98, 102]);
    expect(order.value.concentrates[0]!.per_kg.potassium).toBeCloseTo((10 / 100.1143) * 2, 3);
    expect(order.value.concentrates[0]!.amount_g).toBe(310);
    const solved = solveWaters(order.value);
    expect(solved.sheets.map(({ water_id }) => water_id)).toEqual(['a', 'b']);
    expect(solved.composite?.poured_g).toBe(200);
  });
  it('says which reference leads nowhere', () => {
    const order = gatherOrder(sample('mix'), (id) => (id === documents[1]!.id ? undefined : lookup(id)));
    expect(order.ok || order.problems.map((p) => p.sentence)).toEqual([
      'Salt ids, row 1 points to a salt that is not in this campaign. Choose one that is.',
    ]);
  });
  it('refuses an assay turned round', () => {
    const checked = checkDocument({ ...sampleBody('salt'), assay_low_pct: 102, assay_high_pct: 99 });
    expect(checked.ok || checked.problems[0]!.sentence).toBe(
      'Assay high is 99 %; it must be at least 102 %.',
    );
  });
});

describe('an order written by hand', () => {
  const plain = {
    waters: [
      {
        name: 'A',
        batch_g: 2000,
        targets: [
          { of: 'hardness', aim: 60 },
          { of: 'alkalinity', aim: 30 },
        ],
      },
    ],
    salts: [
      { salt: 'magnesium_sulfate', hydrate: 7 },
      { salt: 'sodium_bicarbonate', hydrate: 0 },
    ],
  };
  it('is read, solved, and told step by step: hardness first, alkalinity last, then the meter', () => {
    const order = readPlainOrder(plain);
    if (!order.ok) throw new Error(order.problems.map((p) => p.sentence).join('\n'));
    const solved = solveWaters(order.value);
    const steps = makingSteps({ ...order.value, bases: order.value.bases }, solved.sheets[0]!);
    expect(steps.map(({ code }) => code)).toEqual([
      'check',
      'most_of_main',
      'add_hardness',
      'add_buffer',
      'fill',
      'measure',
      'label',
    ]);
    expect(steps[2]!.sentence).toMatch(/^Add 0\.\d\d g of magnesium sulfate, 7 H2O and mix\.$/);
    for (const { sentence } of steps) expect(sentence).not.toMatch(/undefined|NaN|\{/);
  });
  it('has every problem named with its place', () => {
    const order = readPlainOrder({
      ...plain,
      waters: [{ name: 'A', batch_g: 0, targets: [{ of: 'taste', aim: 1 }] }],
      salts: [{ salt: 'sugar', hydrate: 7 }],
    });
    expect(order.ok || order.problems.map((p) => p.path.join('.'))).toEqual([
      'waters.0.batch_g',
      'waters.0.targets.0.of',
      'salts.0.salt',
    ]);
  });
});
