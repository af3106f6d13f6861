/**
 * Bands against truth, over many campaigns in play.
 *
 * 1. and 2. The engine has been asked once about every brew; that short form brews the truth and is what is fitted. This proves that
 *    climbing, sampling and the noise model give the posterior they claim, for one setup and for two with pooled offsets. It says
 *    nothing of how well the short form follows the engine.
 * 3. The engine itself brews the truth, and the whole fit is run as a person would: looks around, moves, corrections. This proves
 *    that the short form is near enough for the bands to hold, over fewer campaigns.
 * Neither says that the engine is right about coffee.
 */
import { describe, expect, it } from 'vitest';
import { diceFrom } from '../chance.ts';
import { fitTrials } from './fit.ts';
import { fromNatural, LEARNED_PRIORS, NOISE_PRIORS, naturalAt, type Prior, stretchOf } from './prior.ts';
import { type Calibration, calibrate } from './testing/calibrate.ts';
import { PLAIN_TRUTH, syntheticSet, TRUTH_AGE_D, type Truth, variedBrews } from './testing/campaign.ts';
import { shortCampaign } from './testing/short-campaign.ts';

const slow = process.env.POURLINE_SLOW === '1';

function print(title: string, rows: readonly Calibration[]): void {
  console.log(title);
  for (const { id, histogram, chi2, p, covered, quadratic } of rows)
    console.log(
      [
        id.replace(/@.*(..)$/, '@$1').padEnd(22),
        histogram.map((n) => String(n).padStart(3)).join(' '),
        `chi2 ${chi2.toFixed(1).padStart(5)}  p ${p.toFixed(3)}`,
        `held ${(100 * covered).toFixed(1)} %  quadratic ${(100 * quadratic).toFixed(1)} %`,
      ].join('  '),
    );
}

/** Chance that an honest band of 90 % holds the truth in a share this far from 0.9, both ways, by the normal law. */
const misses = (share: number, campaigns: number): number =>
  Math.abs(share - 0.9) / Math.sqrt((0.9 * 0.1) / campaigns);

describe.runIf(slow)('simulation-based calibration', { timeout: 900_000 }, () => {
  it('has even ranks, and bands of 90 % that hold 85–95 %, over 300 campaigns of five brews in one setup', () => {
    const rows = calibrate(shortCampaign(syntheticSet(variedBrews(5), PLAIN_TRUTH, 1, 'draft')), 300, 11);
    print('One setup, five brews, 300 campaigns: ranks of the truth among 99 draws', rows);
    for (const { id, p, covered } of rows) {
      expect(p, id).toBeGreaterThan(0.01);
      expect(covered, id).toBeGreaterThan(0.85);
      expect(covered, id).toBeLessThan(0.95);
    }
  });

  it('has even ranks over 100 campaigns of six brews in two setups whose offsets are pooled', () => {
    const truth = { ...PLAIN_TRUTH, permeability: [1, 1] };
    const rows = calibrate(shortCampaign(syntheticSet(variedBrews(6, 2), truth, 1, 'draft')), 100, 12);
    print('Two setups, six brews, 100 campaigns', rows);
    // Twenty unknowns at once: the least p is held against a twentieth of 0.01, and shares within four deviations of 0.9.
    for (const { id, p, covered } of rows) {
      expect(p, id).toBeGreaterThan(0.01 / rows.length);
      expect(misses(covered, 100), id).toBeLessThan(4);
    }
  });

  it('holds the truth in its bands when the engine itself brewed it, over 24 campaigns of four brews', () => {
    const campaigns = 24;
    const dice = diceFrom(21);
    const held = new Map<string, number>();
    for (let c = 0; c < campaigns; c++) {
      const { truth, values } = drawTruth(dice);
      const outcome = fitTrials(syntheticSet(variedBrews(4, 1, 40 + c), truth, 60 + c), { seed: c });
      if (outcome.outcome !== 'done') throw new Error('the fit did not end');
      for (const { id, posterior } of outcome.fit.parameters) {
        const name = id.replace(/@.*/, '');
        // The share of the dose and the change per day are told in %; diffusion at another age than the truth.
        const age = outcome.fit.posterior.reference_age_d - TRUTH_AGE_D;
        const wanted = name === 'diffusion' ? values[name]! * Math.exp(truth.ageing * age) : values[name]!;
        const within = posterior.low <= wanted && wanted <= posterior.high ? 1 : 0;
        held.set(name, (held.get(name) ?? 0) + within / campaigns);
      }
    }
    console.log(
      `Truth from the engine, ${campaigns} campaigns of four brews: share of bands of 90 % that hold it`,
    );
    for (const [name, share] of held) console.log(`${name.padEnd(22)} ${(100 * share).toFixed(0)} %`);
    const all = [...held.values()].reduce((sum, x) => sum + x, 0) / held.size;
    console.log(`all together           ${(100 * all).toFixed(1)} %`);
    // Bands of one campaign go together, so all together count little more than one of them.
    expect(misses(all, campaigns)).toBeLessThan(3);
    for (const [name, share] of held) expect(misses(share, campaigns), name).toBeLessThan(4);
  });
});

/** A truth from the priors, and its values as a fit tells them. */
function drawTruth(dice: ReturnType<typeof diceFrom>): { truth: Truth; values: Record<string, number> } {
  const from = (prior: Prior): number =>
    fromNatural(prior.natural, naturalAt(stretchOf(prior), dice.normal()));
  const truth: Truth = {
    extractable: from(LEARNED_PRIORS.extractable),
    diffusion: from(LEARNED_PRIORS.diffusion),
    ageing: from(LEARNED_PRIORS.ageing),
    permeability: [from(LEARNED_PRIORS.permeability)],
    retained: from(LEARNED_PRIORS.retained),
    heat_loss: from(LEARNED_PRIORS.heat_loss),
    grind: from(LEARNED_PRIORS.grind),
    noise: {
      strength: from(NOISE_PRIORS.strength),
      beverage: from(NOISE_PRIORS.beverage),
      drawdown: from(NOISE_PRIORS.drawdown),
      temperature: from(NOISE_PRIORS.temperature),
    },
  };
  const values = {
    extractable: 100 * truth.extractable,
    diffusion: truth.diffusion,
    ageing: 100 * truth.ageing,
    permeability: truth.permeability[0]!,
    retained: truth.retained / LEARNED_PRIORS.retained.median,
    heat_loss: truth.heat_loss,
    grind: truth.grind,
    'noise.strength': 100 * truth.noise.strength,
    'noise.beverage': truth.noise.beverage,
    'noise.drawdown': 100 * truth.noise.drawdown,
    'noise.temperature': truth.noise.temperature,
  };
  return { truth, values };
}
