import { beforeAll, describe, expect, it } from 'vitest';
import { problemSentences } from '../../documents/index.ts';
import { fitTrials } from './fit.ts';
import { learnedFor, predictWith, simulateLearned } from './predict.ts';
import { fitHash, prepare } from './prepare.ts';
import { bundleOf, PLAIN_TRUTH, repeatedBrews, syntheticSet, variedBrews } from './testing/campaign.ts';
import { shortCampaign } from './testing/short-campaign.ts';
import type { Fit, TrialSet } from './types.ts';

const truth = { ...PLAIN_TRUTH, permeability: [1.5], retained: 0.7 };
const set: TrialSet = syntheticSet(repeatedBrews(1, 5), truth, 4);
const brew = repeatedBrews(1, 1)[0]!;
let fit: Fit;

const done = (of: TrialSet, options = {}): Fit => {
  const outcome = fitTrials(of, options);
  if (outcome.outcome !== 'done') throw new Error(outcome.outcome);
  return outcome.fit;
};
const parameter = (of: Fit, id: string) => of.parameters.find((p) => p.id.startsWith(id))!;
const codes = (of: Fit): string[] => of.findings.map(({ code }) => code);

beforeAll(() => {
  fit = done(set);
}, 60_000);

describe('a fit of five brews of one plan', { timeout: 60_000 }, () => {
  it('finds what was true where the figures tell it, and says so', () => {
    for (const [id, wanted] of [
      ['permeability', 1.5],
      ['retained', 0.7 / 0.8],
    ] as const) {
      const { prior, posterior, remaining } = parameter(fit, id);
      expect(posterior.low, id).toBeLessThan(wanted);
      expect(posterior.high, id).toBeGreaterThan(wanted);
      expect(prior.low, id).toBeLessThan(posterior.low);
      expect(remaining, id).toBeLessThan(0.9);
    }
    expect(fit.trials).toBe(5);
    expect(codes(fit)).toContain('calibrated');
  });
  it('says in a sentence whatever these brews cannot tell', () => {
    const unlearned = fit.parameters.filter(
      ({ kind, verdict }) => verdict === 'not_learned' && (kind === 'coffee' || kind === 'grinder'),
    );
    expect(unlearned.length).toBeGreaterThan(0);
    const said = fit.findings.filter(({ code }) => code === 'not_learned');
    expect(said.map(({ values }) => values.id)).toEqual(unlearned.map(({ id }) => id));
    for (const { sentence } of fit.findings) expect(sentence).not.toMatch(/[{}]|NaN|undefined/);
  });
  it('tells what each trial taught, and where each figure was to be expected', () => {
    expect(fit.lessons).toHaveLength(5);
    for (const { bits, shifts, figures } of fit.lessons) {
      expect(bits).toBeGreaterThan(0);
      expect(Math.abs(shifts[0]!.shift)).toBeGreaterThanOrEqual(Math.abs(shifts.at(-1)!.shift));
      expect(figures.map(({ channel }) => channel)).toEqual([
        'strength',
        'beverage',
        'drawdown',
        'temperature',
      ]);
      for (const { expected } of figures) expect(expected.low).toBeLessThan(expected.high);
    }
  });
  it('gives the same again, also when it was stopped half-way and went on from plain JSON', () => {
    const seen: number[] = [];
    const stopped = fitTrials(set, { progress: (share) => seen.push(share) < 20 });
    if (stopped.outcome !== 'stopped') throw new Error(stopped.outcome);
    expect(seen).toHaveLength(20);
    expect(seen.every((x, i) => x >= 0 && x <= 1 && (i === 0 || x >= seen[i - 1]!))).toBe(true);
    const state = JSON.parse(JSON.stringify(stopped.state));
    expect(Object.keys(state.runs).length).toBeGreaterThan(10);
    expect(done(set, { resume: state })).toEqual(fit);
  });
  it('is called out of date by anything that was measured, not by a note', () => {
    const changed = (edit: object): TrialSet => ({
      ...set,
      trials: set.trials.map((t, i) => (i === 0 ? { ...t, trial: { ...t.trial, ...edit } } : t)),
    });
    expect(fitHash(set)).toBe(fit.input_hash);
    expect(fitHash(changed({ notes: 'Tasted flat.', name: 'The first' }))).toBe(fit.input_hash);
    expect(fitHash(changed({ beverage_g: 170 }))).not.toBe(fit.input_hash);
  });
});

