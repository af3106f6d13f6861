import type { BrewBundle } from '@pourline/core';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { runCase } from '../core/src/brew/run.ts';
import { sobolPoints } from '../core/src/brew/sampling/sobol.ts';
import { caseOf, drawAt, UNCERTAIN } from '../core/src/brew/spread.ts';
import { cupOf } from '../core/src/brew/summarise.ts';
import { demoBundle } from './demo-bundle.ts';
import { machine } from './measure.ts';
import { printTable } from './table.ts';

/** Runs whose quantiles stand for the truth. */
const TRUTH = 2_048;
const SIZES = [16, 32, 64, 128];
const SEEDS = [1, 2, 3, 4, 5, 6];
const LEVELS = [0.05, 0.5, 0.95] as const;
const FIGURES = ['beverage_g', 'strength_pct', 'yield_pct', 'peak_bed_C', 'server_C'] as const;

type Points = (count: number, dimensions: number, seed: number) => Float64Array;

/** A Latin hypercube (McKay, Beckman and Conover 1979), centred in its slices. */
const latinHypercube: Points = (count, dimensions, seed) => {
  const random = xoroshiro128plus(seed);
  const points = new Float64Array(count * dimensions);
  const slices = Array.from({ length: count }, (_, k) => k);
  for (let d = 0; d < dimensions; d++) {
    for (let i = count - 1; i > 0; i--) {
      const j = uniformInt(random, 0, i);
      [slices[i], slices[j]] = [slices[j]!, slices[i]!];
    }
    slices.forEach((slice, k) => {
      points[k * dimensions + d] = (slice + 0.5) / count;
    });
  }
  return points;
};

const independent: Points = (count, dimensions, seed) => {
  const random = xoroshiro128plus(seed);
  return Float64Array.from({ length: count * dimensions }, () => ((random.next() >>> 0) + 0.5) / 2 ** 32);
};

const METHODS: readonly { name: string; points: Points }[] = [
  { name: 'independent', points: independent },
  { name: 'Latin hypercube', points: latinHypercube },
  { name: 'scrambled Sobol', points: sobolPoints },
];

/** Quantiles of every figure, `[figure][level]`. */
function quantiles(bundle: BrewBundle, points: Float64Array): number[][] {
  const dimensions = UNCERTAIN.length;
  const cups = Array.from({ length: points.length / dimensions }, (_, k) => {
    const c = caseOf(bundle, drawAt(points.subarray(k * dimensions, (k + 1) * dimensions)), 'draft');
    return cupOf(bundle, c, runCase(c));
  });
  return FIGURES.map((figure) => {
    const sorted = cups.map((cup) => cup[figure]).sort((a, b) => a - b);
    return LEVELS.map((level) => {
      const x = level * (sorted.length - 1);
      const k = Math.floor(x);
      return sorted[k]! + (x - k) * ((sorted[k + 1] ?? sorted[k]!) - sorted[k]!);
    });
  });
}

/** How fast 5–95 % bands come to rest, by way of sampling: root mean square error over figures and seeds, in % of the true band's width. */
export async function bench(): Promise<void> {
  console.log(`\n${machine()}`);
  const bundle = demoBundle();
  const dimensions = UNCERTAIN.length;
  const truth = quantiles(bundle, sobolPoints(TRUTH, dimensions, 99));
  const rows = METHODS.flatMap(({ name, points }) =>
    SIZES.map((size) => {
      const squares = LEVELS.map(() => 0);
      for (const seed of SEEDS)
        quantiles(bundle, points(size, dimensions, seed)).forEach((levels, f) => {
          const width = truth[f]![2]! - truth[f]![0]!;
          levels.forEach((q, l) => {
            squares[l]! += ((q - truth[f]![l]!) / width) ** 2;
          });
        });
      const count = SEEDS.length * FIGURES.length;
      return [name, String(size), ...squares.map((s) => (100 * Math.sqrt(s / count)).toFixed(1))];
    }),
  );
  printTable(
    `Error of bands over ${dimensions} constants against ${TRUTH} runs, % of the band's width (${SEEDS.length} seeds, ${FIGURES.length} figures)`,
    ['sampling', 'runs', '5 %', '50 %', '95 %'],
    rows,
  );
}
