import { Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import examples from '../../../../reference/gaussian-process/examples.json' with { type: 'json' };
import {
  augmentedImprovement,
  expectedImprovement,
  logImprovement,
  noisyImprovement,
  targetImprovement,
} from './improvement.ts';
import { laplaceProcess } from './preference.ts';
import {
  conditionProcess,
  covarianceMatrix,
  crossMatrix,
  matern52,
  predictProcess,
  squaredExponential,
} from './process.ts';

const { improvement, preference, process } = examples;

/** Equal to a figure printed with so many decimals. */
const printed = (found: number, expected: number, decimals: number) =>
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(0.5001 * 10 ** -decimals);

describe('Gaussian process, against figures computed with NumPy', () => {
  const kernel = (a: number, b: number) => process.signal ** 2 * squaredExponential((a - b) / process.reach);
  const K = covarianceMatrix(process.x, kernel);
  for (let i = 0; i < process.x.length; i++) K.set(i, i, K.get(i, i) + process.noise ** 2);
  const conditioned = conditionProcess(K, process.y)!;
  it('evidence', () => printed(conditioned.log, process.lml, 12));
  it('mean and variance elsewhere', () => {
    const { weights, spread } = predictProcess(
      conditioned,
      crossMatrix(process.x, process.at, kernel),
      covarianceMatrix(process.at, kernel),
    );
    process.at.forEach((_, j) => {
      printed(
        process.y.reduce((t, v, i) => t + v * weights.get(i, j), 0),
        process.mean[j]!,
        12,
      );
      printed(spread.get(j, j), process.var[j]!, 12);
    });
  });
  it('a matrix that is none is refused', () => {
    expect(
      conditionProcess(
        new Matrix([
          [1, 2],
          [2, 1],
        ]),
        [0, 0],
      ),
    ).toBeNull();
  });
  it('Matérn 5/2 falls as its formula says', () => {
    expect(matern52(0)).toBe(1);
    expect(matern52(1)).toBeCloseTo((1 + Math.sqrt(5) + 5 / 3) * Math.exp(-Math.sqrt(5)), 14);
  });
});

describe('improvement, against figures computed with SciPy', () => {
  it.each(improvement.expected)('EI(%f, %f, %f)', (mean, sd, best, value, decimals) => {
    printed(expectedImprovement(mean!, sd!, best!), value!, decimals!);
  });
  it.each(improvement.log)('log h(%f)', (z, value, decimals) =>
    printed(logImprovement(z!), value!, decimals!),
  );
  it('augmented', () => {
    const [mean, sd, best, noise, value] = improvement.augmented as [number, number, number, number, number];
    printed(augmentedImprovement(mean, sd, best, noise), value, 10);
  });
  it('both forms of log h meet where one takes over', () => {
    expect(logImprovement(-1 - 1e-9)).toBeCloseTo(logImprovement(-1 + 1e-9), 8);
  });
  it('nothing is gained over an incumbent that is the same brew', () => {
    expect(noisyImprovement({ mean: 1, sd: 0.5 }, { mean: 1, sd: 0.5 }, 0.25)).toBe(0);
  });
  it('gain towards a target, against quadrature', () => {
    const [away, sd, distance] = [0.3, 0.7, 0.5];
    let sum = 0;
    const step = 1e-4;
    for (let v = -6; v < 6; v += step)
      sum += step * Math.max(0, distance - Math.abs(v)) * Math.exp(-(((v - away) / sd) ** 2) / 2);
    expect(targetImprovement(away, sd, distance)).toBeCloseTo(sum / (sd * Math.sqrt(2 * Math.PI)), 7);
  });
});

describe('preferences by Laplace, against figures computed with NumPy', () => {
  const { x, noise, reach, pairs, f_map, sd, log_evidence } = preference;
  const K = covarianceMatrix(x, (a, b) => squaredExponential((a - b) / reach));
  const found = laplaceProcess(
    K,
    pairs.map(([better, worse]) => ({ better: better!, worse: worse! })),
    noise,
  )!;
  it('most probable worth, its deviation and the evidence', () => {
    for (const [i, f] of f_map.entries()) expect(found.mode[i]).toBeCloseTo(f, 7);
    for (const [i, s] of sd.entries()) expect(found.sd[i]).toBeCloseTo(s, 7);
    expect(found.log).toBeCloseTo(log_evidence, 6);
  });
  it('values alone give the exact process back', () => {
    const { x: at, y, signal, reach: r, noise: s, lml } = process;
    const prior = covarianceMatrix(at, (a, b) => signal ** 2 * squaredExponential((a - b) / r));
    const values = y.map((value, place) => ({ place, value, variance: s * s }));
    expect(laplaceProcess(prior, [], 1, values)!.log).toBeCloseTo(lml, 6);
  });
});
