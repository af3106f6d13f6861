import { determinant, inverse, Matrix, solve } from 'ml-matrix';
import { chiSquaredAbove, normalCdf, normalQuantile } from './distributions.ts';

/** Outcomes of one pair in one serving order. */
export interface PairCount {
  /** Served first and second; positions in the list of items. */
  first: number;
  second: number;
  first_wins: number;
  second_wins: number;
  ties: number;
}

/** What is fitted besides the worth of each item. */
export interface BradleyTerryOptions {
  /** Whether the cup served first has an advantage. */
  order_effect?: boolean;
  /**
   * 'none': plain maximum likelihood. 'firth': bias-reduced, finite always. 'as needed': Firth's, when plain worths would run
   * away because some items never lost to (or never won over) the others.
   */
  penalty?: 'none' | 'firth' | 'as needed';
}

/** Worths of items from pairs. */
export interface BradleyTerry {
  /** ln worth of each item, the first being 0. */
  worths: number[];
  /** Standard error of each worth against the first. */
  se: number[];
  /** Covariance of all worths, the first row and column being 0: [items][items]. */
  covariance: number[][];
  /** ln of the advantage of being served first, with its error; null when not fitted. */
  order: { value: number; se: number } | null;
  /** ln ν: how readily a tie is called (Davidson 1970), with its error; null when there are no ties. */
  ties: { value: number; se: number } | null;
  /** Twice the distance of log-likelihood to the best possible, its degrees of freedom and p (χ², rough for few pairs). */
  deviance: number;
  df: number;
  p: number;
  /** The same distance when every win is a toss; null when there are ties. */
  null_deviance: number | null;
  penalised: boolean;
}

/** Rows of the three answers over the parameters: worths without the first, then order, then ties. */
interface Design {
  size: number;
  order: number | null;
  ties: number | null;
  row(count: PairCount, answer: 0 | 1 | 2): number[];
}

function designOf(items: number, counts: readonly PairCount[], withOrder: boolean): Design {
  const withTies = counts.some(({ ties }) => ties > 0);
  const order = withOrder ? items - 1 : null;
  const ties = withTies ? items - 1 + (withOrder ? 1 : 0) : null;
  const size = items - 1 + (withOrder ? 1 : 0) + (withTies ? 1 : 0);
  return {
    size,
    order,
    ties,
    row({ first, second }, answer) {
      const x = new Array<number>(size).fill(0);
      const add = (item: number, by: number) => {
        if (item > 0) x[item - 1]! += by;
      };
      if (answer === 2) {
        add(first, 0.5);
        add(second, 0.5);
        x[ties!] = 1;
      } else {
        add(answer === 0 ? first : second, 1);
        if (answer === 0 && order !== null) x[order] = 1;
      }
      return x;
    },
  };
}

interface Moments {
  logLikelihood: number;
  score: number[];
  information: Matrix;
}

function moments(design: Design, counts: readonly PairCount[], theta: readonly number[]): Moments {
  const score = new Array<number>(design.size).fill(0);
  const information = Matrix.zeros(design.size, design.size);
  let logLikelihood = 0;
  for (const count of counts) {
    const answers = design.ties === null ? ([0, 1] as const) : ([0, 1, 2] as const);
    const seen = [count.first_wins, count.second_wins, count.ties];
    const total = seen.reduce((a, b) => a + b, 0);
    if (total === 0) continue;
    const rows = answers.map((a) => design.row(count, a));
    const eta = rows.map((x) => x.reduce((t, v, i) => t + v * theta[i]!, 0));
    const top = Math.max(...eta);
    const sum = eta.reduce((t, v) => t + Math.exp(v - top), 0);
    const p = eta.map((v) => Math.exp(v - top) / sum);
    const mean = score.map((_, i) => rows.reduce((t, x, a) => t + p[a]! * x[i]!, 0));
    rows.forEach((x, a) => {
      logLikelihood += seen[a]! * (eta[a]! - top - Math.log(sum));
      for (let i = 0; i < design.size; i++) {
        score[i]! += (seen[a]! - total * p[a]!) * x[i]!;
        for (let j = 0; j < design.size; j++)
          information.set(
            i,
            j,
            information.get(i, j) + total * p[a]! * (x[i]! - mean[i]!) * (x[j]! - mean[j]!),
          );
      }
    });
  }
  return { logLikelihood, score, information };
}

/** Firth's addition to the score: half the gradient of ln det of the information (Firth 1993; from memory). */
function firthScore(design: Design, counts: readonly PairCount[], theta: readonly number[]): number[] {
  const step = 1e-5;
  const at = (x: readonly number[]) => Math.log(determinant(moments(design, counts, x).information));
  return theta.map((_, k) => {
    const moved = (by: number) => theta.map((v, i) => (i === k ? v + by : v));
    return (at(moved(step)) - at(moved(-step))) / (4 * step);
  });
}

