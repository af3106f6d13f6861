import { normalCdf, normalQuantile } from '../../panel/distributions.ts';
import { type Belief, expectedAt, type Place, saidOf } from './belief.ts';
import { partsOf } from './candidates.ts';
import { expectedDistance, positivePart, targetImprovement } from './improvement.ts';
import type { NextAim, NextQuestion, SuggestedBrew } from './types.ts';

/** Candidates whose knowledge is worked out, and courses it is worked out with. */
const LOOKED_AT = 60;
const COURSES = 6;
/** Nodes of the mean over what a brew could show. */
const NODES = 15;
/** Sign that makes a value one to be made larger; a target is worked out on the value itself. */
export const signOf = (aim: NextAim): number => (aim.by === 'least' ? -1 : 1);

/** How good a value is for the aim, from what is expected of it. */
export function worth(mean: number, sd: number, aim: NextAim): number {
  return aim.by === 'target' ? -expectedDistance(mean - aim.target, sd) : signOf(aim) * mean;
}

/** Expected values of places in the value's own unit and sign. */
export function valuesAt(
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

/** A candidate with what is believed of it. */
export type Scored = Omit<SuggestedBrew, 'why' | 'changes'> & { place: Place };

/** Gain, chance and knowledge of every candidate and of the champion once more. */
export function score(
  belief: Belief,
  candidates: readonly (readonly number[])[],
  champion: { levels: readonly number[] },
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
