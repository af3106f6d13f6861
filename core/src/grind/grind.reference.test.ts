/** Sizes against figures computed elsewhere: reference/sieve-example, size-closed-forms, sieve-apertures and grain-counts. */
import { describe, expect, it } from 'vitest';
import counts from '../../../reference/grain-counts/check-values.json' with { type: 'json' };
import apertures from '../../../reference/sieve-apertures/check-values.json' with { type: 'json' };
import sieving from '../../../reference/sieve-example/check-values.json' with { type: 'json' };
import forms from '../../../reference/size-closed-forms/check-values.json' with { type: 'json' };
import { APERTURES, PRINCIPAL_APERTURES, supersededBy } from './apertures.ts';
import { binnedQuantile, type Interpolation } from './binned.ts';
import { brokenOf } from './figures.ts';
import { fitModel, weibullByLine, weibullThrough } from './fit.ts';
import {
  byNumber,
  logDensity,
  meanDiameter,
  type SizeModel,
  sizeMoment,
  sizeQuantile,
  undersize,
} from './model.ts';
import { histogramFigures, volumeInCoarsest } from './weighting.ts';

/** As many significant digits as the source prints. */
const digitsOf = (printed: number): number => String(printed).replace(/^0\.0*|\./g, '').length;
/** Rounds to what is printed: half a unit of its last digit, and a few last bits of a double for those that lie on the edge. */
function agrees(value: number, printed: number, digits = digitsOf(printed)): void {
  const half = 0.5 * 10 ** (Math.floor(Math.log10(Math.abs(printed))) + 1 - digits);
  const target = Number(printed.toPrecision(digits));
  expect(Math.abs(value - target)).toBeLessThanOrEqual(half + 8 * Number.EPSILON * Math.abs(target));
}
/** For figures with a last digit that the source's own optimiser left to chance. */
const near = (value: number, wanted: number, relative: number) =>
  expect(Math.abs(value / wanted - 1)).toBeLessThan(relative);

const MICRON = 1e-6;
const rising = [...sieving.aperture_um].reverse();
const total = sieving.retained_g.reduce((sum, g) => sum + g, sieving.pan_g);
const binned = {
  limits: Float64Array.from(rising, (um) => um * MICRON),
  share: Float64Array.from([sieving.pan_g, ...[...sieving.retained_g].reverse()], (g) => g / total),
};

describe('percentiles of a sieving (reference/sieve-example)', () => {
  it.each(['log', 'linear'] as const)('interpolated over %s d', (how: Interpolation) => {
    const printed = sieving.percentiles_um[how];
    const at = (share: number) => binnedQuantile(binned, share, how)! / MICRON;
    agrees(at(0.1), printed.d10);
    agrees(at(0.5), printed.d50);
    agrees(at(0.9), printed.d90);
    if ('span' in printed) agrees((at(0.9) - at(0.1)) / at(0.5), printed.span);
  });
});

