import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../../panel/random.ts';
import { beta } from './chance-values.ts';
import { chanceOver, momentsOf } from './history.ts';
import { laterOfTwo, pertChain, pertMoments, pertOver } from './pert.ts';

describe('the chance of running over', () => {
  // Computed independently with SciPy: predictive t, T = (limit − mean)/(s √(1 + 1/n)), n − 1 degrees of freedom.
  it('is 0.08505 for six rehearsals and a limit of 615 s', () => {
    const times = [588, 601, 575, 612, 594, 583];
    expect(momentsOf(times).mean).toBeCloseTo(592.167, 3);
    expect(momentsOf(times).sd!).toBeCloseTo(13.197, 3);
    expect(chanceOver(times, 615)!).toBeCloseTo(0.08505, 5);
  });
});

describe('three-point guesses', () => {
  const chain = (
    [
      [20, 25, 40],
      [45, 60, 90],
      [150, 180, 240],
      [30, 40, 70],
      [60, 75, 120],
    ] as const
  ).map(([best, mostly, worst]) => ({ best, mostly, worst }));

  // Published chain (schematex.js.org, PERT three-point estimation): 3.17, 8.5, 4.17, 2 with σ 0.5, 1.5, 0.5, 0.33 give 17.83 and 1.69.
  it('reproduce the published activity and the published sum', () => {
    expect(pertMoments({ best: 5, mostly: 8, worst: 14 })).toMatchObject({ mean: 8.5, sd: 1.5 });
    expect(3.17 + 8.5 + 4.17 + 2).toBeCloseTo(17.83, 1);
    expect(Math.hypot(0.5, 1.5, 0.5, 0.33)).toBeCloseTo(1.69, 2);
  });

  // Computed independently with NumPy and SciPy.
  it('differ in spread from the exact beta: 436.8 against 521.5 for this chain of mean 397.5', () => {
    const { mean, sd, exactSd } = pertChain(chain);
    expect(mean).toBeCloseTo(397.5, 9);
    expect(sd ** 2).toBeCloseTo(436.8, 1);
    expect(exactSd ** 2).toBeCloseTo(521.5, 1);
  });

  it('run over 420 with a chance of 0.1670, more than a normal sum would say (0.1408)', () => {
    const draws = 20_000;
    const share = pertOver(chain, 420, draws, 7);
    const error = Math.sqrt((0.167 * 0.833) / draws);
    expect(Math.abs(share - 0.167)).toBeLessThan(4 * error);
    expect(share).toBeGreaterThan(0.1408 + 4 * error);
    expect(pertOver(chain, 420, 500, 7)).toBe(pertOver(chain, 420, 500, 7));
  });

  it('are drawn from a beta whose mean and variance are the ones of its shapes', () => {
    const chance = chanceFrom(3);
    const drawn = Array.from({ length: 20_000 }, () => beta(chance, 2.2, 3.8));
    const { mean, sd } = momentsOf(drawn);
    expect(mean).toBeCloseTo(2.2 / 6, 2);
    expect(sd!).toBeCloseTo(Math.sqrt((2.2 * 3.8) / (36 * 7)), 2);
  });
});

describe('two strands that meet', () => {
  // Clark's formulas, computed independently with NumPy.
  it('end at 187.018 ± 12.882 for 180 ± 12 and 175 ± 20', () => {
    const later = laterOfTwo({ mean: 180, sd: 12 }, { mean: 175, sd: 20 });
    expect(later.mean).toBeCloseTo(187.018, 3);
    expect(later.sd).toBeCloseTo(12.882, 3);
  });
});
