import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import orders from '../../../reference/serving-orders/designs.json' with { type: 'json' };
import { PROTOCOL_NAMES, PROTOCOLS } from './protocols.ts';
import { chanceFrom } from './random.ts';
import { checkBalance, partialOrders, servingOrders, williams } from './serving-order.ts';
import { blinded, pauses, planCups, planDifference, pourSheet, threeDigitCodes } from './serving-plan.ts';

const read = (text: string) => text.split(' ').map((row) => [...row].map((v) => Number(v) - 1));

describe('Williams designs', () => {
  it.each(Object.entries(orders.designs))(
    'n = %s; MRC CBU StatsWiki for 6 and 7, else computed',
    (n, text) => {
      expect(williams(Number(n))).toEqual(read(text));
    },
  );
  it.each([2, 3, 4, 5, 6, 7, 8, 11, 12])(
    'n = %i: once a row, even in place, every neighbour once or twice',
    (n) => {
      const { balanced, neighbours, places } = checkBalance(williams(n));
      expect(balanced).toBe(true);
      const often = n % 2 === 0 ? 1 : 2;
      expect(places.flat()).toEqual(new Array(n * n).fill(often));
      neighbours.forEach((row, a) => {
        row.forEach((times, b) => {
          expect(times).toBe(a === b ? 0 : often);
        });
      });
    },
  );
});

describe('what is not balanced is refused', () => {
  it('the Latin square ABCD BADC CDAB DCBA: A before B twice, A before C never', () => {
    const { balanced, faults, places, neighbours } = checkBalance(read(orders.latin));
    expect(places.flat()).toEqual(new Array(16).fill(1));
    expect(neighbours[0]![1]).toBe(2);
    expect(neighbours[0]![2]).toBe(0);
    expect(balanced).toBe(false);
    expect(faults).toContainEqual({ code: 'neighbours_uneven', before: 0, after: 1, times: 2, fewest: 0 });
    expect(checkBalance(read(orders.latin), 1).balanced).toBe(false);
  });
  it('a cyclic square, whose neighbours are always the same', () => {
    expect(checkBalance(read('1234 2341 3412 4123')).balanced).toBe(false);
  });
  it('a row with a cup twice, a row too short, a place never taken', () => {
    expect(checkBalance(read('112 231')).faults).toContainEqual({ code: 'not_each_once', row: 0 });
    expect(checkBalance(read('123 12')).faults).toContainEqual({ code: 'not_each_once', row: 1 });
    expect(checkBalance(read('12 12')).faults.map((f) => f.code)).toContain('places_uneven');
  });
});

describe('orders for any panel', () => {
  it('every taster gets every cup once; neighbours stay within 1 of each other where that is possible', () => {
    for (const [tasters, cups] of [
      [4, 4],
      [5, 4],
      [7, 4],
      [7, 5],
      [8, 6],
      [3, 6],
      [9, 7],
    ] as const) {
      const rows = servingOrders(tasters, cups, chanceFrom(tasters * 10 + cups));
      expect(rows).toHaveLength(tasters);
      const { faults } = checkBalance(rows, 1);
      expect(faults.filter((f) => f.code !== 'places_uneven')).toEqual([]);
    }
  });
  it('the same seed gives the same orders, another seed others', () => {
    const at = (seed: number) => servingOrders(6, 5, chanceFrom(seed));
    expect(at(3)).toEqual(at(3));
    expect(at(3)).not.toEqual(at(4));
  });
  it('partial orders: cups equally often within one, none twice for one taster', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 9 }),
        fc.integer({ min: 2, max: 9 }),
        fc.nat(),
        (tasters, cups, seed) => {
          const each = Math.max(1, Math.floor(cups / 2));
          const rows = partialOrders(tasters, cups, each, chanceFrom(seed));
          const served = Array.from({ length: cups }, (_, c) => rows.filter((row) => row.includes(c)).length);
          expect(rows.every((row) => new Set(row).size === each)).toBe(true);
          expect(Math.max(...served) - Math.min(...served)).toBeLessThanOrEqual(1);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('codes and plans', () => {
  it('codes are three digits, all different, without hints', () => {
    const codes = threeDigitCodes(300, chanceFrom(9))!;
    expect(new Set(codes).size).toBe(300);
    for (const code of codes) {
      expect(code).toMatch(/^[1-9]\d\d$/);
      expect(new Set(code).size).toBe(3);
      expect([
        '123',
        '234',
        '345',
        '456',
        '567',
        '678',
        '789',
        '987',
        '876',
        '765',
        '654',
        '543',
        '432',
        '321',
        '210',
      ]).not.toContain(code);
    }
    expect(threeDigitCodes(5000, chanceFrom(9))).toBeNull();
  });
  it.each(PROTOCOL_NAMES)('%s: orders equally often, the answer is right, no code twice', (protocol) => {
    const { orders: allowed, served } = PROTOCOLS[protocol];
    const sets = planDifference(protocol, 6, allowed.length, 42)!;
    expect(sets).toHaveLength(6 * allowed.length);
    expect(new Set(sets.flatMap((s) => s.cups.map((c) => c.code))).size).toBe(sets.length * served);
    const patterns = new Map<string, number>();
    for (const { cups, answer } of sets) {
      const samples = cups.map((c) => c.sample);
      patterns.set(samples.join(''), (patterns.get(samples.join('')) ?? 0) + 1);
      if (protocol === 'triangle' || protocol === 'three_afc')
        expect(samples.filter((s) => s === samples[answer!])).toHaveLength(1);
      if (protocol === 'duo_trio' || protocol === 'tetrad') {
        expect(answer).toBeGreaterThan(0);
        expect(samples[answer!]).toBe(samples[0]);
      }
    }
    expect(patterns.size).toBe(allowed.length);
    expect(new Set(patterns.values())).toEqual(new Set([6]));
  });
  it('which sample is which is not tied to its number', () => {
    const first = new Set(
      [1, 2, 3, 4, 5, 6, 7, 8].map(
        (seed) => planDifference('three_afc', 1, 1, seed)![0]!.cups.filter((c) => c.sample === 0).length,
      ),
    );
    expect(first).toEqual(new Set([1, 2]));
  });
  it('hidden repeats have codes of their own; a taster sees codes only; the pour sheet has every cup once', () => {
    const sets = planCups({ samples: 3, tasters: 4, hidden_repeats: [1], seed: 7 })!;
    for (const { cups } of sets) expect(cups.map((c) => c.sample).sort()).toEqual([0, 1, 1, 2]);
    expect(JSON.stringify(sets.map(blinded))).not.toMatch(/sample|answer/);
    const sheet = pourSheet(sets);
    expect(sheet.map((line) => [line.sample, line.cups.length])).toEqual([
      [0, 4],
      [1, 8],
      [2, 4],
    ]);
    expect(new Set(sheet.flatMap((l) => l.cups.map((c) => c.code))).size).toBe(16);
  });
  it('pauses: rinse after each cup, a break after six, nothing after the last', () => {
    const found = pauses(8);
    expect(found).toHaveLength(7);
    expect(found.filter((p) => p.kind === 'break').map((p) => p.after_cups)).toEqual([6]);
  });
});
