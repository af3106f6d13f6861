import type { DesignFactor } from '../design/types.ts';
import { type Belief, believe, expectedAt, type Place } from './belief.ts';
import { candidateLevels, levelsAt, partsOf } from './candidates.ts';
import { sayNext } from './say-next.ts';
import { type Scored, score, signOf, valuesAt, worth } from './score.ts';
import type { NextAim, NextBrew, NextBudget, NextQuestion, SuggestedBrew } from './types.ts';

/** A gain below this part of the scatter cannot be told apart; our choice. */
const TELLABLE = 0.2;
/** Brews before a stop is spoken of: as many as levels, and these. */
const BEFORE_STOP = 3;
/** Suggestions lie at least this far apart, as a part of the ranges. */
const APART = 0.12;

/** Brews that grams and minutes allow. */
export function brewsLeft({ grams, dose_g, minutes, brew_min }: NextBudget): number {
  const byGrams = Math.floor(grams / dose_g + 1e-9);
  return minutes === null ? byGrams : Math.min(byGrams, Math.floor(minutes / brew_min + 1e-9));
}

/**
 * The next brew worth its grams: a Gaussian process over the levels (a plain hill that judged values are expected to follow, and Matérn 5/2 for what
 * departs from it; all scales averaged over), learnt from values and from blind choices, the age of the coffee as a drift; suggestions by expected gain over the champion, whose own level counts as uncertain, and by
 * what a brew would teach for those after it (knowledge gradient; Frazier et al. 2009, from memory). Stops when nothing is left to gain.
 */
export function suggestNext(question: NextQuestion): NextBrew {
  const { factors, tried, aim } = question;
  const left = brewsLeft(question.budget);
  const belief = believe(evidenceOf(question));
  const here = uniquePlaces(question);
  const expect = (levels: readonly number[]) => question.expect?.(levels) ?? 0;
  const champion = here.length > 0 ? championOf(belief, here, aim, expect) : null;
  const candidates = candidateLevels(
    factors,
    champion ? nearBest(belief, here, aim, expect) : [],
    question.seed,
  );
  const scored = champion
    ? score(belief, candidates, champion, question)
    : [first(belief, factors, expect, aim)];
  const suggestions = left > 0 ? choose(scored, champion, question) : [];
  const learned = learnedOf(
    belief,
    factors,
    tried.some(({ age_d }) => age_d !== null),
  );
  const gain = suggestions[0]?.expected_gain ?? 0;
  const enough = tried.length >= factors.length + BEFORE_STOP;
  const result = {
    champion: champion && { tried: champion.tried, mean: champion.mean, sd: champion.sd },
    suggestions,
    brews_left: left,
    stop: champion !== null && enough && gain < TELLABLE * learned.repeat_sd,
    learned,
  };
  return { ...result, findings: sayNext(result, question) };
}

/** Age that the next brew will have: that of the oldest coffee brewed so far. */
const today = ({ tried }: NextQuestion): number => Math.max(0, ...tried.map(({ age_d }) => age_d ?? 0));

function evidenceOf(question: NextQuestion) {
  const { factors, tried, preferred, aim, repeat_sd, expect } = question;
  const sign = signOf(aim);
  const now = today(question);
  const place = (i: number): Place => ({
    u: partsOf(factors, tried[i]!.levels),
    age: tried[i]!.age_d === null ? 0 : tried[i]!.age_d - now,
  });
  return {
    factors: factors.length,
    repeat: repeat_sd,
    aging: new Set(tried.map(({ age_d }) => age_d)).size > 1 && tried.some(({ age_d }) => age_d !== null),
    values: tried.flatMap(({ value, doubt, levels }, i) =>
      value === null ? [] : [{ place: place(i), value: sign * (value - (expect?.(levels) ?? 0)), doubt }],
    ),
    hill: aim.by !== 'target' && expect === null,
    choices: preferred.map(({ better, worse }) => ({ better: place(better), worse: place(worse) })),
  };
}

/** A brew that was tried, as it would be today. */
interface Here {
  tried: number;
  levels: readonly number[];
  place: Place;
}

interface Champion extends Here {
  mean: number;
  sd: number;
}

function uniquePlaces({ factors, tried, preferred }: NextQuestion): Here[] {
  const spoken = new Set(preferred.flatMap(({ better, worse }) => [better, worse]));
  const known = tried.flatMap(({ levels, value }, i) =>
    value === null && !spoken.has(i)
      ? []
      : [{ tried: i, levels, place: { u: partsOf(factors, levels), age: 0 } }],
  );
  return [...new Map(known.map((one) => [one.levels.join(), one])).values()];
}

