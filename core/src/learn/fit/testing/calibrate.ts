import { chiSquaredAbove } from '../../../panel/distributions.ts';
import { diceFrom } from '../../chance.ts';
import { climbTo, drawFrom, type Effort, laplaceOf, spreadDraws } from '../posterior.ts';
import { NU } from '../target.ts';
import type { ShortCampaign } from './short-campaign.ts';

/** What many campaigns with known truth say of one unknown. */
export interface Calibration {
  id: string;
  /** Counts of the rank of the truth among {@link DRAWS} draws, in {@link BINS} bins. */
  histogram: number[];
  /** χ² of that against even counts, and its p on BINS − 1 degrees of freedom. */
  chi2: number;
  p: number;
  /** Share of campaigns in which the band of 90 % holds the truth: of the ensemble, and of the quadratic answer. */
  covered: number;
  quadratic: number;
}

/** Draws that the truth is ranked among: 0–99 have as many ranks in every bin. */
export const DRAWS = 99;
export const BINS = 10;
const EFFORT: Effort = { burn: 150, most: 1_000, effective: 300, thin: 5 };
const Z95 = 1.6448536269514722;

/**
 * Simulation-based calibration (Talts et al. 2018): truth from the prior, figures from the truth, a fit of them; the rank of the truth
 * among the draws must be even.
 */
export function calibrate({ target, layout }: ShortCampaign, campaigns: number, seed: number): Calibration[] {
  const { size, figures } = target;
  const dice = diceFrom(seed);
  const [mean, square] = [new Float64Array(figures), new Float64Array(figures)];
  const found = layout.unknowns.map(({ id }) => ({
    id,
    histogram: new Array<number>(BINS).fill(0),
    covered: 0,
    quadratic: 0,
  }));
  for (let c = 0; c < campaigns; c++) {
    const truth = Float64Array.from({ length: size }, () => dice.normal());
    target.expect(truth, mean, square);
    for (let i = 0; i < figures; i++)
      target.measured[i] = mean[i]! + Math.sqrt(square[i]!) * dice.student(NU);
    const best = climbTo(target, new Float64Array(size));
    const laplace = laplaceOf(target, best);
    const work = drawFrom(target, best.z, laplace, 1_000 + c, EFFORT);
    let step = work.next();
    while (!step.done) step = work.next();
    const few = spreadDraws(step.value, DRAWS);
    const many = spreadDraws(step.value, 2_000);
    found.forEach((of, k) => {
      const rank = few.filter((z) => z[k]! < truth[k]!).length;
      of.histogram[Math.floor((rank * BINS) / (DRAWS + 1))]!++;
      const below = many.filter((z) => z[k]! < truth[k]!).length / many.length;
      if (below >= 0.05 && below <= 0.95) of.covered += 1 / campaigns;
      const off = Math.abs(truth[k]! - best.z[k]!) / Math.sqrt(laplace[k * size + k]!);
      if (off < Z95) of.quadratic += 1 / campaigns;
    });
  }
  return found.map((of) => {
    const even = campaigns / BINS;
    const chi2 = of.histogram.reduce((sum, n) => sum + (n - even) ** 2 / even, 0);
    return { ...of, chi2, p: chiSquaredAbove(chi2, BINS - 1) };
  });
}
