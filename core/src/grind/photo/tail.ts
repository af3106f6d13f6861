import { normalCdf, normalDensity, normalQuantile } from '../special.ts';

const upperTail = (z: number): number => normalCdf(-z);

/** Grains in order of size, ready to be counted many times over. */
export interface SizedGrains {
  /** ln of size, rising. */
  logs: Float64Array;
  /** Number each grain stands for. */
  numbers: Float64Array;
  /** Volume of each grain over the cube of its size. */
  shapes: Float64Array;
}

/** Grains that make the tail: as few as fix a spread, and so few that they lie in one mode. */
const TAIL_GRAINS = 20;
/** Steps of the fit at most. */
const ROUNDS = 40;
/** A wider tail than this is no grind; it keeps a bad sample finite. */
const MOST_DEVIATION = 1.2;

/**
 * Volume of the grounds that a sample of grains comes from, by size. Below the largest {@link TAIL_GRAINS} grains it is that of
 * the grains; above, that of the upper end of a log-normal that fits how many they are and how they spread. The largest grains of a sample are smaller than
 * the largest of the grounds: a sample alone puts D90 too low, and resampling it cannot tell.
 */
export interface TailedVolume {
  /** ln of size where the tail begins; every quantile beyond is of the fitted curve. */
  begins: number;
  /** Volume below each grain before the tail, and in all [same unit]. */
  body: Float64Array;
  bodyVolume: number;
  total: number;
  mean: number;
  deviation: number;
  /** Volume unit of the fitted curve: N times mean shape. */
  scale: number;
  /** Grains before the tail. */
  count: number;
}

/** Fits the tail for counts `times` of each grain (1 for the sample itself). Returns null for fewer than three grains. */
export function fitTail(
  { logs, numbers, shapes }: SizedGrains,
  times: ArrayLike<number>,
): TailedVolume | null {
  const n = logs.length;
  let first = n;
  let drawn = 0;
  while (first > 0 && drawn < TAIL_GRAINS) drawn += times[--first]! > 0 ? times[first]! : 0;
  const body = new Float64Array(first);
  let bodyVolume = 0;
  let below = 0;
  for (let k = 0; k < first; k++) {
    const number = times[k]! * numbers[k]!;
    bodyVolume += number * shapes[k]! * Math.exp(3 * logs[k]!);
    body[k] = bodyVolume;
    below += number;
  }
  let above = 0;
  let sum = 0;
  let square = 0;
  let shape = 0;
  for (let k = first; k < n; k++) {
    const number = times[k]! * numbers[k]!;
    above += number;
    sum += number * logs[k]!;
    square += number * logs[k]! ** 2;
    shape += number * shapes[k]!;
  }
  if (!(above > 0)) return null;
  const begins = first > 0 ? (logs[first]! + logs[first - 1]!) / 2 : logs[0]! - 1e-6;
  const { mean, deviation } = fitCensored(begins, below, above, sum, square);
  const scale = (below + above) * (shape / above);
  const tail = { begins, body, bodyVolume, total: 0, mean, deviation, scale, count: first };
  tail.total = bodyVolume + tailMoment(tail, 3, begins);
  return tail;
}

/**
 * Mean and deviation of a normal of which `below` values are known to lie under `cut` and `above` by sum and square: maximum
 * likelihood. In 1/σ and (μ − cut)/σ the likelihood is concave (Olsen, Econometrica 46, 1211, 1978), so Newton's steps, halved
 * when they overshoot, end in its one summit.
 */
function fitCensored(
  cut: number,
  below: number,
  above: number,
  sum: number,
  square: number,
): { mean: number; deviation: number } {
  const first = sum - above * cut;
  const second = Math.max(square - 2 * cut * sum + above * cut * cut, (first * first) / above) + 1e-6 * above;
  const start = normalQuantile(Math.min(0.9999, Math.max(0.05, below / (below + above))));
  const hazard = normalDensity(start) / normalCdf(-start);
  let theta = Math.min(20, Math.max(0.2, (hazard - start) / Math.max(1e-3, first / above)));
  let delta = -start;
  for (let round = 0; round < ROUNDS; round++) {
    const lambda = normalDensity(delta) / Math.max(1e-300, normalCdf(-delta));
    const gradDelta = -below * lambda + theta * first - above * delta;
    const gradTheta = above / theta - theta * second + delta * first;
    const dd = -below * lambda * (lambda - delta) - above;
    const tt = -above / (theta * theta) - second;
    const determinant = dd * tt - first * first;
    let stepDelta = -(tt * gradDelta - first * gradTheta) / determinant;
    let stepTheta = -(dd * gradTheta - first * gradDelta) / determinant;
    const share = Math.min(1, 1 / Math.abs(stepDelta), (0.5 * theta) / Math.abs(stepTheta));
    stepDelta *= share;
    stepTheta *= share;
    delta += stepDelta;
    theta += stepTheta;
    if (Math.abs(stepDelta) < 1e-9 && Math.abs(stepTheta) < 1e-9 * theta) break;
  }
  const deviation = Math.min(MOST_DEVIATION, 1 / theta);
  return { mean: cut + delta * deviation, deviation };
}

/** Moment of order p of the fitted tail above ln size `from`: scale · ∫ eᵖˣ φ dx. */
export function tailMoment(tail: TailedVolume, order: number, from: number): number {
  const { mean, deviation, scale } = tail;
  const z = (from - mean - order * deviation * deviation) / deviation;
  return scale * Math.exp(order * mean + 0.5 * (order * deviation) ** 2) * upperTail(z);
}

/** ln of the size below which the share `at` of the volume lies. */
export function tailedQuantile(tail: TailedVolume, logs: Float64Array, at: number): number {
  const wanted = at * tail.total;
  if (wanted <= tail.bodyVolume) return bodyQuantile(tail, logs, wanted);
  let low = tail.begins;
  let high = Math.max(low, tail.mean + 3 * tail.deviation ** 2) + 8 * tail.deviation;
  for (let round = 0; round < 40; round++) {
    const middle = (low + high) / 2;
    if (tail.total - tailMoment(tail, 3, middle) < wanted) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function bodyQuantile({ body, count }: TailedVolume, logs: Float64Array, wanted: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (body[middle]! < wanted) low = middle + 1;
    else high = middle;
  }
  return logs[low]!;
}
