import {
  checkKind,
  compositionOf,
  type Ions,
  type Plan,
  pureWater,
  type Quantity,
  type Water,
  type WaterRemark,
} from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { digitsFor, percentText, plainText, spreadText } from './figures.ts';
import { printed } from './formula.ts';
import { layoutIons, scaleFor, sharedScale } from './ion-layout.ts';
import { firstOrder, knownForms, newWanted } from './new-order.ts';
import {
  brewParts,
  brewWater,
  firstWaters,
  pouredOf,
  pourWaterKey,
  readPourWater,
  savedAs,
} from './pour-waters.ts';
import { placeRemarks, remarksElsewhere } from './remark-places.ts';
import { savedIons } from './saved-ions.ts';
import { readKept } from './use-kept.ts';

const uuid = (n: number): string => `018f0000-0000-7000-8000-${String(n).padStart(12, '0')}`;

/** The 75 mg/kg water of the notes on waters: 0.2 mmol Ca, 0.15 mmol Mg, 0.35 mmol KHCO3. */
const WATER_75: Ions = {
  calcium_mg_L: 8.02,
  magnesium_mg_L: 3.65,
  sodium_mg_L: 0,
  potassium_mg_L: 13.68,
  bicarbonate_mg_L: 21.36,
  chloride_mg_L: 14.18,
  sulfate_mg_L: 14.41,
  nitrate_mg_L: 0,
};
const water = (n: number, name: string, ions: Partial<Ions> = {}): Water => {
  const checked = checkKind('water', {
    kind: 'water',
    version: 1,
    id: uuid(n),
    campaign_id: uuid(1),
    name,
    ...ions,
  });
  if (!checked.ok) throw new Error(checked.problems[0]!.sentence);
  return checked.value;
};

describe('charges end to end', () => {
  const layout = layoutIons(WATER_75);

  it('reach equally far on both sides in a water that balances', () => {
    expect(layout.positive).toBeCloseTo(1.05, 2);
    expect(layout.negative / layout.positive).toBeCloseTo(1, 3);
    expect(layout.hardness).toBeCloseTo(0.7, 2);
    expect(layout.alkalinity).toBeCloseTo(0.35, 2);
    expect(layout.temporary).toBe(layout.alkalinity);
  });

  it('leave out what is absent and let each segment start where the one before ends', () => {
    expect(layout.cations.map(({ field }) => field)).toEqual([
      'calcium_mg_L',
      'magnesium_mg_L',
      'potassium_mg_L',
    ]);
    for (const row of [layout.cations, layout.anions])
      row.slice(1).forEach((segment, i) => {
        expect(segment.from).toBeCloseTo(row[i]!.from + row[i]!.length, 12);
      });
  });

  it('show a gap as a difference of the ends', () => {
    const lacking = layoutIons({ ...WATER_75, sulfate_mg_L: 0 });
    expect(lacking.positive - lacking.negative).toBeCloseTo(0.3, 2);
  });

  it('stand on one scale with those of other waters', () => {
    expect(scaleFor(0)).toBe(0.1);
    expect(scaleFor(1.05)).toBe(1.5);
    expect(scaleFor(2)).toBe(2);
    expect(scaleFor(9.1)).toBe(10);
    expect(sharedScale([layout, layoutIons({ ...WATER_75, calcium_mg_L: 60 })])).toBe(4);
  });
});

describe('figures', () => {
  it('show two significant figures of their spread', () => {
    expect(spreadText({ value: 89.63, low: 87.5, high: 91.7 })).toBe('89.6 ± 2.1');
    expect(spreadText({ value: 154.2, low: 140, high: 168 })).toBe('154 ± 14');
    expect(spreadText({ value: 7.7402, low: 7.56, high: 7.92 })).toBe('7.74 ± 0.18');
    expect(digitsFor(0.004)).toBe(3);
  });

  it('stand alone without one worth showing', () => {
    expect(spreadText({ value: 40, low: 40, high: 40 })).toBe('40.0');
    expect(spreadText(undefined)).toBe('–');
    expect(plainText(0)).toBe('0');
    expect(percentText(0.0004)).toBe('< 0.1 %');
    expect(percentText(0.236)).toBe('24 %');
  });
});

describe('remarks', () => {
  const remark = (code: string, about: string, quantity?: Quantity): WaterRemark => ({
    level: 'problem',
    code,
    about,
    values: {},
    ...(quantity === undefined ? {} : { terms: { quantity: [quantity] } }),
    sentence: code,
  });

  it('stand beside the target they are about', () => {
    const remarks = [
      remark('nothing_brings', 'a', 'ion_sum'),
      remark('tied', 'a', 'alkalinity'),
      remark('scale_likely', 'a'),
      remark('above_guideline', 'a', 'alkalinity'),
      remark('tied', 'b', 'alkalinity'),
    ];
    const placed = placeRemarks(remarks, 'a', ['alkalinity']);
    expect(placed.byQuantity.get('alkalinity')?.map(({ code }) => code)).toEqual(['tied']);
    expect(placed.rest.map(({ code }) => code)).toEqual([
      'nothing_brings',
      'scale_likely',
      'above_guideline',
    ]);
  });

  it('about the shelf are not about a water', () => {
    const remarks = [remark('no_base', ''), remark('jar_caustic', 'jar-1'), remark('tied', 'a')];
    expect(remarksElsewhere(remarks, ['a']).map(({ code }) => code)).toEqual(['no_base', 'jar_caustic']);
  });
});