describe('fits to a sieving (reference/sieve-example)', () => {
  const weibull = (model: SizeModel | undefined) => {
    if (model?.family !== 'weibull') throw new Error('not Weibull’s');
    return { scale_um: model.scale / MICRON, shape: model.shape };
  };
  const logNormal = (model: SizeModel | undefined) => {
    if (model?.family !== 'log_normal') throw new Error('not log-normal');
    const { median, gsd } = model.modes[0]!;
    return { mu: Math.log(median / MICRON), sigma: Math.log(gsd), d50_um: median / MICRON, gsd };
  };
  it('Weibull’s by the straight line, all printed digits', () => {
    const found = weibull(weibullByLine(binned)!);
    agrees(found.scale_um, sieving.weibull.line.scale_um);
    agrees(found.shape, sieving.weibull.line.shape);
  });
  it.each(['squares', 'likelihood'] as const)('Weibull’s by %s', (by) => {
    const fit = fitModel(binned, 'weibull', { by })!;
    const found = weibull(fit.model);
    agrees(found.scale_um, sieving.weibull[by].scale_um, 8);
    agrees(found.shape, sieving.weibull[by].shape, 8);
    const exact = sieving.exact[`weibull_${by}`];
    near(found.scale_um, exact.scale_um, 1e-10);
    near(found.shape, exact.shape, 1e-10);
    if ('squares' in exact) agrees(fit.squares, sieving.weibull.squares.squares);
    if ('likelihood' in exact) near(fit.likelihood, exact.likelihood, 1e-13);
  });
  it.each(['squares', 'likelihood'] as const)('one log-normal mode by %s', (by) => {
    const found = logNormal(fitModel(binned, 'log_normal', { by })!.model);
    const printed = sieving.log_normal[by];
    agrees(found.mu, printed.mu, 9);
    agrees(found.sigma, printed.sigma, 8);
    if ('gsd' in printed) {
      agrees(found.gsd, printed.gsd, 8);
      agrees(found.d50_um, printed.d50_um, 8);
    }
    const exact = sieving.exact[`log_normal_${by}`];
    near(found.mu, exact.mu, 1e-10);
    near(found.sigma, exact.sigma, 1e-10);
  });
  it('Weibull’s through two points is the curve those points lie on', () => {
    const model: SizeModel = { family: 'weibull', scale: 580e-6, shape: 2.4 };
    const point = (diameter: number) => ({ diameter, retained: 1 - undersize(model, diameter) });
    const found = weibull(weibullThrough(point(300e-6), point(900e-6)));
    near(found.shape, 2.4, 1e-12);
    near(found.scale_um, 580, 1e-12);
  });
});

describe('one log-normal mode by volume (reference/size-closed-forms)', () => {
  const { d50_um, sigma, ...printed } = forms.log_normal;
  const model: SizeModel = {
    family: 'log_normal',
    modes: [{ share: 1, median: d50_um * MICRON, gsd: Math.exp(sigma) }],
  };
  const at = (share: number) => sizeQuantile(model, share) / MICRON;
  it.each([
    ['D43', meanDiameter(model, 4, 3) / MICRON],
    ['D32', meanDiameter(model, 3, 2) / MICRON],
    ['number_median', sizeQuantile(byNumber(model)!, 0.5) / MICRON],
    ['number_mean', meanDiameter(model, 1, 0) / MICRON],
    ['D10', at(0.1)],
    ['D90', at(0.9)],
    ['span', (at(0.9) - at(0.1)) / at(0.5)],
  ] as const)('%s', (name, value) => {
    agrees(value, printed[name]);
  });
});

describe('a blend of two modes (reference/size-closed-forms)', () => {
  const printed = forms.blend;
  const model: SizeModel = {
    family: 'log_normal',
    modes: printed.modes.map(({ share, median_um, sigma }) => ({
      share,
      median: median_um * MICRON,
      gsd: Math.exp(sigma),
    })),
  };
  it.each([
    ['D10', sizeQuantile(model, 0.1) / MICRON],
    ['D50', sizeQuantile(model, 0.5) / MICRON],
    ['D90', sizeQuantile(model, 0.9) / MICRON],
    ['D43', meanDiameter(model, 4, 3) / MICRON],
    ['D32', meanDiameter(model, 3, 2) / MICRON],
    ['below_100um', undersize(model, 100e-6)],
  ] as const)('%s', (name, value) => {
    agrees(value, printed[name]);
  });
  it('D[4,3] averages by mass, D[3,2] harmonically', () => {
    const means = model.modes.map(({ share, ...mode }) => ({
      share,
      alone: { family: 'log_normal', modes: [{ share: 1, ...mode }] } as const,
    }));
    const d43 = means.reduce((sum, { share, alone }) => sum + share * meanDiameter(alone, 4, 3), 0);
    const d32 = 1 / means.reduce((sum, { share, alone }) => sum + share / meanDiameter(alone, 3, 2), 0);
    near(meanDiameter(model, 4, 3), d43, 1e-13);
    near(meanDiameter(model, 3, 2), d32, 1e-13);
  });
});

