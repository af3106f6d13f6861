import type { Band } from '../../brew/index.ts';
import { diceFrom } from '../chance.ts';
import type { Layout } from './layout.ts';
import { climbDamped } from './levenberg.ts';
import { bandOf, logDeterminantOf } from './linear.ts';
import type { Evidence, Target } from './target.ts';
import { NU } from './target.ts';
import type { ChannelName, Surprise, TrialLesson, TrialSet } from './types.ts';

/** What the lessons are drawn from. */
export interface Answer {
  layout: Layout;
  target: Target;
  evidence: readonly Evidence[];
  best: Float64Array;
  /** Expected curvature at the best point, [K × K]. */
  curvature: Float64Array;
  /** Standard deviations of the posterior, [K]. */
  deviations: Float64Array;
  draws: readonly Float64Array[];
  seed: number;
}

/** Most parameters that are named as moved by one trial. */
const MOST_SHIFTS = 5;
/** Draws that expected bands are made from. */
const BAND_DRAWS = 200;

/** What each trial taught: the posterior without it, beside the one with it. One trial at a time. */
export function* lessonsOf(set: TrialSet, answer: Answer): Generator<number, TrialLesson[], void> {
  const { layout, target, best, curvature, deviations } = answer;
  const size = target.size;
  const withAll = logDeterminantOf(curvature, size);
  const figures = figuresOf(answer);
  const lessons: TrialLesson[] = [];
  for (let t = 0; t < set.trials.length; t++) {
    const { trial, age_d } = set.trials[t]!;
    const without = climbDamped(target.surface(t), best, { steps: 30, tolerance: 1e-6 });
    const bits = (withAll - logDeterminantOf(without.curvature, size)) / (2 * Math.LN2);
    const shifts = layout.unknowns
      .map(({ id }, k) => ({ id, shift: (without.x[k]! - best[k]!) / deviations[k]! }))
      .sort((a, b) => Math.abs(b.shift) - Math.abs(a.shift))
      .slice(0, MOST_SHIFTS);
    lessons.push({
      trial_id: trial.id,
      name: trial.name,
      brewed_at: trial.brewed_at,
      age_d,
      bits: Math.max(0, bits),
      shifts,
      figures: figures[t]!,
    });
    yield (t + 1) / set.trials.length;
  }
  return lessons;
}

/** A figure's values on the scale of the fit, as a person reads them. */
export function read(channel: ChannelName, value: number, dose_g: number): number {
  if (channel === 'beverage') return value * dose_g;
  return channel === 'temperature' ? value : Math.exp(value);
}

export const CHANNEL_UNITS: Readonly<Record<ChannelName, string>> = {
  strength: '%',
  beverage: 'g',
  drawdown: 's',
  temperature: '°C',
};

/** Every measured figure beside what the posterior expects of that brew, by trial. */
function figuresOf({ target, evidence, best, draws, seed }: Answer): Surprise[][] {
  const n = target.figures;
  const [mean, square] = [new Float64Array(n), new Float64Array(n)];
  const dice = diceFrom(seed);
  const every = Math.max(1, Math.floor(draws.length / BAND_DRAWS));
  const chosen = draws.filter((_, i) => i % every === 0);
  const samples = chosen.map((z) => {
    target.expect(z, mean, square);
    return mean.map((m, i) => m + Math.sqrt(square[i]!) * dice.student(NU));
  });
  target.expect(best, mean, square);
  const found: Surprise[][] = evidence.map(() => []);
  let i = 0;
  evidence.forEach(({ observations: o }, t) => {
    for (const figure of o.figures) {
      if (figure.kind === 'level' && Number.isFinite(mean[i]!)) {
        const distance = (target.measured[i]! - mean[i]!) / Math.sqrt(square[i]!);
        const band = bandOf(samples.map((s) => s[i]!));
        const shown = (x: number) => read(figure.channel, x, o.dose_g);
        const expected: Band = { low: shown(band.low), mid: shown(band.mid), high: shown(band.high) };
        found[t]!.push({
          channel: figure.channel,
          where: figure.where,
          unit: CHANNEL_UNITS[figure.channel],
          measured: shown(target.measured[i]!),
          expected,
          distance,
          weight: NU / (NU + distance * distance),
        });
      }
      i++;
    }
  });
  return found;
}

/** Figures that were measured but that the engine does not give, by trial: the place of the trial and the channel. */
export function notComputed(evidence: readonly Evidence[]): { trial: number; channel: ChannelName }[] {
  return evidence.flatMap(({ observations: o, surrogate }, trial) =>
    [
      ...new Set(o.figures.flatMap(({ channel }, i) => (Number.isNaN(surrogate.base[i]!) ? [channel] : []))),
    ].map((channel) => ({ trial, channel })),
  );
}
