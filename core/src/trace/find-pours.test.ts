import { describe, expect, it } from 'vitest';
import { findPours } from './find-pours.ts';
import {
  type Dice,
  diceFrom,
  record,
  type Synthetic,
  type Troubles,
  type TruePour,
} from './testing/synthetic.ts';

const CALM: Troubles = {
  noise_g: 0.1,
  step_g: 0.1,
  rate_Hz: 10,
  lag_s: 0.15,
  drift_g_s: 0,
  wander: 0.2,
  press: 0.12,
  knocks: [],
  lifts: [],
  tares: [],
  puts: [],
  missing: 0,
};

/** Three to six pours, as a brew has them. */
function brew(dice: Dice): TruePour[] {
  const count = Math.floor(dice.between(3, 6.99));
  let at = dice.between(4, 9);
  return Array.from({ length: count }, (_, i) => {
    const water_g = i === 0 ? dice.between(25, 60) : dice.between(20, 90);
    const duration = water_g / dice.between(2.2, 10);
    const pour = { start_s: at, end_s: at + duration, water_g };
    at += duration + dice.between(5, 35);
    return pour;
  });
}

/** A moment between two pours, with room on both sides. */
function between(truth: readonly TruePour[], dice: Dice, room: number): number | null {
  const gaps = truth.slice(1).flatMap((pour, i) => {
    const [from, to] = [truth[i]!.end_s + 2, pour.start_s - 2 - room];
    return to > from ? [[from, to] as const] : [];
  });
  const gap = gaps[Math.floor(dice.between(0, gaps.length - 1e-9))];
  return gap ? dice.between(gap[0], gap[1]) : null;
}

type Scene = 'calm' | 'knocked' | 'lifted' | 'set to zero' | 'vessel put on' | 'drifting' | 'everything';

function scene(name: Scene, seed: number): Synthetic {
  const dice = diceFrom(seed);
  const truth = brew(dice);
  const end = truth.at(-1)!.end_s + 15;
  const all = name === 'everything';
  const troubles: Troubles = { ...CALM, lag_s: dice.between(0.05, 0.3), wander: dice.between(0, 0.3) };
  if (name === 'knocked' || all)
    troubles.knocks = Array.from({ length: 6 }, () => ({
      at_s: dice.between(1, end),
      for_s: dice.between(0.1, 0.4),
      by_g: dice.happens(0.7) ? dice.between(4, 90) : -dice.between(4, 30),
    }));
  if (name === 'lifted' || all) {
    const for_s = dice.between(1, 5);
    const at_s = between(truth, dice, for_s);
    if (at_s !== null) troubles.lifts = [{ at_s, for_s, by_g: dice.between(180, 500) }];
  }
  if (name === 'set to zero') {
    const at = between(truth, dice, 0);
    // A balance sets itself to zero only once it stands still.
    troubles.tares = [dice.between(2.4, 3.2), ...(at === null ? [] : [at])];
    troubles.puts = [{ at_s: 0.4, by_g: dice.between(12, 300) }];
  }
  if (name === 'vessel put on') troubles.puts = [{ at_s: 1.5, by_g: dice.between(60, 500) }];
  if (name === 'drifting' || all) troubles.drift_g_s = dice.between(-0.03, 0.03);
  if (all) troubles.missing = 0.05;
  return record(truth, troubles, end, dice);
}

interface Score {
  pours: number;
  found: number;
  extra: number;
  start: number[];
  end: number[];
  grams: number[];
}

/** Sets found pours against true ones, each to the nearest start within 3 s. */
function scoreOf(name: Scene, seeds: readonly number[]): Score {
  const score: Score = { pours: 0, found: 0, extra: 0, start: [], end: [], grams: [] };
  for (const seed of seeds) {
    const { time_s, mass_g, truth } = scene(name, seed);
    const { pours } = findPours(time_s, mass_g);
    const used = new Set<number>();
    for (const real of truth) {
      score.pours++;
      const i = pours.findIndex((p, k) => !used.has(k) && Math.abs(p.start_s - real.start_s) < 3);
      const p = pours[i];
      if (!p) continue;
      used.add(i);
      score.found++;
      score.start.push(p.start_s - real.start_s);
      score.end.push(p.end_s - real.end_s);
      score.grams.push(p.water_g - real.water_g);
    }
    score.extra += pours.length - used.size;
  }
  return score;
}

const within = (values: readonly number[], limit: number, of: number): number =>
  values.filter((v) => Math.abs(v) <= limit).length / of;
const worst = (values: readonly number[]): string => Math.max(0, ...values.map(Math.abs)).toFixed(2);

const SCENES: readonly Scene[] = [
  'calm',
  'knocked',
  'lifted',
  'set to zero',
  'vessel put on',
  'drifting',
  'everything',
];

describe('pours found in recordings with known truth (invented, seeded)', () => {
  const scores = SCENES.map((name, i) => ({
    name,
    score: scoreOf(
      name,
      Array.from({ length: 14 }, (_, k) => 1_000 * i + k + 1),
    ),
  }));
  const total = scores.reduce((sum, { score }) => sum + score.pours, 0);

  it('are at least 200, and here is how well each sort is found', () => {
    const rows = scores.map(({ name, score }) =>
      [
        name.padEnd(14),
        `${score.pours}`.padStart(5),
        `${score.found}`.padStart(5),
        `${score.extra}`.padStart(5),
        `${(100 * within(score.start, 0.5, score.pours)).toFixed(1)} %`.padStart(9),
        `${(100 * within(score.end, 0.5, score.pours)).toFixed(1)} %`.padStart(9),
        `${(100 * within(score.grams, 1, score.pours)).toFixed(1)} %`.padStart(9),
        `${worst(score.start)} s`.padStart(8),
        `${worst(score.grams)} g`.padStart(8),
      ].join(' '),
    );
    console.log(
      ['scene          pours found extra start±0.5s end±0.5s grams±1g   worst    worst', ...rows].join('\n'),
    );
    expect(total).toBeGreaterThanOrEqual(200);
  });
  it.each(scores)('$name: start within 0.5 s and grams within 1 g in 95 % of them', ({ score }) => {
    expect(within(score.start, 0.5, score.pours)).toBeGreaterThanOrEqual(0.95);
    expect(within(score.grams, 1, score.pours)).toBeGreaterThanOrEqual(0.95);
    expect(score.extra).toBeLessThanOrEqual(0.02 * score.pours);
  });
});