/**
 * Bradley–Terry worths from pairs, with ties (Davidson 1970) and an advantage of the first served (Davidson & Beaver 1977; both from
 * memory), by Newton's method on the likelihood. Plain worths are finite only when every item has won, through any chain, over
 * every other; see `penalty`. Returns null when the pairs do not connect all items.
 */
export function bradleyTerry(
  items: number,
  counts: readonly PairCount[],
  { order_effect = false, penalty = 'as needed' }: BradleyTerryOptions = {},
): BradleyTerry | null {
  const both = [...Array(items).keys()].every((item) => reaches(items, counts, item, () => true));
  if (!both) return null;
  const strong = [...Array(items).keys()].every((item) =>
    reaches(items, counts, item, (wins, ties) => wins + ties > 0),
  );
  const penalised =
    penalty === 'firth' || (penalty === 'as needed' && !(strong && orderIsFinite(counts, order_effect)));
  const design = designOf(items, counts, order_effect);
  const theta = newton(design, counts, penalised);
  const { logLikelihood, information } = moments(design, counts, theta);
  const inverted = inverse(information);
  const covariance = Array.from({ length: items }, (_, i) =>
    Array.from({ length: items }, (__, j) => (i === 0 || j === 0 ? 0 : inverted.get(i - 1, j - 1))),
  );
  const extra = (k: number | null) =>
    k === null ? null : { value: theta[k]!, se: Math.sqrt(inverted.get(k, k)) };
  const used = counts.filter((c) => c.first_wins + c.second_wins + c.ties > 0);
  const df = used.length * (design.ties === null ? 1 : 2) - design.size;
  const deviance = Math.max(0, 2 * (saturated(used) - logLikelihood));
  return {
    worths: [0, ...theta.slice(0, items - 1)],
    se: covariance.map((row, i) => Math.sqrt(row[i]!)),
    covariance,
    order: extra(design.order),
    ties: extra(design.ties),
    deviance,
    df,
    p: df > 0 ? chiSquaredAbove(deviance, df) : 1,
    null_deviance: design.ties === null ? 2 * (saturated(used) - tossed(used)) : null,
    penalised,
  };
}

const saturated = (counts: readonly PairCount[]): number =>
  counts.reduce((sum, c) => {
    const seen = [c.first_wins, c.second_wins, c.ties];
    const total = seen.reduce((a, b) => a + b, 0);
    return sum + seen.reduce((t, x) => t + (x > 0 ? x * Math.log(x / total) : 0), 0);
  }, 0);

const tossed = (counts: readonly PairCount[]): number =>
  -Math.LN2 * counts.reduce((t, c) => t + c.first_wins + c.second_wins, 0);

function newton(design: Design, counts: readonly PairCount[], penalised: boolean): number[] {
  let theta = new Array<number>(design.size).fill(0);
  for (let step = 0; step < 100; step++) {
    const { score, information } = moments(design, counts, theta);
    const extra = penalised ? firthScore(design, counts, theta) : theta.map(() => 0);
    const change = solve(information, Matrix.columnVector(score.map((v, i) => v + extra[i]!))).to1DArray();
    const largest = Math.max(...change.map(Math.abs));
    const scale = largest > 2 ? 2 / largest : 1;
    theta = theta.map((v, i) => v + scale * change[i]!);
    if (largest < 1e-10) break;
  }
  return theta;
}

/** An order effect runs away when the first, or the second, always wins. */
function orderIsFinite(counts: readonly PairCount[], fitted: boolean): boolean {
  const first = counts.reduce((t, c) => t + c.first_wins, 0);
  const second = counts.reduce((t, c) => t + c.second_wins, 0);
  return !fitted || (first > 0 && second > 0);
}

/** Whether wins (or any meeting) lead from one item to all others. */
function reaches(
  items: number,
  counts: readonly PairCount[],
  from: number,
  linked: (wins: number, ties: number) => boolean,
): boolean {
  const seen = new Set([from]);
  const queue = [from];
  while (queue.length > 0) {
    const at = queue.pop()!;
    for (const { first, second, first_wins, second_wins, ties } of counts) {
      if (first_wins + second_wins + ties === 0) continue;
      const next =
        first === at && linked(first_wins, ties)
          ? second
          : second === at && linked(second_wins, ties)
            ? first
            : null;
      if (next !== null && !seen.has(next)) {
        seen.add(next);
        queue.push(next);
      }
    }
  }
  return seen.size === items;
}

/** Difference of two worths with its error from the full covariance, interval, p and chance that the first wins. */
export function worthDifference(fit: BradleyTerry, first: number, second: number, level = 0.95) {
  const c = fit.covariance;
  const difference = fit.worths[first]! - fit.worths[second]!;
  const se = Math.sqrt(c[first]![first]! + c[second]![second]! - 2 * c[first]![second]!);
  const z = -normalQuantile((1 - level) / 2);
  return {
    difference,
    se,
    low: difference - z * se,
    high: difference + z * se,
    p: 2 * normalCdf(-Math.abs(difference / se)),
    chance_first_wins: 1 / (1 + Math.exp(-difference)),
  };
}
