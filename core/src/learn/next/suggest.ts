import { normalCdf, normalQuantile } from '../../panel/distributions.ts';
import type { DesignFactor } from '../design/types.ts';
import { type Belief, believe, expectedAt, type Place, saidOf } from './belief.ts';
import { candidateLevels, levelsAt, partsOf } from './candidates.ts';
import { expectedDistance, positivePart, targetImprovement } from './improvement.ts';
import { sayNext } from './say-next.ts';
import type { NextAim, NextBrew, NextBudget, NextQuestion, SuggestedBrew } from './types.ts';

/** Candidates whose knowledge is worked out, and courses it is worked out with. */
const LOOKED_AT = 60;
const COURSES = 6;
/** Nodes of the mean over what a brew could show. */
const NODES = 15;
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
 * The next brew worth its grams: a Gaussian process over the levels (Matérn 5/2, its scales averaged over), learnt from values and from blind
 * choices, the age of the coffee as a drift; suggestions by expected gain over the champion, whose own level counts as uncertain, and by
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

/** Sign that makes a value one to be made larger; a target is worked out on the value itself. */
const signOf = (aim: NextAim): number => (aim.by === 'least' ? -1 : 1);

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

/** How good a value is for the aim, from what is expected of it. */
function worth(mean: number, sd: number, aim: NextAim): number {
  return aim.by === 'target' ? -expectedDistance(mean - aim.target, sd) : signOf(aim) * mean;
}

/** Expected values of places in the value's own unit and sign. */
function valuesAt(
  belief: Belief,
  levels: readonly (readonly number[])[],
  places: readonly Place[],
  aim: NextAim,
  expect: (levels: readonly number[]) => number,
): { mean: number; sd: number }[] {
  return expectedAt(belief, places).map(({ mean, sd }, i) => ({
    mean: signOf(aim) * mean + expect(levels[i]!),
    sd,
  }));
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

type Scored = Omit<SuggestedBrew, 'why' | 'changes'> & { place: Place };

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

/** Gain, chance and knowledge of every candidate and of the champion once more. */
function score(
  belief: Belief,
  candidates: readonly (readonly number[])[],
  champion: Champion,
  question: NextQuestion,
): Scored[] {
  const { factors, aim } = question;
  const expect = (levels: readonly number[]) => question.expect?.(levels) ?? 0;
  const levels = [champion.levels, ...candidates];
  const places = levels.map((of): Place => ({ u: partsOf(factors, of), age: 0 }));
  const offset = levels.map((of) => (signOf(aim) * expect(of)) / belief.scale);
  const gain = new Float64Array(levels.length);
  const chance = new Float64Array(levels.length);
  for (const course of belief.courses) {
    const said = saidOf(belief, course, places);
    for (let j = 0; j < levels.length; j++) {
      const one = gainOf(said, offset, j, aim, belief);
      gain[j]! += course.weight * one.gain;
      chance[j]! += course.weight * one.chance;
    }
  }
  const values = valuesAt(belief, levels, places, aim, expect);
  const scored = levels.map(
    (of, j): Scored => ({
      levels: [...of],
      ...values[j]!,
      expected_gain: belief.scale * gain[j]!,
      chance_better: chance[j]!,
      knowledge: 0,
      place: places[j]!,
    }),
  );
  return withKnowledge(belief, scored, offset, aim);
}

/** Gain of place j over the champion, place 0, in units of the spread. */
function gainOf(
  said: ReturnType<typeof saidOf>,
  offset: readonly number[],
  j: number,
  aim: NextAim,
  belief: Belief,
): { gain: number; chance: number } {
  if (aim.by === 'target') {
    const target = (aim.target - belief.centre) / belief.scale;
    const away = said.mean[j]! + offset[j]! - target;
    const sd = Math.sqrt(said.variance[j]!);
    const distance = expectedDistance(said.mean[0]! + offset[0]! - target, Math.sqrt(said.variance[0]!));
    const within =
      sd > 0
        ? normalCdf((distance - away) / sd) - normalCdf((-distance - away) / sd)
        : Number(Math.abs(away) < distance);
    return { gain: j === 0 ? 0 : targetImprovement(away, sd, distance), chance: j === 0 ? 0.5 : within };
  }
  const ahead = said.mean[j]! + offset[j]! - said.mean[0]! - offset[0]!;
  const apart = Math.sqrt(Math.max(0, said.variance[j]! + said.variance[0]! - 2 * said.covariance(j, 0)));
  const same = j === 0 || apart < 1e-9;
  return {
    gain: same ? Math.max(0, ahead) : positivePart(ahead, apart),
    chance: same ? 0.5 : normalCdf(ahead / apart),
  };
}

/** Knowledge of the most promising candidates: by how much the best mean is expected to rise once each is brewed. */
function withKnowledge(belief: Belief, scored: Scored[], offset: readonly number[], aim: NextAim): Scored[] {
  if (aim.by === 'target') return scored;
  const order = scored.map((_, j) => j).sort((a, b) => scored[b]!.expected_gain - scored[a]!.expected_gain);
  const looked = [...new Set([0, ...order.slice(0, LOOKED_AT)])];
  const places = looked.map((j) => scored[j]!.place);
  const z = Array.from({ length: NODES }, (_, i) => normalQuantile((i + 0.5) / NODES));
  const knowledge = new Float64Array(looked.length);
  const courses = belief.courses.slice(0, COURSES);
  const total = courses.reduce((t, { weight }) => t + weight, 0);
  for (const course of courses) {
    const said = saidOf(belief, course, places);
    const means = looked.map((j, i) => said.mean[i]! + offset[j]!);
    const best = Math.max(...means);
    looked.forEach((_, x) => {
      const root = Math.sqrt(said.variance[x]! + course.scales.repeat ** 2);
      if (root < 1e-9) return;
      const moved = means.map((__, a) => said.covariance(a, x) / root);
      const rise = z.reduce((t, node) => {
        let most = Number.NEGATIVE_INFINITY;
        for (let a = 0; a < means.length; a++) most = Math.max(most, means[a]! + moved[a]! * node);
        return t + most - best;
      }, 0);
      knowledge[x]! += (course.weight / total) * Math.max(0, rise / NODES);
    });
  }
  looked.forEach((j, i) => {
    scored[j]!.knowledge = belief.scale * knowledge[i]!;
  });
  return scored;
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
