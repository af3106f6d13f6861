/** Known distributions, measured in play and fitted: what comes back is what was put in. */
import { describe, expect, it } from 'vitest';
import { sizingData } from '../documents/index.ts';
import { analyseSizes } from './analyse.ts';
import { APERTURES } from './apertures.ts';
import { randomOf } from './bootstrap.ts';
import { fitModel, type ModelName } from './fit.ts';
import { logDensity, type SizeModel, sizeQuantile, undersize } from './model.ts';
import { readSizes } from './size-data.ts';
import { normalCdf } from './special.ts';
import { LONG_STACK, sieved, usualGrind } from './testing/sievings.ts';

const near = (value: number, wanted: number, relative: number) =>
  expect(Math.abs(value / wanted - 1), `${value} for ${wanted}`).toBeLessThan(relative);

const three: SizeModel = {
  family: 'log_normal',
  modes: [
    { share: 0.12, median: 80e-6, gsd: 1.5 },
    { share: 0.38, median: 480e-6, gsd: 1.25 },
    { share: 0.5, median: 1000e-6, gsd: 1.25 },
  ],
};
const weibull: SizeModel = { family: 'weibull', scale: 720e-6, shape: 2.1 };
const single: SizeModel = { family: 'log_normal', modes: [{ share: 1, median: 600e-6, gsd: 1.6 }] };

function sameParameters(found: SizeModel, wanted: SizeModel, relative: number): void {
  if (found.family === 'weibull' && wanted.family === 'weibull') {
    near(found.scale, wanted.scale, relative);
    near(found.shape, wanted.shape, relative);
    return;
  }
  if (found.family !== 'log_normal' || wanted.family !== 'log_normal') throw new Error('other family');
  expect(found.modes.length).toBe(wanted.modes.length);
  found.modes.forEach((mode, m) => {
    near(mode.share, wanted.modes[m]!.share, relative);
    near(mode.median, wanted.modes[m]!.median, relative);
    near(mode.gsd, wanted.modes[m]!.gsd, relative);
  });
}

const cases: readonly (readonly [ModelName, SizeModel])[] = [
  ['log_normal', single],
  ['weibull', weibull],
  ['two_modes', usualGrind],
  ['three_modes', three],
];

describe('a sieving of a known distribution', () => {
  it.each(cases)('without errors, fitted by %s: parameters to 0.1 %', (name, model) => {
    const { data } = readSizes(sieved(model));
    sameParameters(fitModel(data!.binned, name)!.model, model, 1e-3);
    sameParameters(fitModel(data!.binned, name, { by: 'squares' })!.model, model, 1e-3);
  });
  it.each(cases)('is known for what it is: %s', (name, model) => {
    const { analysis } = analyseSizes(sieved(model), { draws: 0 });
    expect(analysis!.fits[0]!.name).toBe(name);
  });
  it('two modes on a scale of 0.01 g: parameters within 2 %', () => {
    const { analysis } = analyseSizes(sieved(usualGrind, { step_g: 0.01 }), { draws: 0 });
    sameParameters(analysis!.fitted!.model, usualGrind, 0.02);
  });
  it('two modes with openings that stray by 1 %: the main mode within 2 %, every share within 1 point', () => {
    const data = sieved(usualGrind, { step_g: 0.01, stray: 0.01, random: randomOf(7) });
    const { model } = analyseSizes(data, { draws: 0, model: 'two_modes' }).analysis!.fitted!;
    if (model.family !== 'log_normal') throw new Error('not log-normal');
    near(model.modes[1]!.median, 700e-6, 0.02);
    near(model.modes[1]!.gsd, 1.4, 0.02);
    expect(Math.abs(model.modes[0]!.share - 0.15)).toBeLessThan(0.01);
  });
  it('one mode on four sieves is still found', () => {
    const { data } = readSizes(sieved(single, { stack: [1000, 710, 500, 250] }));
    sameParameters(fitModel(data!.binned, 'log_normal')!.model, single, 1e-6);
    expect(fitModel(data!.binned, 'two_modes')).toBeNull();
  });
});

