import { describe, expect, it } from 'vitest';
import tables from '../../../reference/difference-tables/critical-numbers.json' with { type: 'json' };
import examples from '../../../reference/sensr-examples/examples.json' with { type: 'json' };
import psychometric from '../../../reference/sensr-examples/psychometric.json' with { type: 'json' };
import { dPrimeOfLimit, estimateDifference, type IntervalKind, shareInterval } from './d-prime.ts';
import {
  criticalDifference,
  criticalSimilarity,
  differenceP,
  otherTests,
  similarityP,
} from './difference-test.ts';
import { binomialAtLeast } from './distributions.ts';
import { sampleSize, testPower } from './power.ts';
import { PROTOCOL_NAMES, type Protocol } from './protocols.ts';
import { dPrimeFrom, shareCorrect, slopeCorrect } from './psychometric.ts';

/** As many figures as are printed: half a unit of the last place. */
const printed = (found: number | null | undefined, expected: number | undefined, decimals: number) => {
  if (expected !== undefined)
    expect(Math.abs(found! - expected)).toBeLessThanOrEqual(0.5001 * 10 ** -decimals);
};

describe('critical numbers; FAO V7180E12, GOST ISO 10399-2015 table A.1, else computed', () => {
  it.each(tables.minimum_correct)('$n answers', ({ n, tri, duo }) => {
    tables.alphas.forEach((alpha, i) => {
      for (const protocol of ['triangle', 'tetrad', 'three_afc'] as const)
        expect(criticalDifference(protocol, n, alpha), `${protocol} ${alpha}`).toBe(tri[i]);
      for (const protocol of ['duo_trio', 'paired'] as const)
        expect(criticalDifference(protocol, n, alpha), `${protocol} ${alpha}`).toBe(duo[i]);
    });
  });
  it.each(tables.two_sided_pair)('$n pairs, two-sided (computed)', ({ n, least }) => {
    tables.two_sided_alphas.forEach((alpha, i) => {
      expect(criticalDifference('paired', n, alpha, 'two')).toBe(least[i]);
    });
  });
  it.each(tables.triangle_similarity)('$n triangles, similarity (computed)', ({ n, beta_05, beta_10 }) => {
    tables.limits.forEach((pd, i) => {
      expect(criticalSimilarity('triangle', n, pd, 0.05)).toBe(beta_05[i]);
      expect(criticalSimilarity('triangle', n, pd, 0.1)).toBe(beta_10[i]);
    });
  });
  it.each(examples.critical)('$aim, $total: sensR findcr', ({ aim, protocol, total, alpha, pd0, found }) => {
    const p = protocol as Protocol;
    expect(
      aim === 'difference' ? criticalDifference(p, total, alpha) : criticalSimilarity(p, total, pd0!, alpha),
    ).toBe(found);
  });
});

describe('a guessing chance of one quarter', () => {
  it('100 answers: 33 right ones, sensR findcr(100, p0 = 1/4)', () => {
    expect(binomialAtLeast(33, 100, 1 / 4)).toBeLessThanOrEqual(0.05);
    expect(binomialAtLeast(32, 100, 1 / 4)).toBeGreaterThan(0.05);
  });
});

describe('psychometric functions', () => {
  it.each(psychometric.precise)(
    'to 1e-10 at d′ $d, and back; sensR R/links.R at 30 digits',
    ({ d, ...of }) => {
      for (const protocol of PROTOCOL_NAMES) {
        const [share, slope] = of[protocol] as [number, number];
        expect(Math.abs(shareCorrect(d, protocol) - share), protocol).toBeLessThan(1e-13);
        expect(Math.abs(slopeCorrect(d, protocol) - slope), protocol).toBeLessThan(1e-13);
        // What one unit of the last place of a share means for d′ depends on the slope.
        expect(Math.abs(dPrimeFrom(share, protocol) - d), protocol).toBeLessThan(
          Math.max(1e-10, 4e-16 / slope),
        );
      }
    },
  );
  it.each(psychometric.rounded)('the printed six digits at d′ $d', ({ d, ...of }) => {
    for (const protocol of PROTOCOL_NAMES) {
      const [share, slope] = of[protocol] as [number, number];
      printed(shareCorrect(d, protocol), share, 6);
      printed(slopeCorrect(d, protocol), slope, 6);
    }
  });
  it('ends: guessing at 0, certainty far away, no d′ for certainty', () => {
    for (const protocol of PROTOCOL_NAMES) {
      expect(dPrimeFrom(0.2, protocol)).toBe(0);
      expect(dPrimeFrom(1, protocol)).toBe(Number.POSITIVE_INFINITY);
      expect(shareCorrect(25, protocol)).toBe(1);
      expect(slopeCorrect(25, protocol)).toBe(0);
    }
    expect(shareCorrect(0, 'tetrad')).toBeCloseTo(1 / 3, 14);
    expect(shareCorrect(-1, 'paired')).toBeCloseTo(1 - shareCorrect(1, 'paired'), 14);
    expect(shareCorrect(-1, 'triangle')).toBe(shareCorrect(0, 'triangle'));
  });
});