describe('Weibull’s means by mass', () => {
  /** Σ of d^power over the mass, by the trapezium rule over ln d. */
  const integrated = (model: SizeModel, power: number) => {
    let sum = 0;
    for (let t = -25; t <= 4; t += 1e-3) {
      const d = 600e-6 * Math.exp(t);
      sum += 1e-3 * d ** power * logDensity(model, d);
    }
    return sum;
  };
  it.each([1.6, 2.4, 5])('D[4,3] = λΓ(1+1/k) and D[3,2] = λ/Γ(1−1/k) with k = %f', (shape) => {
    const model: SizeModel = { family: 'weibull', scale: 600e-6, shape };
    near(meanDiameter(model, 4, 3), integrated(model, 1), 1e-6);
    near(meanDiameter(model, 3, 2), 1 / integrated(model, -1), 1e-4);
  });
  it('has no end of surface with k of 1 or less', () => {
    expect(sizeMoment({ family: 'weibull', scale: 600e-6, shape: 1 }, -1)).toBe(Number.POSITIVE_INFINITY);
    expect(meanDiameter({ family: 'weibull', scale: 600e-6, shape: 0.8 }, 3, 2)).toBe(0);
  });
});

describe('broken cells (reference/size-closed-forms)', () => {
  it.each(forms.broken_share.rows)('of a grain of $diameter_um µm', ({ diameter_um, share }) => {
    agrees(brokenOf(diameter_um, forms.broken_share.layer_um), share, 3 - (share < 0.1 ? 1 : 0));
  });
  it('are all of a grain no larger than two layers', () => {
    expect(brokenOf(30, 15)).toBe(1);
    expect(brokenOf(12, 15)).toBe(1);
  });
});

describe('sieve openings (reference/sieve-apertures)', () => {
  it('are the R 40/3 ladder with its mesh numbers', () => {
    expect(APERTURES.map(({ aperture_um, mesh }) => [aperture_um, mesh])).toEqual(apertures.r40_3);
    for (const row of apertures.read) expect(apertures.r40_3).toContainEqual(row);
  });
  it('hold the principal series', () => {
    expect(PRINCIPAL_APERTURES).toEqual(apertures.r20_3);
    for (const aperture of PRINCIPAL_APERTURES)
      expect(APERTURES.map((row) => row.aperture_um)).toContain(aperture);
  });
  it('rise by about ⁴√2', () => {
    APERTURES.slice(1).forEach(({ aperture_um }, i) => {
      const ratio = APERTURES[i]!.aperture_um / aperture_um;
      expect(ratio).toBeGreaterThan(1.12);
      expect(ratio).toBeLessThan(1.29);
    });
  });
  it('tell older tables apart', () => {
    for (const [old, mesh] of apertures.superseded)
      expect(APERTURES).toContainEqual({ aperture_um: supersededBy(old!), mesh });
    expect(supersededBy(425)).toBeNull();
  });
});

describe('counts of grains (reference/grain-counts)', () => {
  const figures = histogramFigures(counts.size_um, counts.count);
  it.each([
    ['D10', 1, 0],
    ['D21', 2, 1],
    ['D32', 3, 2],
    ['D43', 4, 3],
    ['D30', 3, 0],
  ] as const)('%s', (name, p, q) => {
    agrees(figures.mean(p, q), counts[name]);
  });
  it('volume of every class', () => {
    for (const [i, printed] of counts.volume_fraction.entries()) agrees(figures.volume_share[i]!, printed);
  });
  it('two thirds of the grains in 1.24 % of the volume', () => {
    agrees(figures.number_share[0]!, counts.number_share_first);
    expect((100 * figures.volume_share[0]!).toFixed(2)).toBe('1.24');
  });
  it.each(counts.volume_in_coarsest_percent)(
    'volume in the coarsest 1 % at σ = $sigma',
    ({ sigma, percent }) => {
      expect((100 * volumeInCoarsest(sigma, 0.01)).toFixed(1)).toBe(percent.toFixed(1));
    },
  );
});