describe('trials that do not fit', { timeout: 60_000 }, () => {
  const spoiled = (edit: (trial: TrialSet['trials'][number]['trial']) => object): TrialSet => ({
    ...set,
    trials: set.trials.map((t, i) => (i === 2 ? { ...t, trial: { ...t.trial, ...edit(t.trial) } } : t)),
  });
  it('one strength far out counts little, is pointed at, and leaves the rest where it was', () => {
    const odd = done(spoiled(() => ({ strength_readings: [{ strength_pct: 1.9, sample_C: null }] })));
    const surprise = odd.lessons[2]!.figures[0]!;
    expect(surprise.weight).toBeLessThan(0.1);
    const said = odd.findings.find(({ code }) => code === 'surprise')!;
    expect(said.trial_id).toBe(set.trials[2]!.trial.id);
    expect(said.sentence).toMatch(
      /"Brew 3": the strength was 1\.9 %, and 1\.\d+ % to 1\.\d+ % was to be expected/,
    );
    const before = parameter(fit, 'permeability').posterior;
    const after = parameter(odd, 'permeability').posterior;
    expect(Math.abs(after.mid - before.mid)).toBeLessThan(before.high - before.low);
  });
  it('more beverage than water, and more in the cup than in the coffee, are left out with a sentence', () => {
    const wet = prepare(spoiled(() => ({ beverage_g: 900, strength_readings: [] })));
    expect(wet.findings.map(({ code }) => code)).toEqual(['beverage_impossible']);
    const left = wet.trials[2]!.observations.figures.map(({ channel }) => channel);
    expect(left).not.toContain('beverage');
    expect(left).toContain('drawdown');
    const strong = prepare(spoiled(() => ({ strength_readings: [{ strength_pct: 13.1, sample_C: null }] })));
    expect(strong.findings[0]!.sentence).toMatch(/"Brew 3": a strength of 13\.1 % would mean/);
  });
  it('brews that contradict each other are said to', () => {
    const apart = {
      ...set,
      trials: set.trials.map((t, i) => ({
        ...t,
        trial: { ...t.trial, beverage_g: t.trial.beverage_g! - (i % 2) * 12 },
      })),
    };
    const said = done(apart).findings.find(({ code }) => code === 'noise_large')!;
    expect(said.tone).toBe('problem');
    expect(said.sentence).toContain('the mass of the beverage');
  });
  it('one trial is fitted, with a caution; none is refused', () => {
    expect(codes(done({ ...set, trials: set.trials.slice(0, 1) }))).toContain('one_trial');
    const none = fitTrials({ ...set, trials: [] });
    if (none.outcome !== 'refused') throw new Error(none.outcome);
    expect(none.problems[0]!.sentence).toContain('There is no trial of');
    expect(problemSentences).not.toHaveProperty(none.problems[0]!.code);
  });
});

describe('the posterior', { timeout: 60_000 }, () => {
  it('has the slopes of its own value', () => {
    const { target } = shortCampaign(syntheticSet(variedBrews(2, 2), PLAIN_TRUTH, 2, 'draft'));
    const z = Float64Array.from({ length: target.size }, (_, k) => 0.3 * Math.sin(k + 1));
    const gradient = new Float64Array(target.size);
    const value = target.surface()(z, gradient, new Float64Array(target.size ** 2));
    expect(value).toBeCloseTo(target.value(z), 9);
    for (let k = 0; k < target.size; k++) {
      const moved = (h: number) => target.value(z.map((x, i) => (i === k ? x + h : x)));
      expect(gradient[k]).toBeCloseTo((moved(1e-4) - moved(-1e-4)) / 2e-4, 4);
    }
    expect(target.value(z, 0)).toBeGreaterThan(Number.NEGATIVE_INFINITY);
    expect(target.value(z, 0)).not.toBe(target.value(z));
  });
});

describe('predictions with what was learned', { timeout: 60_000 }, () => {
  const bundle = bundleOf(brew);
  it('lie nearer to the truth than the defaults, and the next brew spreads wider than the mean', () => {
    const bands = predictWith(fit, bundle, { runs: 12 })!;
    expect(bands.calibrated_trials).toBe(5);
    for (const name of ['beverage_g', 'strength_pct', 'yield_pct', 'drawdown_s'] as const) {
      const [mean, next] = [bands.mean[name], bands.next[name]];
      expect(next.high - next.low, name).toBeGreaterThan(mean.high - mean.low);
      expect(mean.low, name).toBeLessThan(mean.high);
    }
    const measured = set.trials.map(({ trial }) => trial.beverage_g!);
    const average = measured.reduce((sum, x) => sum + x, 0) / measured.length;
    expect(Math.abs(bands.mean.beverage_g.mid - average)).toBeLessThan(1.5);
    expect(bands.beverage_low_g).toHaveLength(bands.time_s.length);
    expect(bands.strength_high_pct.at(-1)).toBeGreaterThan(bands.strength_low_pct.at(-1)!);
  });
  it('say which coffee, setup and grinder were in no trial, and spread wider for them', () => {
    const other = {
      ...bundle,
      coffee: { ...bundle.coffee, id: bundle.setup.id, name: 'Lot eight' },
      setup: { ...bundle.setup, id: bundle.coffee.id, name: 'Glass on glass' },
    };
    const [known, unknown] = [bundle, other].map((b) => predictWith(fit, b, { runs: 12 })!);
    expect(unknown!.findings.map(({ code }) => code)).toEqual([
      'predicts_other_coffee',
      'predicts_new_setup',
    ]);
    const width = ({ mean }: NonNullable<typeof known>) => mean.yield_pct.high - mean.yield_pct.low;
    expect(width(unknown!)).toBeGreaterThan(width(known!));
  });
  it('stop when asked, and say in a plain run how many trials they rest on', () => {
    expect(predictWith(fit, bundle, { runs: 4, progress: () => false })).toBeNull();
    const result = simulateLearned(fit, bundle, { resolution: 'draft' });
    expect(result.calibrated_trials).toBe(5);
    const { parameters } = learnedFor(fit, bundle);
    expect(parameters.permeabilityFactor).toBeGreaterThan(0.3);
    expect(parameters.residualSaturation).toBeLessThan(0.8);
  });
});
