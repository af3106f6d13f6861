import { describe, expect, it } from 'vitest';
import examples from '../../../reference/sensr-examples/examples.json' with { type: 'json' };
import { aNotA } from './a-not-a.ts';
import { fisherAtLeast, fisherTwoSided } from './fisher.ts';
import type { Protocol } from './protocols.ts';
import { replicatedTest } from './replicated.ts';
import { sameDifferent } from './same-different.ts';
import { twoAc } from './two-ac.ts';

const printed = (found: number | null, expected: number | undefined, decimals: number) => {
  if (expected !== undefined)
    expect(Math.abs(found! - expected)).toBeLessThanOrEqual(0.5001 * 10 ** -decimals);
};

describe('A–not-A; sensR printed examples', () => {
  it.each(examples.a_not_a)(
    '$hits of $of_a against $false_alarms',
    ({ d, se, p, wald, profile, ...answers }) => {
      const found = aNotA(answers);
      printed(found.d_prime, d, 6);
      // Printed to seven decimals, but their fit of the error stops at the sixth.
      printed(found.se, se, 6);
      printed(found.p, p, 7);
      printed(found.wald.low, wald?.[0], 4);
      printed(found.wald.high, wald?.[1], 4);
      printed(found.profile.low, profile?.[0], 4);
      printed(found.profile.high, profile?.[1], 4);
      expect(found.adjusted).toBe(false);
    },
  );
  it('a share of 0 or 1 is flagged and stays finite', () => {
    const found = aNotA({ hits: 12, of_a: 12, false_alarms: 0, of_other: 12 });
    expect(found.adjusted).toBe(true);
    expect(found.d_prime).toBeGreaterThan(3);
    expect(found.profile.low).toBeLessThan(found.d_prime);
    expect(found.profile.high).toBeLessThan(Number.POSITIVE_INFINITY);
  });
  it('Fisher by hand: 3 of 3 against 0 of 3 is 1 in 20', () => {
    expect(fisherAtLeast(3, 3, 0, 3)).toBeCloseTo(1 / 20, 12);
    expect(fisherTwoSided(3, 3, 0, 3)).toBeCloseTo(2 / 20, 12);
    expect(fisherAtLeast(0, 3, 3, 3)).toBeCloseTo(1, 12);
  });
});

describe('2-AC and same–different; sensR printed examples', () => {
  it('2-AC (2, 2, 6)', () => {
    const { first, none, second, ...of } = examples.two_ac;
    const found = twoAc({ prefers_first: first, no_difference: none, prefers_second: second });
    printed(found.border, of.border, 4);
    printed(found.border_se, of.border_se, 4);
    printed(found.d_prime, of.d, 4);
    printed(found.d_prime_se, of.d_se, 4);
    printed(found.root, of.root, 6);
    printed(found.p, of.p, 5);
    printed(found.interval.low, of.low, 3);
    printed(found.interval.high, of.high, 3);
  });
  it('one-sided and undecided answers have no border but an honest interval', () => {
    const one = twoAc({ prefers_first: 0, no_difference: 2, prefers_second: 6 });
    expect(one.d_prime).toBe(Number.POSITIVE_INFINITY);
    expect(one.border).toBeNull();
    expect(one.interval.low).toBeGreaterThan(0);
    expect(one.sign_p).toBeCloseTo(2 / 64, 12);
    const none = twoAc({ prefers_first: 0, no_difference: 8, prefers_second: 0 });
    expect(none.d_prime).toBe(0);
    expect(none.p).toBeCloseTo(1, 6);
  });
  it('exchanging both cups turns the sign', () => {
    const a = twoAc({ prefers_first: 3, no_difference: 1, prefers_second: 9 });
    const b = twoAc({ prefers_first: 9, no_difference: 1, prefers_second: 3 });
    expect(a.d_prime).toBeCloseTo(-b.d_prime, 10);
    expect(a.interval.low).toBeCloseTo(-b.interval.high, 6);
  });
  it('same–different (8, 5, 4, 9)', () => {
    const [a, b, c, e] = examples.same_different.answers as [number, number, number, number];
    const found = sameDifferent({
      same_of_same: a,
      different_of_same: b,
      same_of_different: c,
      different_of_different: e,
    });
    printed(found.border, examples.same_different.border, 3);
    printed(found.d_prime, examples.same_different.d, 3);
  });
  it('same–different at the edges', () => {
    const all = sameDifferent({
      same_of_same: 6,
      different_of_same: 0,
      same_of_different: 2,
      different_of_different: 4,
    });
    expect(all).toMatchObject({ border: null, d_prime: null });
    const worse = sameDifferent({
      same_of_same: 3,
      different_of_same: 3,
      same_of_different: 5,
      different_of_different: 1,
    });
    expect(worse.d_prime).toBe(0);
  });
});

describe('replicated tests; Brockhoff 2003 as printed by sensR', () => {
  it.each(
    examples.replicated.map((of) => [`${of.protocol} ${of.corrected ? 'corrected' : 'plain'}`, of] as const),
  )('%s', (_, of) => {
    const data = of.correct.map((correct, i) => ({ correct, total: of.totals?.[i] ?? of.total! }));
    const found = replicatedTest(of.protocol as Protocol, data, of.corrected);
    printed(found.mean.value, of.mean, 5);
    printed(found.spread.value, of.spread, 5);
    printed(found.mean.se, of.mean_se, 5);
    printed(found.spread.se, of.spread_se, 5);
    printed(found.correct, of.pc, 5);
    // sensR's d′ is right to about four decimals.
    printed(found.d_prime.value, of.d, 4);
    printed(found.logLikelihood, of.log_likelihood, 4);
    printed(found.alike.gSquared, of.alike, 3);
    printed(found.alike.unhalved_p, of.alike_p, 4);
    printed(found.guessing.gSquared, of.guessing, 4);
  });
  it('tasters who are all alike leave no spread and a whole p', () => {
    const data = Array.from({ length: 12 }, (_, i) => ({ correct: i % 2 === 0 ? 6 : 7, total: 12 }));
    const found = replicatedTest('triangle', data);
    expect(found.spread.value).toBeLessThan(1e-3);
    expect(found.alike.p).toBeGreaterThan(0.4);
    expect(found.correct).toBeCloseTo(6.5 / 12, 3);
  });
});
