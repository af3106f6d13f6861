import { power } from '../units/power.ts';
import { LIQUID_HEAT_CAPACITY } from './liquid.ts';

/**
 * What a kettle is, in SI. Water and body share one temperature; what is poured leaves with it. The loss grows in proportion
 * to the temperature over the air (Newton), so that every stretch between two events has a closed form.
 */
export interface KettleBody {
  /** Water that the body acts like [kg]. */
  body: number;
  /** Heat that reaches the water at full power [W]. */
  power: number;
  /** [W/K], on or off the base. */
  loss: number;
  /** [K] */
  air: number;
  /** Temperature at which water boils here [K]: nothing gets hotter. */
  boils: number;
}

/** A pour as the kettle sees it. */
export interface KettleDraw {
  start: number;
  end: number;
  /** [kg/s] */
  flow: number;
  /** What the brewer wants to pour at, and so what the base is set to before it [K]. */
  asked: number;
}

/** A stretch of time in which a kettle does one thing. */
export interface KettleStretch {
  from: number;
  to: number;
  /** Water [kg] and temperature [K] when it begins. */
  mass: number;
  temperature: number;
  /** Water leaving [kg/s]; 0 between pours. */
  flow: number;
  /** What the base heats towards and holds [K]; null off the base. */
  set: number | null;
}

/** Least mass that is taken to warm and cool, water and body together [kg]: a kettle poured dry keeps its last temperature. */
const LEAST_MASS = 5e-3;

const capacity = (k: KettleBody, mass: number): number =>
  LIQUID_HEAT_CAPACITY * Math.max(LEAST_MASS, mass + k.body);

/** Temperature [K] after `t` [s] off the base: T = air + (T₀ − air) e^(−k t/C), Newton's law. */
export const cooled = (k: KettleBody, T: number, mass: number, t: number): number =>
  k.air + (T - k.air) * Math.exp((-k.loss * t) / capacity(k, mass));

/**
 * Temperature [K] after pouring for `t` [s] off the base. The capacity falls linearly, C = C₀ − c ṁ t, so that
 * T = air + (T₀ − air)(C/C₀)^(k/(c ṁ)): the less is left, the faster it cools.
 */
export function pouredOff(k: KettleBody, T: number, mass: number, flow: number, t: number): number {
  if (flow <= 0) return cooled(k, T, mass, t);
  const before = capacity(k, mass);
  const after = capacity(k, Math.max(0, mass - flow * t));
  return k.air + (T - k.air) * power(after / before, k.loss / (LIQUID_HEAT_CAPACITY * flow));
}

/**
 * Temperature [K] after `t` [s] on a base that is set to `set` [K], which heats with full power below it, not at all above it,
 * and holds it once reached. With full power T = T∞ + (T₀ − T∞) e^(−k t/C), T∞ = air + P/k; a base too weak for its setting
 * ends at T∞. Nothing passes the boiling point.
 */
export function onBase(k: KettleBody, T: number, mass: number, set: number, t: number): number {
  const goal = Math.min(set, k.boils);
  const rate = k.loss / capacity(k, mass);
  const cooling =
    T <= goal ? 0 : k.air < goal ? Math.log((T - k.air) / (goal - k.air)) / rate : Number.POSITIVE_INFINITY;
  if (t < cooling) return cooled(k, T, mass, t);
  const full = k.air + k.power / k.loss;
  return Math.min(goal, full + (Math.min(T, goal) - full) * Math.exp(-rate * (t - cooling)));
}

/** Time [s] that a base needs from T to `goal` [K]; infinite when its power does not reach that far. */
export function heatingTime(k: KettleBody, T: number, mass: number, goal: number): number {
  if (T >= goal) return 0;
  const full = k.air + k.power / k.loss;
  if (full <= goal || goal > k.boils) return Number.POSITIVE_INFINITY;
  return (capacity(k, mass) / k.loss) * Math.log((full - T) / (full - goal));
}

/** Temperature [K] at a moment within a stretch. */
export function temperatureIn(k: KettleBody, s: KettleStretch, time: number): number {
  const t = Math.min(s.to, Math.max(s.from, time)) - s.from;
  if (s.flow > 0) return pouredOff(k, s.temperature, s.mass, s.flow, t);
  return s.set === null ? cooled(k, s.temperature, s.mass, t) : onBase(k, s.temperature, s.mass, s.set, t);
}

/** Water [kg] at a moment within a stretch, never below none. */
export const massIn = (s: KettleStretch, time: number): number =>
  Math.max(0, s.mass - s.flow * (Math.min(s.to, Math.max(s.from, time)) - s.from));

/**
 * The course of one kettle from 0 to `end` [s] in stretches that touch. It is in the hand, off its base, during every pour;
 * between pours it stands on its base, set to what the next pour asks (after the last, to what that asked), or beside it.
 *
 * @param mass water at the start [kg]
 * @param temperature at the start [K]; above the boiling point it counts as boiling
 * @param draws in order of time, none overlapping another
 */
export function kettleCourse(
  k: KettleBody,
  start: { mass: number; temperature: number },
  draws: readonly KettleDraw[],
  between: 'on_base' | 'off_base',
  end: number,
): KettleStretch[] {
  const stretches: KettleStretch[] = [];
  let time = 0;
  let mass = start.mass;
  let temperature = Math.min(start.temperature, k.boils);
  const add = (to: number, flow: number, set: number | null): void => {
    if (to <= time) return;
    const stretch = { from: time, to, mass, temperature, flow, set };
    stretches.push(stretch);
    temperature = temperatureIn(k, stretch, to);
    mass = massIn(stretch, to);
    time = to;
  };
  for (const draw of draws) {
    add(draw.start, 0, between === 'on_base' ? draw.asked : null);
    add(draw.end, draw.flow, null);
  }
  add(end, 0, between === 'on_base' ? (draws.at(-1)?.asked ?? null) : null);
  return stretches;
}
