import { logChoose } from '../distributions.ts';
import { chanceWords, type Finding, finding } from '../findings.ts';
import { PROTOCOLS, type Protocol } from '../protocols.ts';
import { sayRankingPlan } from '../say-results.ts';
import { sayPlan } from '../say-tests.ts';
import type { SessionDesign } from './plan-types.ts';

const isProtocol = (test: string): test is Protocol => Object.hasOwn(PROTOCOLS, test);

/**
 * What a session can and cannot show with so many tasters, said before pouring. Each window is a test of its own.
 * @param tasters who take part; default the expected seats
 */
export function findingsBefore(design: SessionDesign, tasters = design.seats): Finding[] {
  const { method, samples, alpha, repeats, wanted_d_prime } = design;
  const effect = { d_prime: wanted_d_prime };
  const cups = design.cups_each ?? samples.length + design.hidden_repeats.length;
  const windows = Math.max(1, design.windows.length);
  if (isProtocol(method.test)) {
    const sides = method.test === 'paired' && method.stronger_id === null ? 'two' : 'one';
    const plan = { aim: 'difference', protocol: method.test, alpha, sides } as const;
    return [
      ...sayPlan(plan, tasters * repeats, effect),
      finding('note', 'sips', { sips: PROTOCOLS[method.test].served * repeats * windows }),
    ];
  }
  if (method.test === 'preference') {
    const pairs = (samples.length * (samples.length - 1)) / 2;
    const plan = { aim: 'difference', protocol: 'paired', alpha, sides: 'two' } as const;
    return [
      ...sayPlan(plan, tasters * repeats, effect),
      finding('note', 'sips', { sips: 2 * pairs * repeats * windows }),
    ];
  }
  if (method.test === 'ranking')
    return [
      sayRankingPlan(tasters, cups, alpha),
      finding('note', 'sips', { sips: cups * repeats * windows }),
    ];
  if (method.test === 'a_not_a') {
    const cupsOfEach = tasters * method.each * repeats;
    return [
      aNotAReach(cupsOfEach, alpha),
      finding('note', 'sips', { sips: (2 * method.each + 1) * repeats * windows }),
    ];
  }
  const sips = finding('note', 'sips', { sips: cups * repeats * windows });
  if (tasters < 2 || samples.length < 2)
    return [finding('cannot', 'panel_too_small', { tasters, cups: samples.length }), sips];
  const byAgreement = method.test === 'check_all' || method.test === 'temporal';
  return byAgreement ? [agreementReach(tasters, samples.length, alpha), sips] : [sips];
}

/** Fisher's exact test, one-sided: with every answer right p is one over the ways to choose which half is called the same. */
function aNotAReach(cupsOfEach: number, alpha: number): Finding {
  const bestP = (m: number) => Math.exp(-logChoose(2 * m, m));
  const total = 2 * cupsOfEach;
  if (bestP(cupsOfEach) <= alpha) return finding('note', 'a_not_a_reach', { total, alpha });
  let fewest = cupsOfEach;
  while (bestP(fewest) > alpha) fewest++;
  return finding('cannot', 'difference_cannot_reach', {
    total,
    alpha,
    chance: chanceWords(bestP(cupsOfEach)),
    fewest: 2 * fewest,
  });
}

/** A word that every taster ticks at the same half of the cups: among the ways each could have ticked, only one taster's is free. */
function agreementReach(tasters: number, cups: number, alpha: number): Finding {
  const ways = Math.exp(logChoose(cups, Math.floor(cups / 2)));
  const p = ways ** (1 - tasters);
  const values = { tasters, cups, alpha, chance: chanceWords(p) };
  if (p <= alpha) return finding('note', 'ranking_reach', values);
  const fewest = 1 + Math.ceil(-Math.log(alpha) / Math.log(ways) - 1e-9);
  return finding('cannot', 'ranking_cannot_reach', { ...values, fewest });
}
