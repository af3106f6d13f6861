/** Recordings of a balance under dripper and server with known truth, for tests and for the demo. */
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** A pour as it really was. */
export interface TruePour {
  start_s: number;
  end_s: number;
  water_g: number;
}

/** What is done to the truth before it is recorded. */
export interface Troubles {
  /** Standard deviation of a reading [g], and the step it is shown in. */
  noise_g: number;
  step_g: number;
  /** Readings per second. */
  rate_Hz: number;
  /** Time constant of the balance's own smoothing [s]. */
  lag_s: number;
  drift_g_s: number;
  /** How far the flow of a hand wanders, relative. */
  wander: number;
  /** Force of the falling stream, as a mass per flow [g per g/s]. */
  press: number;
  knocks: readonly { at_s: number; for_s: number; by_g: number }[];
  lifts: readonly { at_s: number; for_s: number; by_g: number }[];
  tares: readonly number[];
  puts: readonly { at_s: number; by_g: number }[];
  /** Share of readings that are missing. */
  missing: number;
}

export interface Synthetic {
  time_s: Float64Array;
  mass_g: Float64Array;
  truth: readonly TruePour[];
}

/** Chance as tests need it. */
export interface Dice {
  /** Between two numbers, evenly. */
  between(low: number, high: number): number;
  /** Normal with mean 0 and deviation 1. */
  normal(): number;
  /** True with a chance. */
  happens(chance: number): boolean;
}

/** Dice from a seed, a whole number. */
export function diceFrom(seed: number): Dice {
  const generator = xoroshiro128plus(seed);
  const unit = () => uniformFloat64(generator);
  // Neighbouring seeds begin alike.
  for (let i = 0; i < 20; i++) unit();
  return {
    between: (low, high) => low + (high - low) * unit(),
    // Box and Muller 1958.
    normal: () => Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit()),
    happens: (chance) => unit() < chance,
  };
}

/** Flow over the time of a pour: a rise, a plateau that wanders, a fall; scaled to its water. */
function flowOf(pour: TruePour, wander: number, phase: number): (t: number) => number {
  const duration = pour.end_s - pour.start_s;
  const edge = Math.min(0.4, duration / 4);
  const bare = (t: number): number => {
    const x = t - pour.start_s;
    if (x < 0 || x > duration) return 0;
    const ramp = Math.min(1, x / edge, (duration - x) / edge);
    return ramp * (1 + wander * Math.sin(2.1 * x + phase));
  };
  let area = 0;
  const fine = duration / 400;
  for (let i = 0; i < 400; i++) area += bare(pour.start_s + (i + 0.5) * fine) * fine;
  return (t) => (bare(t) * pour.water_g) / area;
}

/** Records pours with a balance that has its troubles. */
export function record(
  truth: readonly TruePour[],
  troubles: Troubles,
  length_s: number,
  dice: Dice,
): Synthetic {
  const flows = truth.map((pour) => flowOf(pour, troubles.wander, dice.between(0, 6.28)));
  const fine = 0.02;
  const every = Math.round(1 / (troubles.rate_Hz * fine));
  const times: number[] = [];
  const masses: number[] = [];
  let poured = 0;
  let shown = 0;
  let zero = 0;
  const tares = [...troubles.tares];
  for (let i = 0; i * fine <= length_s; i++) {
    const t = i * fine;
    const flow = flows.reduce((sum, f) => sum + f(t), 0);
    poured += flow * fine;
    const put = troubles.puts.reduce((sum, p) => sum + (t >= p.at_s ? p.by_g : 0), 0);
    const lifted = troubles.lifts.find((l) => t >= l.at_s && t < l.at_s + l.for_s);
    const knock = troubles.knocks.find((k) => t >= k.at_s && t < k.at_s + k.for_s);
    const load =
      poured +
      put +
      troubles.press * flow +
      troubles.drift_g_s * t -
      (lifted?.by_g ?? 0) +
      (knock?.by_g ?? 0);
    shown += (load - shown) * (1 - Math.exp(-fine / Math.max(1e-6, troubles.lag_s)));
    if (tares.length > 0 && t >= tares[0]!) {
      tares.shift();
      zero = shown;
    }
    if (i % every !== 0 || dice.happens(troubles.missing)) continue;
    const read = shown - zero + troubles.noise_g * dice.normal();
    times.push(Math.round(1e3 * t) / 1e3);
    masses.push(Math.round(read / troubles.step_g) * troubles.step_g);
  }
  return { time_s: Float64Array.from(times), mass_g: Float64Array.from(masses), truth };
}
