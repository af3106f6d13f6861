import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gramBudget, gramOrder } from './gram-budget.ts';
import { PLAIN_STAGE } from './plain.ts';

describe('the gram budget', () => {
  const order = (more: object = {}) =>
    gramOrder.parse({
      green_g: 2000,
      loss_pct: 14,
      uses: [
        // Three doses of 16.5 g, one spare and 6 g of purge for a performance.
        { name: 'stage', times: 2, each_g: 4 * 16.5 + 6, batch: 'third' },
        { name: 'venue', times: 2 * 6, each_g: 17.5 },
        { name: 'rehearsals', times: 8, each_g: 55.5 },
        { name: 'panel', times: 6, each_g: 52.5 },
      ],
      search_brew_g: 17.5,
      ...more,
    });

  it('has 607 g or 34 brews left of 2 kg green, and 30 with one round more', () => {
    const budget = gramBudget(order());
    expect(budget.roasted_g).toBeCloseTo(1720, 9);
    expect(budget.reserved.map(({ grams }) => grams)).toEqual([144, 210, 444, 315]);
    expect(budget.reserved_g).toBeCloseTo(1113, 9);
    expect(budget.left_g).toBeCloseTo(607, 9);
    expect(budget.search_brews).toBe(34);
    const uses = [...order().uses, { name: 'one round more', times: 1, each_g: 72 }];
    expect(gramBudget(order({ uses })).search_brews).toBe(30);
  });

  it('keeps the stage to the third batch, and says when that one is too small', () => {
    const batches = (third: number) =>
      ['first', 'second', 'third'].map((name, i) => ({
        name,
        green_g: i === 2 ? third : (2000 - third) / 2,
      }));
    const good = gramBudget(order({ batches: batches(600) }));
    expect(good.batches[2]).toMatchObject({ reserved_g: 144, left_g: expect.closeTo(372, 9) });
    const bad = gramBudget(order({ batches: batches(100) }));
    expect(bad.remarks.map(({ sentence }) => sentence)).toContain(
      'Batch "third" is 58 g short of what is meant for it.',
    );
  });

  it('says what is missing when there is too little', () => {
    const { remarks, search_brews } = gramBudget(order({ green_g: 1000 }));
    expect(search_brews).toBe(0);
    expect(remarks[0]!.sentence).toBe(
      '253 g are missing. Do less of: rehearsals; or roast 295 g more green.',
    );
  });
});

describe('questions typed by hand', () => {
  const names = Object.keys(PLAIN_STAGE);

  it.each(names)('%s answers its own example in whole sentences', (name) => {
    const { answer, example } = PLAIN_STAGE[name]!;
    const found = answer(example);
    if (!found.ok) throw new Error(JSON.stringify(found.problems));
    for (const { sentence } of found.value.remarks) {
      expect(sentence).toMatch(/[.!]( |$)/);
      expect(sentence).not.toMatch(/[{}]|undefined|NaN|Infinity/);
    }
    expect(JSON.stringify(found.value)).not.toContain('null,null,null,null');
  });

  it.each(names)('%s answers anything at all with problems, and never throws', (name) => {
    fc.assert(
      fc.property(fc.jsonValue(), (input) => {
        const found = PLAIN_STAGE[name]!.answer(input);
        if (!found.ok)
          for (const { sentence } of found.problems) expect(sentence).not.toMatch(/undefined|\[object/);
      }),
      { numRuns: 60, seed: 5 },
    );
  });

  it('names the field that is wrong and what would be right', () => {
    const wrong = PLAIN_STAGE.schedule!.answer({
      ...(PLAIN_STAGE.schedule!.example as object),
      flow_g_s: 0,
      brewers: 40,
    });
    expect(wrong.ok ? [] : wrong.problems.map(({ sentence }) => sentence)).toEqual([
      'Brewers is 40; it must be at most 24.',
      'Flow is 0 g/s; it must be at least 0.2 g/s.',
    ]);
  });
});
