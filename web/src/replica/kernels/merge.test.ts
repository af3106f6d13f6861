import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sameJson } from './equal.ts';
import { defaultSide, differences, mergeByField, mergeOver, ORDER } from './merge.ts';

const plan = {
  name: 'Four pours',
  dose_g: 14,
  rinse: { water_g: 100, temperature_C: 95 },
  pours: [
    { id: 'a', start_s: 0, water_g: 50 },
    { id: 'b', start_s: 30, water_g: 50 },
    { id: 'c', start_s: 60, water_g: 50 },
  ],
  grind: [{ share: 1 }],
};
const withPour = (id: string, change: object) => ({
  ...plan,
  pours: plan.pours.map((pour) => (pour.id === id ? { ...pour, ...change } : pour)),
});

describe('differences', () => {
  it('finds nothing between equal states, whatever the base', () => {
    expect(differences({ name: 'other' }, plan, structuredClone(plan))).toEqual([]);
  });

  it('names the side that changed a field', () => {
    expect(differences(plan, { ...plan, dose_g: 15 }, plan)).toEqual([
      { path: ['dose_g'], base: 14, mine: 15, theirs: 14, changed: 'mine' },
    ]);
    expect(differences(plan, plan, { ...plan, dose_g: 15 })[0]?.changed).toBe('theirs');
    expect(differences(plan, { ...plan, dose_g: 13 }, { ...plan, dose_g: 15 })[0]?.changed).toBe('both');
  });

  it('compares rows by their id, not by their place', () => {
    const mine = { ...plan, pours: plan.pours.slice(1) };
    const theirs = withPour('c', { water_g: 60 });
    expect(differences(plan, mine, theirs).map((d) => [d.path.join('/'), d.changed])).toEqual([
      ['pours/a', 'mine'],
      ['pours/c/water_g', 'theirs'],
    ]);
  });

  it('takes a list without ids as one value', () => {
    const mine = { ...plan, grind: [{ share: 0.5 }, { share: 0.5 }] };
    expect(differences(plan, mine, plan).map((d) => d.path)).toEqual([['grind']]);
  });

  it('tells a changed order apart from changed rows', () => {
    const mine = { ...plan, pours: [plan.pours[1], plan.pours[0], plan.pours[2]] };
    expect(differences(plan, mine, plan)).toEqual([
      {
        path: ['pours', ORDER],
        base: ['a', 'b', 'c'],
        mine: ['b', 'a', 'c'],
        theirs: ['a', 'b', 'c'],
        changed: 'mine',
      },
    ]);
  });

  it('treats a part that became null as one difference', () => {
    expect(differences(plan, { ...plan, rinse: null }, plan).map((d) => d.path)).toEqual([['rinse']]);
  });
});

describe('mergeByField', () => {
  it('keeps both sides where they changed different fields', () => {
    const mine = withPour('a', { water_g: 45 });
    const theirs = { ...withPour('c', { start_s: 65 }), name: 'Four pours, later' };
    expect(mergeOver(plan, mine, theirs)).toEqual({
      ...theirs,
      pours: [{ id: 'a', start_s: 0, water_g: 45 }, plan.pours[1], { id: 'c', start_s: 65, water_g: 50 }],
    });
  });

  it('puts a row that only one side added where that side had it', () => {
    const added = { id: 'x', start_s: 15, water_g: 5 };
    const mine = { ...plan, pours: [plan.pours[0], added, plan.pours[1], plan.pours[2]] };
    const theirs = withPour('c', { water_g: 60 });
    expect((mergeOver(plan, mine, theirs) as typeof plan).pours.map((pour) => pour.id)).toEqual([
      'a',
      'x',
      'b',
      'c',
    ]);
  });

  it('removes a row that one side removed', () => {
    const mine = { ...plan, pours: plan.pours.slice(0, 2) };
    const theirs = withPour('a', { water_g: 60 });
    expect(mergeOver(plan, mine, theirs)).toEqual({ ...theirs, pours: theirs.pours.slice(0, 2) });
  });

  it('takes over a changed order without losing the rows of the other side', () => {
    const mine = { ...plan, pours: [plan.pours[2], plan.pours[1], plan.pours[0]] };
    const theirs = { ...plan, pours: [...plan.pours, { id: 'd', start_s: 90, water_g: 50 }] };
    const merged = mergeOver(plan, mine, theirs) as typeof plan;
    expect(merged.pours.map((pour) => pour.id)).toEqual(['c', 'b', 'a', 'd']);
  });

  it('asks for every difference and obeys', () => {
    const mine = { ...plan, name: 'Mine', dose_g: 13 };
    const theirs = { ...plan, name: 'Theirs', dose_g: 15 };
    expect(mergeByField(plan, mine, theirs, (d) => (d.path[0] === 'name' ? 'mine' : 'theirs'))).toEqual({
      ...plan,
      name: 'Mine',
      dose_g: 15,
    });
  });
});

const row = fc.record({ id: fc.constantFrom('a', 'b', 'c', 'd', 'e'), n: fc.integer({ min: 0, max: 3 }) });
const doc = fc.record({
  name: fc.constantFrom('x', 'y', 'z'),
  part: fc.option(fc.record({ n: fc.integer({ min: 0, max: 2 }) })),
  rows: fc.uniqueArray(row, { selector: (r) => r.id, maxLength: 5 }),
  plain: fc.array(fc.integer({ min: 0, max: 2 }), { maxLength: 3 }),
});

describe('merging any three states', () => {
  it('gives mine when every choice is mine, and theirs when every choice is theirs', () => {
    fc.assert(
      fc.property(doc, doc, doc, (base, mine, theirs) => {
        expect(mergeByField(base, mine, theirs, () => 'theirs')).toEqual(theirs);
        const merged = mergeByField(base, mine, theirs, () => 'mine') as typeof mine;
        const byId = (rows: typeof mine.rows) => [...rows].sort((a, b) => a.id.localeCompare(b.id));
        expect({ ...merged, rows: byId(merged.rows) }).toEqual({ ...mine, rows: byId(mine.rows) });
      }),
      { numRuns: 500 },
    );
  });

  it('changes nothing where only one side moved', () => {
    fc.assert(
      fc.property(doc, doc, (base, other) => {
        expect(mergeOver(base, base, other)).toEqual(other);
        const back = mergeOver(base, other, base) as typeof other;
        expect(sameJson({ ...back, rows: 0 }, { ...other, rows: 0 })).toBe(true);
        expect(new Set(back.rows.map((r) => JSON.stringify(r)))).toEqual(
          new Set(other.rows.map((r) => JSON.stringify(r))),
        );
      }),
      { numRuns: 500 },
    );
  });

  it('leaves the default to a person only where both sides changed a field', () => {
    fc.assert(
      fc.property(doc, doc, doc, (base, mine, theirs) => {
        for (const difference of differences(base, mine, theirs))
          if (difference.changed !== 'both')
            expect(defaultSide(difference, 'mine')).toBe(defaultSide(difference, 'theirs'));
          else expect(sameJson(difference.mine, difference.theirs)).toBe(false);
      }),
    );
  });
});