describe('a first order', () => {
  const shelf = [water(3, 'Tap', { calcium_mg_L: 60, bicarbonate_mg_L: 180 }), water(4, 'Purified')];

  it('passes the schema and starts from the purest water', () => {
    const body = firstOrder('Waters', 'Water', { waters: shelf, salts: [{ id: uuid(5) }], concentrates: [] });
    const checked = checkKind('mix', {
      kind: 'mix',
      version: 1,
      id: uuid(9),
      campaign_id: uuid(1),
      ...body,
    });
    expect(checked.ok ? [] : checked.problems).toEqual([]);
    expect(body.bases?.map(({ water_id }) => water_id)).toEqual([uuid(4)]);
    expect(body.salt_ids).toEqual([uuid(5)]);
  });

  it('takes no hard water as its start', () => {
    expect(firstOrder('Waters', 'Water', { waters: [shelf[0]!], salts: [], concentrates: [] }).bases).toEqual(
      [],
    );
  });

  it('asks a new water for something', () => {
    expect(newWanted('w', 'Water').targets.length).toBeGreaterThan(0);
  });

  it('offers each salt in every form that is sold', () => {
    const sulfates = knownForms().filter(({ salt }) => salt === 'magnesium_sulfate');
    expect(sulfates.map(({ hydrate }) => hydrate)).toEqual([7, 0, 1, 2.5]);
  });
});

describe('waters of the pours', () => {
  const shelf = [water(3, 'First pour', WATER_75), water(4, 'Purified'), water(5, 'The rest')];
  const pour = (id: string, water_id: string, water_g: number) => ({ id, water_id, water_g });
  const plan = {
    pours: [pour('p1', uuid(3), 50), pour('p2', uuid(4), 70), pour('p3', uuid(3), 80)],
  } as unknown as Plan;
  const ordered = [
    { id: 'a', name: 'First pour' },
    { id: 'b', name: 'Purified' },
  ];

  it('start as the plan has them, and know a water of the order that was saved', () => {
    const first = firstWaters(plan, ordered, shelf, [uuid(4)]);
    expect(first).toEqual({
      p1: { by: 'order', id: 'a' },
      p2: { by: 'shelf', id: uuid(4) },
      p3: { by: 'order', id: 'a' },
    });
    expect(pouredOf(plan, first)).toEqual(new Map([['a', 130]]));
  });

  it('are not saved over a water that the order is made from', () => {
    expect(savedAs('Purified', shelf, [uuid(4)])).toBeUndefined();
    expect(savedAs(' First pour ', shelf, [])?.id).toBe(uuid(3));
  });

  it('make the water of the brew, or nothing while one is not known', () => {
    const chosen = firstWaters(plan, ordered, shelf, [uuid(4)]);
    const by = { ...pureWater(), calcium: 1e-6 };
    const made = {
      composition: compositionOf(WATER_75),
      deviations: [{ cause: 'batch' as const, source: '', by }],
    };
    const parts = brewParts(plan, chosen, () => made, shelf)!;
    expect(parts.map(({ mass }) => mass)).toEqual([130, 70]);
    expect(parts[1]!.composition).toEqual(pureWater());
    const { composition, deviations } = brewWater(parts)!;
    // Ions and their doubts mix by mass: 130 g of 200 g.
    expect(composition.calcium).toBeCloseTo(0.65 * made.composition.calcium, 12);
    expect(deviations.map((d) => d.by.calcium)).toEqual([expect.closeTo(0.65e-6, 15)]);
    expect(brewWater([])).toBeNull();
    expect(brewParts(plan, chosen, () => undefined, shelf)).toBeNull();
  });

  it('keep their key there and back', () => {
    for (const by of ['order', 'shelf'] as const)
      expect(readPourWater(pourWaterKey({ by, id: 'water 1' }))).toEqual({ by, id: 'water 1' });
  });
});

describe('what is saved of a water', () => {
  it('gives the same water back to less than can be weighed', () => {
    const there = savedIons(compositionOf(WATER_75));
    expect(there).toEqual(WATER_75);
  });

  it('has no binary dust below nothing', () => {
    expect(savedIons({ ...pureWater(), chloride: -1e-18 }).chloride_mg_L).toBe(0);
  });
});

describe('settings kept in the browser', () => {
  const usual = { a: 1, b: 'x', c: null as number | null };

  it('come back, and what no longer fits is left as usual', () => {
    expect(readKept('{"a":2,"b":3,"c":4,"d":5}', usual)).toEqual({ a: 2, b: 'x', c: 4 });
    expect(readKept('not json', usual)).toEqual(usual);
    expect(readKept(null, usual)).toEqual(usual);
    expect(readKept('null', usual)).toEqual(usual);
  });
});

describe('a formula in print', () => {
  it.each([
    ['MgSO4·7H2O', 'MgSO₄·7H₂O'],
    ['Ca(OH)2', 'Ca(OH)₂'],
    ['K2CO3·1.5H2O', 'K₂CO₃·1.5H₂O'],
    ['NaCl', 'NaCl'],
  ])('sets the atoms of %s below the line and its water on it', (plain, set) => {
    expect(printed(plain)).toBe(set);
  });
});
