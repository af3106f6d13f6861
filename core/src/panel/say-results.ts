import type { Assessor } from './assessors.ts';
import { type BradleyTerry, worthDifference } from './bradley-terry.ts';
import type { WordTest } from './check-all.ts';
import { logChoose, logGamma, normalCdf } from './distributions.ts';
import {
  chanceWords,
  type Finding,
  type Firmness,
  finding,
  MAYBE,
  percent,
  rounded,
  writtenP,
} from './findings.ts';
import { type JustAboutRight, WORTH_ACTING } from './just-about-right.ts';
import type { PanelAnova } from './panel-anova.ts';
import { type PageTest, pairsApart, type Ranking } from './ranking.ts';
import type { PermutationP } from './row-permutations.ts';
import type { TemporalDifference } from './temporal.ts';

const firmnessOf = (p: number, alpha: number): Firmness =>
  p <= alpha ? 'clear' : p <= MAYBE ? 'maybe' : 'not_shown';

/** How a p was found, in words. */
const howWords = (p: PermutationP): string =>
  p.from === 'all' ? 'exact' : `from ${p.from} random arrangements`;

/** Chance that all tasters give one and the same order without ties, whatever it is: (P!)^−(J−1). */
export const fullAgreementP = (tasters: number, cups: number): number =>
  Math.exp(-(tasters - 1) * logGamma(cups + 1));

/** Fewest tasters whose full agreement reaches a level. */
export const fewestTasters = (cups: number, alpha: number): number =>
  1 + Math.max(1, Math.ceil(-Math.log(alpha) / logGamma(cups + 1) - 1e-9));

/** What a ranking can show, before anything is poured. */
export function sayRankingPlan(tasters: number, cups: number, alpha: number): Finding {
  const p = fullAgreementP(tasters, cups);
  const values = { tasters, cups, alpha, chance: chanceWords(p) };
  return p <= alpha
    ? finding('note', 'ranking_reach', values)
    : finding('cannot', 'ranking_cannot_reach', { ...values, fewest: fewestTasters(cups, alpha) });
}

/** What a ranking means; names of the cups in table order. Pairs are only looked at when the whole is clear. */
export function sayRanking(ranking: Ranking, names: readonly string[], alpha: number): Finding[] {
  const { tasters, cups } = ranking;
  if (fullAgreementP(tasters, cups) > alpha)
    return [
      finding('cannot', 'ranking_level_unreachable', {
        tasters,
        cups,
        alpha,
        fewest: fewestTasters(cups, alpha),
      }),
    ];
  const firmness = firmnessOf(ranking.p.p, alpha);
  const main = finding(firmness, `ranking_${firmness}`, {
    p: writtenP(ranking.p.p),
    how: howWords(ranking.p),
    alpha,
    concordance: rounded(ranking.concordance),
  });
  if (firmness !== 'clear') return [main];
  const least = ranking.least_difference;
  const pairs = pairsApart(ranking.rank_sums, least).map(({ first, second, difference }) =>
    finding('clear', 'pair_apart', {
      first: names[first]!,
      second: names[second]!,
      difference: rounded(Math.abs(difference), 1),
      least: rounded(least, 1),
    }),
  );
  return [main, ...pairs];
}

/** What Page's test means. */
export function sayPage(test: PageTest, alpha: number): Finding {
  const values = { p: writtenP(test.p.p), how: howWords(test.p) };
  return test.p.p <= alpha
    ? finding('clear', 'page_clear', values)
    : finding('not_shown', 'page_not_shown', values);
}

/** What worths from pairs mean: every pair of cups, the penalty if there was one, the order effect if it matters. */
export function sayWorths(fit: BradleyTerry, names: readonly string[], alpha: number): Finding[] {
  const order = fit.worths.map((_, i) => i).sort((a, b) => fit.worths[b]! - fit.worths[a]!);
  const pairs = order.flatMap((first, k) =>
    order.slice(k + 1).map((second) => {
      const d = worthDifference(fit, first, second);
      const values = { first: names[first]!, second: names[second]!, p: writtenP(d.p) };
      return d.p <= alpha
        ? finding('clear', 'worth_clear', { ...values, share: percent(d.chance_first_wins) })
        : finding('not_shown', 'worth_not_shown', values);
    }),
  );
  if (fit.penalised) pairs.push(finding('caution', 'worth_penalised'));
  if (fit.order) {
    const p = 2 * normalCdf(-Math.abs(fit.order.value / fit.order.se));
    if (p <= alpha)
      pairs.push(
        finding('caution', 'order_matters', {
          place: fit.order.value > 0 ? 'first' : 'second',
          p: writtenP(p),
        }),
      );
  }
  return pairs;
}

