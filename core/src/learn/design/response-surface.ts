import { bestGenerators, corners, fractionalFactorial, plainDesign } from './factorial.ts';
import type { Design } from './types.ts';

/** circumscribed: star points beyond the cube. inscribed: the same, shrunk so that they lie on it. faced: on its faces. */
export type CompositeKind = 'circumscribed' | 'inscribed' | 'faced';

/** Distance of star points that makes a design rotatable: (number of cube runs)^¼. Box & Hunter 1957 as in NIST-HB 5.3.3.6.1. */
export const rotatableAlpha = (cubeRuns: number): number => cubeRuns ** 0.25;

/**
 * Central composite design: a cube (from 5 factors on a part of it, of resolution V or more), two star points for each factor, centre
 * runs. 2 to 8 factors.
 */
export function centralComposite(k: number, kind: CompositeKind = 'circumscribed', centres = 4): Design {
  const cube = k < 5 ? corners(k) : resolutionFive(k);
  const alpha = kind === 'faced' ? 1 : rotatableAlpha(cube.length);
  const star = Array.from({ length: k }, (_, i) =>
    [-alpha, alpha].map((at) => Array.from({ length: k }, (_, j) => (i === j ? at : 0))),
  ).flat();
  const points = [...cube, ...star, ...Array.from({ length: centres }, () => new Array<number>(k).fill(0))];
  const scale = kind === 'inscribed' ? 1 / alpha : 1;
  return {
    ...plainDesign(
      'central_composite',
      points.map((row) => row.map((v) => v * scale)),
      centres,
    ),
    alpha: kind === 'inscribed' ? 1 : alpha,
  };
}

/** Smallest part of a cube whose main effects and two-factor products are clear of each other. */
function resolutionFive(k: number): number[][] {
  for (let basic = k - 3; basic < k; basic++) {
    const generators = bestGenerators(k, basic);
    const design = generators && fractionalFactorial(basic, generators);
    if (design && design.resolution! >= 5) return design.points.map((row) => [...row]);
  }
  return corners(k);
}

/** Pairs or triples of factors that move together, from Box & Behnken 1960 (from memory; each pair of factors meets). */
const BLOCKS: Readonly<Record<number, readonly (readonly number[])[]>> = {
  3: [
    [0, 1],
    [0, 2],
    [1, 2],
  ],
  4: [
    [0, 1],
    [2, 3],
    [0, 3],
    [1, 2],
    [0, 2],
    [1, 3],
  ],
  5: [
    [0, 1],
    [0, 2],
    [0, 3],
    [0, 4],
    [1, 2],
    [1, 3],
    [1, 4],
    [2, 3],
    [2, 4],
    [3, 4],
  ],
};

/** Box–Behnken design: mid-points of the edges, no corners; 3 to 5 factors. 12, 24 or 40 runs and the centre. */
export function boxBehnken(k: 3 | 4 | 5, centres = 3): Design {
  const edges = BLOCKS[k]!.flatMap((block) =>
    corners(block.length).map((at) => {
      const row = new Array<number>(k).fill(0);
      block.forEach((factor, i) => {
        row[factor] = at[i]!;
      });
      return row;
    }),
  );
  const middle = Array.from({ length: centres }, () => new Array<number>(k).fill(0));
  return plainDesign('box_behnken', [...edges, ...middle], centres);
}