describe('a laser table of a known distribution', () => {
  const sizes = Array.from({ length: 60 }, (_, k) => Number((10 * 1.1 ** k).toPrecision(4)));
  it('by cumulative share', () => {
    const data = sizingData.parse({
      by: 'table',
      of: 'undersize',
      rows: sizes.map((size_um) => ({ size_um, value_pct: 100 * undersize(usualGrind, size_um * 1e-6) })),
    });
    sameParameters(analyseSizes(data, { draws: 0 }).analysis!.fitted!.model, usualGrind, 1e-3);
  });
  it('by shares in classes, upper ends', () => {
    let below = 0;
    const rows = sizes.map((size_um) => {
      const next = 100 * undersize(usualGrind, size_um * 1e-6);
      const value_pct = next - below;
      below = next;
      return { size_um, value_pct };
    });
    const data = sizingData.parse({ by: 'table', of: 'class', sizes: 'upper', rows });
    sameParameters(analyseSizes(data, { draws: 0 }).analysis!.fitted!.model, usualGrind, 2e-3);
  });
  it('counted by number, in narrow classes: back to volume within 2 %', () => {
    const number = sizes.map((size_um) => logDensity(single, size_um * 1e-6) / size_um ** 3);
    const total = number.reduce((sum, x) => sum + x, 0);
    const rows = sizes.map((size_um, i) => ({ size_um, value_pct: (100 * number[i]!) / total }));
    const data = sizingData.parse({ by: 'table', of: 'class', sizes: 'middle', weighting: 'number', rows });
    const { analysis, remarks } = analyseSizes(data, { draws: 0, model: 'log_normal' });
    sameParameters(analysis!.fitted!.model, single, 0.02);
    expect(remarks.map((r) => r.code)).toContain('weighted_by_number');
  });
});

describe('grains drawn from a known distribution', () => {
  const random = randomOf(11);
  // By number the grains are log-normal too, with median·exp(−3s²).
  const s = Math.log(1.35);
  const grains = Array.from({ length: 3_000 }, () => ({
    diameter_um: 600 * Math.exp(-3 * s * s + s * random.normal()),
  }));
  const data = sizingData.parse({
    by: 'photo',
    grains,
    pictures: [{ scale: { pixel_um: 10, from: 'ruler', doubt_pct: 0.5 } }],
  });
  const { analysis } = analyseSizes(data, { draws: 100 });
  it('come back within their band, and the band is narrow', () => {
    const { figures, bands } = analysis!.measured;
    near(figures.d50_um!, 600, 0.05);
    expect(bands.d50_um!.low).toBeLessThan(600);
    expect(bands.d50_um!.high).toBeGreaterThan(600);
    expect(bands.d50_um!.high / bands.d50_um!.low).toBeLessThan(1.15);
  });
  it('are worth fewer by volume than they are', () => {
    expect(analysis!.effective_grains).toBeLessThan(1_500);
    expect(analysis!.effective_grains).toBeGreaterThan(300);
  });
});

describe('bands', () => {
  it('are the same for the same seed and others for another', () => {
    const data = sieved(usualGrind, { step_g: 0.1 });
    const band = (seed: number) => analyseSizes(data, { draws: 20, seed }).analysis!.fitted!.bands.d50_um;
    expect(band(1)).toEqual(band(1));
    expect(band(1)).not.toEqual(band(2));
  });
  it('widen when the model does not fit, so that they still hold the truth', () => {
    const data = sieved(three, { step_g: 0.01, stack: APERTURES.map((row) => row.aperture_um) });
    const { figures, bands } = analyseSizes(data, { draws: 60, model: 'log_normal' }).analysis!.fitted!;
    const wanted = sizeQuantile(three, 0.5) * 1e6;
    expect(Math.abs(figures.d50_um! / wanted - 1)).toBeGreaterThan(0.05);
    expect(bands.d50_um!.low).toBeLessThan(wanted);
    expect(bands.d50_um!.high).toBeGreaterThan(wanted);
  });
  it('stop when told to', () => {
    const { analysis } = analyseSizes(sieved(usualGrind), { progress: (done) => done < 0.1 });
    expect(analysis).toBeNull();
  });
});

describe('the special functions', () => {
  it('give the normal distribution to rounding (0.975 at 1.959963984540054, from memory)', () => {
    expect(normalCdf(1.959963984540054)).toBeCloseTo(0.975, 15);
  });
  it('the long stack is a stack', () => {
    expect(LONG_STACK.length).toBeGreaterThanOrEqual(10);
    expect([...LONG_STACK].sort((a, b) => b - a)).toEqual(LONG_STACK);
  });
});
