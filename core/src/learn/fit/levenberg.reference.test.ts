import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { describe, expect, it } from 'vitest';
import data from '../../../../reference/nist-strd-nonlinear/check-values.json' with { type: 'json' };
import { climbDamped, leastSquares } from './levenberg.ts';
import { inverseOf } from './linear.ts';

type Model = (b: ArrayLike<number>, x: number) => number;

/** The models as the files write them, b1 being b[0]. */
const MODELS: Readonly<Record<string, Model>> = {
  Misra1a: (b, x) => b[0]! * (1 - Math.exp(-b[1]! * x)),
  DanWood: (b, x) => b[0]! * x ** b[1]!,
  BoxBOD: (b, x) => b[0]! * (1 - Math.exp(-b[1]! * x)),
  Rat42: (b, x) => b[0]! / (1 + Math.exp(b[1]! - b[2]! * x)),
  MGH09: (b, x) => (b[0]! * (x ** 2 + x * b[1]!)) / (x ** 2 + x * b[2]! + b[3]!),
  Eckerle4: (b, x) => (b[0]! / b[1]!) * Math.exp(-0.5 * ((x - b[2]!) / b[1]!) ** 2),
};

type Set = (typeof data.sets)[number];

const surfaceOf = (set: Set) =>
  leastSquares((b, out) => {
    for (let i = 0; i < out.length; i++) out[i] = MODELS[set.name]!(b, set.x[i]!);
  }, set.y);

const fitFrom = (set: Set, start: readonly number[], damping = 1e-3) =>
  climbDamped(surfaceOf(set), start, { steps: 2_000, tolerance: 1e-11, damping });

/** Correct digits as the institute counts them: −log₁₀ of the relative error; the least of all parameters. */
const digits = (found: ArrayLike<number>, certified: readonly number[]): number =>
  Math.min(...certified.map((c, k) => -Math.log10(Math.max(1e-16, Math.abs((found[k]! - c) / c)))));

describe('damped steps, against the NIST StRD sets of nonlinear regression', () => {
  // The first step from BoxBOD's first start overshoots to where the curve is flat; it has to be held back.
  const starts = data.sets.flatMap((set) => [
    {
      name: `${set.name} from start 1`,
      set,
      start: set.start_1,
      damping: set.name === 'BoxBOD' ? 100 : 1e-3,
    },
    { name: `${set.name} from start 2`, set, start: set.start_2, damping: 1e-3 },
  ]);
  it.each(starts)('$name: parameters, their deviations and the residual sum to 6 digits', (row) => {
    const { set, start, damping } = row;
    const found = fitFrom(set, start, damping);
    expect(found.converged).toBe(true);
    expect(digits(found.x, set.certified)).toBeGreaterThan(6);
    const n = set.certified.length;
    const rss = -2 * found.value;
    expect(digits([rss], [set.rss])).toBeGreaterThan(6);
    const variance = rss / (set.y.length - n);
    expect(digits([Math.sqrt(variance)], [set.residual_sd])).toBeGreaterThan(6);
    const inverse = inverseOf(found.curvature, n);
    const deviations = set.certified.map((_, k) => Math.sqrt(variance * inverse[k * n + k]!));
    expect(digits(deviations, set.certified_sd)).toBeGreaterThan(6);
  });
  it('goes astray from BoxBOD start 1 when its first step is not held back, as is known', () => {
    const set = data.sets.find(({ name }) => name === 'BoxBOD')!;
    expect(digits(fitFrom(set, set.start_1).x, set.certified)).toBeLessThan(0);
  });
  it('holds the data whole: the certified parameters give the certified sums', () => {
    for (const set of data.sets) {
      const value = surfaceOf(set)(
        Float64Array.from(set.certified),
        new Float64Array(set.certified.length),
        new Float64Array(set.certified.length ** 2),
      );
      expect(digits([-2 * value], [set.rss])).toBeGreaterThan(9);
    }
  });
});

describe('damped steps, against a library', () => {
  it('finds what ml-levenberg-marquardt finds for Rat42', () => {
    const set = data.sets.find(({ name }) => name === 'Rat42')!;
    const theirs = levenbergMarquardt(set, (b) => (x) => MODELS.Rat42!(b, x), {
      initialValues: set.start_2,
      maxIterations: 200,
      gradientDifference: 1e-5,
      centralDifference: true,
      errorTolerance: 1e-15,
    });
    expect(digits(fitFrom(set, set.start_2).x, theirs.parameterValues)).toBeGreaterThan(5);
  });
});
