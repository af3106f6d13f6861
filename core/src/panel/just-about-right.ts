import { logChoose } from './distributions.ts';
import { type Chance, chanceFrom } from './random.ts';
import { DRAWS, type PermutationP } from './row-permutations.ts';

/** One answer: how much there is of something, and how much the cup is liked. */
export interface RightAnswer {
  level: 'too_little' | 'right' | 'too_much';
  liking: number;
}

/** What one side costs. */
export interface Penalty {
  side: 'too_little' | 'too_much';
  share: number;
  /** Mean liking of those on this side; null when there are none. */
  liking: number | null;
  /** Mean liking of "right" minus that of this side; null when one of both is empty. */
  drop: number | null;
  /** Chance of such a drop or more when liking has nothing to do with the side; null with fewer than two on a side. */
  p: PermutationP | null;
  /** Share × drop: what putting it right could bring at most. */
  weighted: number | null;
}

/** Just-about-right answers of one attribute. */
export interface JustAboutRight {
  count: number;
  right_share: number;
  right_liking: number | null;
  penalties: Penalty[];
}

/** Combinations up to which all are gone through. */
const MOST_COMBINATIONS = 100_000;
/** Sides with less than this share are usually not acted on; common practice. */
export const WORTH_ACTING = 0.2;

const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;

/** Mean drop of liking on either side of "just about right", with an exact or permutation p. */
export function justAboutRight(answers: readonly RightAnswer[], seed = 1): JustAboutRight {
  const liking = (level: RightAnswer['level']) =>
    answers.filter((a) => a.level === level).map((a) => a.liking);
  const right = liking('right');
  const chance = chanceFrom(seed);
  const penalties = (['too_little', 'too_much'] as const).map((side): Penalty => {
    const here = liking(side);
    const share = here.length / answers.length;
    const drop = right.length > 0 && here.length > 0 ? mean(right) - mean(here) : null;
    return {
      side,
      share,
      liking: here.length > 0 ? mean(here) : null,
      drop,
      p: drop !== null && right.length > 1 && here.length > 1 ? higherP(right, here, chance) : null,
      weighted: drop === null ? null : share * drop,
    };
  });
  return {
    count: answers.length,
    right_share: right.length / answers.length,
    right_liking: right.length > 0 ? mean(right) : null,
    penalties,
  };
}

/** Chance that a random choice of as many values as `high` holds has as large a sum or larger: exact for small groups. */
export function higherP(high: readonly number[], low: readonly number[], chance: Chance): PermutationP {
  const all = [...high, ...low];
  const seen = high.reduce((a, b) => a + b, 0) - 1e-9;
  if (logChoose(all.length, high.length) <= Math.log(MOST_COMBINATIONS)) {
    let [reached, total] = [0, 0];
    const choose = (from: number, left: number, sum: number) => {
      if (left === 0) {
        total++;
        if (sum >= seen) reached++;
        return;
      }
      for (let i = from; i <= all.length - left; i++) choose(i + 1, left - 1, sum + all[i]!);
    };
    choose(0, high.length, 0);
    return { p: reached / total, from: 'all' };
  }
  let reached = 1;
  for (let draw = 0; draw < DRAWS; draw++) {
    chance.shuffle(all);
    if (all.slice(0, high.length).reduce((a, b) => a + b, 0) >= seen) reached++;
  }
  return { p: reached / (DRAWS + 1), from: DRAWS };
}
