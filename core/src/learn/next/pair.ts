import { criticalDifference } from '../../panel/difference-test.ts';
import type { Finding } from '../../panel/findings.ts';
import { listed } from '../difference/finding.ts';
import { swappedOrder } from '../difference/repeat.ts';
import { levelWords } from './say-next.ts';
import { nextFinding as finding } from './sentences.ts';
import { suggestNext } from './suggest.ts';
import type { NextQuestion, SuggestedBrew } from './types.ts';

/** Two brews to be tasted side by side, blind. */
export interface ChampionPair {
  /** Place of the champion among the tried brews. */
  champion: number;
  challenger: SuggestedBrew;
  /** Brewing and serving order of this pair and the next one. */
  order: readonly ('champion' | 'challenger')[];
  /** Blind wins in a row that make the challenger better at the level. */
  wins_in_a_row: number;
  /** Wins that do so among more tastings. */
  wins_of: { wins: number; tastings: number };
  grams: number;
  findings: Finding[];
}

/** Tastings of a longer match, as one more way to decide. */
const LONGER = 8;

/**
 * Today's champion against the most promising challenger; the order is swapped from pair to pair, and how many blind wins count is fixed beforehand
 * by an exact binomial tail. null before anything was brewed, or when nothing is left to brew.
 */
export function championPair(question: NextQuestion, alpha = 0.05): ChampionPair | null {
  const { champion, suggestions, brews_left } = suggestNext(question);
  const challenger = suggestions.find(({ why, changes }) => why === 'gain' && changes.length > 0);
  if (!champion || !challenger || brews_left < 2) return null;
  const { tried, factors, budget } = question;
  let row = 1;
  while (0.5 ** row > alpha) row++;
  const most = criticalDifference('paired', LONGER, alpha) ?? LONGER;
  const pair = {
    champion: champion.tried,
    challenger,
    order: swappedOrder(2).map(
      (plan) => (plan === 'a' ? 'champion' : 'challenger') as 'champion' | 'challenger',
    ),
    wins_in_a_row: row,
    wins_of: { wins: most, tastings: LONGER },
    grams: 2 * budget.dose_g,
  };
  const to = listed(challenger.changes.map(({ factor, to: level }) => levelWords(factors[factor]!, level)));
  return {
    ...pair,
    findings: [
      finding('note', 'pair', {
        champion: tried[champion.tried]!.name,
        challenger: to,
        chance: Math.round(100 * challenger.chance_better),
      }),
      finding('note', 'pair_order', { order: 'champion, challenger' }),
      finding('caution', 'pair_decide', { wins: row, most, of: LONGER }),
    ],
  };
}