function championOf(
  belief: Belief,
  here: readonly Here[],
  aim: NextAim,
  expect: (levels: readonly number[]) => number,
): Champion {
  const values = valuesAt(
    belief,
    here.map((h) => h.levels),
    here.map((h) => h.place),
    aim,
    expect,
  );
  const best = values.reduce(
    (b, v, i) => (worth(v.mean, v.sd, aim) > worth(values[b]!.mean, values[b]!.sd, aim) ? i : b),
    0,
  );
  return { ...here[best]!, ...values[best]! };
}

/** Levels of the three best brews. */
function nearBest(
  belief: Belief,
  here: readonly Here[],
  aim: NextAim,
  expect: (levels: readonly number[]) => number,
) {
  const values = valuesAt(
    belief,
    here.map((h) => h.levels),
    here.map((h) => h.place),
    aim,
    expect,
  );
  return here
    .map(({ levels }, i) => ({ levels, worth: worth(values[i]!.mean, values[i]!.sd, aim) }))
    .sort((a, b) => b.worth - a.worth)
    .slice(0, 3)
    .map(({ levels }) => levels);
}

/** With nothing tried: the middle. */
function first(
  belief: Belief,
  factors: readonly DesignFactor[],
  expect: (levels: readonly number[]) => number,
  aim: NextAim,
): Scored {
  const levels = levelsAt(
    factors,
    factors.map(() => 0.5),
  );
  const place = { u: partsOf(factors, levels), age: 0 };
  const [value] = valuesAt(belief, [levels], [place], aim, expect);
  return { levels, ...value!, expected_gain: value!.sd, knowledge: 0, chance_better: 0.5, place };
}

/** The best by gain, the most instructive, the champion again when that teaches more, and another good one elsewhere. */
function choose(
  scored: readonly Scored[],
  champion: Champion | null,
  { factors, tried }: NextQuestion,
): SuggestedBrew[] {
  const from = champion ? tried[champion.tried]!.levels : null;
  const dress = ({ place: _, ...one }: Scored, why: SuggestedBrew['why']): SuggestedBrew => ({
    why,
    ...one,
    changes: from
      ? factors.flatMap((_, i) =>
          Math.abs(one.levels[i]! - from[i]!) > 1e-9
            ? [{ factor: i, from: from[i]!, to: one.levels[i]! }]
            : [],
        )
      : [],
  });
  if (!champion) return [dress(scored[0]!, 'gain')];
  const far = (a: Scored, b: Scored) =>
    Math.max(...a.place.u.map((v, i) => Math.abs(v - b.place.u[i]!))) >= APART;
  const isChampion = (one: Scored) => one.levels.join() === champion.levels.join();
  const others = scored.filter((one) => !isChampion(one));
  const byGain = [...others].sort((a, b) => b.expected_gain - a.expected_gain);
  const byKnowledge = [...scored].sort((a, b) => b.knowledge - a.knowledge);
  const best = byGain[0];
  if (!best) return [dress(scored[0]!, 'repeat')];
  const found = [dress(best, 'gain')];
  const learn = byKnowledge[0]!;
  if (learn.knowledge > 0 && !isChampion(learn) && far(learn, best)) found.push(dress(learn, 'learn'));
  if (scored[0]!.knowledge > 0 && scored[0]!.knowledge >= best.knowledge)
    found.push(dress(scored[0]!, 'repeat'));
  const second = byGain.find((one) => far(one, best) && one !== learn);
  if (second) found.push(dress(second, 'gain'));
  return found;
}

function learnedOf(belief: Belief, factors: readonly DesignFactor[], aged: boolean): NextBrew['learned'] {
  const mean = (pick: (course: Belief['courses'][number]) => number) =>
    belief.courses.reduce((t, course) => t + course.weight * pick(course), 0);
  return {
    repeat_sd: belief.scale * mean(({ scales }) => scales.repeat),
    signal_sd: belief.scale * mean(({ scales }) => scales.signal),
    reach: factors.map(({ low, high }, i) => (high - low) * mean(({ scales }) => scales.reach[i]!)),
    drift_per_d: aged ? driftOf(belief) : null,
  };
}

/** Change of the value a day that is believed: the mean of the process a day ago against today, at the first brew's place. */
function driftOf(belief: Belief): number | null {
  const place = belief.rows[0];
  if (!place) return null;
  const [before, after] = expectedAt(belief, [
    { u: place.u, age: -1 },
    { u: place.u, age: 0 },
  ]);
  return after!.mean - before!.mean;
}