/** What the scores of a panel mean, and what stands out about its tasters. */
export function sayPanel(
  anova: PanelAnova,
  people: readonly Assessor[],
  names: readonly string[],
  alpha: number,
): Finding[] {
  const { f, df1, df2, p } = anova.cup_test;
  const firmness = firmnessOf(p, alpha);
  const findings = [
    finding(firmness, `panel_${firmness}`, {
      f: rounded(f),
      df1,
      df2: rounded(df2, 1),
      p: writtenP(p),
      alpha,
    }),
  ];
  if (firmness === 'clear')
    findings.push(finding('note', 'panel_least', { least: rounded(anova.least_difference) }));
  if (anova.interaction_test && anova.interaction_test.p <= alpha)
    findings.push(finding('caution', 'tasters_see_otherwise', { p: writtenP(anova.interaction_test.p) }));
  return [...findings, ...people.flatMap((person) => sayAssessor(person, names[person.taster]!))];
}

function sayAssessor(of: Assessor, taster: string): Finding[] {
  return of.remarks.map((code) =>
    finding('note', code, {
      taster,
      p: writtenP(of.discrimination?.p ?? 1),
      slope: rounded(of.slope ?? 0),
      correlation: rounded(of.correlation ?? 0),
      sd: rounded(of.repeat_sd ?? 0),
    }),
  );
}

/**
 * What the words of a check-all-that-apply ballot mean. When not even full agreement on one word would reach the level, corrected for
 * the words asked, that is all that is said.
 */
export function sayWords(words: readonly WordTest[], alpha: number, tasters: number): Finding[] {
  const cups = words[0]?.ticks.length ?? 0;
  // A taster's ticks can lie in most ways when half of the cups are ticked.
  const ways = Math.exp(logChoose(cups, Math.floor(cups / 2)));
  if (words.length * ways ** -(tasters - 1) > alpha * (1 + 1e-9))
    return [finding('cannot', 'words_cannot_reach', { tasters, cups, asked: words.length, alpha })];
  return words.map(({ word, p_holm }) => {
    const clear = p_holm <= alpha;
    return finding(clear ? 'clear' : 'not_shown', clear ? 'word_clear' : 'word_not_shown', {
      word,
      p: writtenP(p_holm),
      asked: words.length,
    });
  });
}

/** What just-about-right answers mean. `attribute` is a noun: "acidity". */
export function sayJustAboutRight(result: JustAboutRight, attribute: string, alpha: number): Finding[] {
  return result.penalties
    .filter(({ share }) => share > 0)
    .map(({ side, share, drop, p, weighted }) => {
      const values = {
        share: percent(share),
        side: `${side.replace('_', ' ')} ${attribute}`,
        limit: percent(WORTH_ACTING),
      };
      if (share < WORTH_ACTING) return finding('note', 'jar_few', values);
      if (p === null || drop === null) return finding('cannot', 'jar_untested', values);
      const [here, right] = [Math.round(share * result.count), Math.round(result.right_share * result.count)];
      // The fewest that a random division can come to: one in all ways to divide.
      if (Math.exp(-logChoose(here + right, here)) > alpha * (1 + 1e-9))
        return finding('cannot', 'jar_cannot_reach', { ...values, here, right, alpha });
      const more = { ...values, drop: rounded(drop), p: writtenP(p.p), weighted: rounded(weighted ?? 0) };
      return p.p <= alpha ? finding('clear', 'jar_acts', more) : finding('not_shown', 'jar_not_shown', more);
    });
}

/** What a difference over time means; `unit` of the times: "s" or "%". */
export function sayTemporal(
  result: TemporalDifference,
  words: readonly string[],
  tasters: number,
  unit: string,
  alpha = 0.05,
): Finding {
  // With n tasters the two most extreme exchanges of 2ⁿ are all there is.
  if (2 / 2 ** tasters > alpha) return finding('cannot', 'temporal_cannot_reach', { tasters });
  const { word, time, difference } = result.largest;
  const values = {
    p: writtenP(result.p.p),
    word: words[word]!,
    time: `${rounded(time, 1)} ${unit}`,
    difference: percent(difference),
  };
  return result.p.p <= alpha
    ? finding('clear', 'temporal_clear', values)
    : finding('not_shown', 'temporal_not_shown', values);
}