describe('size of a difference; sensR printed examples', () => {
  it.each(examples.estimates)('$protocol $correct of $total, $kind', (of) => {
    const answers = { protocol: of.protocol as Protocol, correct: of.correct, total: of.total };
    const found = estimateDifference(answers, of.level, of.kind as IntervalKind);
    const other = otherTests(answers);
    printed(found.correct.value, of.pc, 4);
    printed(found.correct.se, of.se_pc, 4);
    printed(found.discriminators.value, of.pd, 4);
    printed(found.discriminators.se, of.se_pd, 4);
    // sensR's root finder leaves d′ right to about four decimals.
    printed(found.d_prime.value, of.d, 4);
    printed(found.d_prime.se, of.se_d, 4);
    printed(found.interval.correct.low, of.pc_low, 4);
    printed(found.interval.correct.high, of.pc_high, 4);
    printed(found.interval.d_prime.low, of.d_low, 4);
    printed(found.interval.d_prime.high, of.d_high, 4);
    printed(differenceP(answers), of.p, 4);
    printed(other.score.chiSquared, of.chi_squared, 4);
    printed(other.score.p, of.score_p, 6);
    // Their root of the likelihood ratio carries the same looseness, in the seventh figure.
    if (of.root !== undefined) expect(other.likelihood.root).toBeCloseTo(of.root, 5);
    printed(other.likelihood.p, of.root_p, of.root_p! < 0.01 ? 6 : 5);
  });
  it('Wilson without continuity correction, computed', () => {
    const { low, high } = shareInterval(10, 15, 0.95, 'score');
    printed(low, examples.wilson_plain.low, 4);
    printed(high, examples.wilson_plain.high, 4);
  });
  it('similarity, with the exact limit where the printed one is loose', () => {
    const { protocol, pd0, p, limit_exact, limit_printed, ...answers } = examples.similarity;
    printed(similarityP({ protocol: protocol as Protocol, ...answers }, pd0), p, 7);
    printed(dPrimeOfLimit(pd0, 'triangle'), limit_exact, 6);
    printed(dPrimeOfLimit(pd0, 'triangle'), limit_printed, 4);
  });
});

describe('power and number of answers; sensR, else computed', () => {
  const difference = (protocol: string) =>
    ({ aim: 'difference', protocol: protocol as Protocol, alpha: 0.05 }) as const;
  it.each(examples.power)('$protocol, $total answers', ({ protocol, d, total, power }) => {
    const decimals = String(power).length - 2;
    printed(testPower(difference(protocol), total, { d_prime: d }), power, decimals);
  });
  it('similarity', () => {
    const { pd_true, pd0, total, power } = examples.similarity_power;
    const plan = { aim: 'similarity', protocol: 'triangle', alpha: 0.05, limit: pd0 } as const;
    printed(testPower(plan, total, { discriminators: pd_true }), power, 7);
  });
  it.each(examples.sizes)(
    '$protocol d′ $d pd $pd, power $power',
    ({ protocol, d, pd, power, first, stable }) => {
      const effect = d === undefined ? { discriminators: pd! } : { d_prime: d };
      expect(sampleSize(difference(protocol), effect, power)).toEqual({ first, stable });
    },
  );
  it('similarity takes 604', () => {
    const { protocol, pd_true, pd0, power, first } = examples.similarity_size;
    const plan = { aim: 'similarity', protocol: protocol as Protocol, alpha: 0.05, limit: pd0 } as const;
    expect(sampleSize(plan, { discriminators: pd_true }, power)?.first).toBe(first);
  });
});
