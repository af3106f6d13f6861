import type { Network } from '../timing/network.ts';
import { findByOrder } from '../timing/order-search.ts';
import { orderedNetwork } from './compile.ts';
import { type BrewerOrder, gapBefore } from './order.ts';

/** Dead ends spent on one question: fewer in a large network, where each takes longer; a choice, so that an answer takes seconds at most. */
export const effortFor = ({ tasks }: Network): number =>
  Math.round(Math.min(4_000, Math.max(100, 150_000 / Math.max(1, tasks.length) ** 1.5)));

/** The smallest changes, each alone, that let all brewers be poured; null when that change alone does not do it. */
export interface NearestWays {
  /** Waits between pours, all made this many times as long, and the first of them then [s]. */
  gaps: { times: number; first_s: number } | null;
  flow_g_s: number | null;
  /** The largest pour, when all are made smaller alike [g]. */
  largest_pour_g: number | null;
  /** A scale under every brewer. */
  scales: boolean;
  /** One more person with one more kettle. */
  helper: boolean;
  /** End of the run when the brewers follow one another [s]; null when that does not fit either. */
  one_after_another_s: number | null;
}

/** Asked with a quarter of the effort: many such questions are asked in a row. */
function ask(order: BrewerOrder): 'yes' | 'no' | 'open' {
  const network = orderedNetwork(order);
  const { starts, answer } = findByOrder(network, 'any', { effort: Math.ceil(effortFor(network) / 4) });
  if (starts) return 'yes';
  return answer === 'none' ? 'no' : 'open';
}

const can = (order: BrewerOrder): boolean => ask(order) === 'yes';

/** Most brewers that can be poured. */
export interface LargestNumber {
  /** Found; 0 when not even one fits. */
  largest: number;
  /** One more has been excluded, not only not found; also when `most` was reached. */
  proven: boolean;
}

/** Most brewers that can be poured, at most `most`. A search that ran out of effort excludes nothing, and is said to. */
export function largestNumber(order: BrewerOrder, most = 24): LargestNumber {
  let largest = 0;
  for (let brewers = 1; brewers <= most; brewers++) {
    const answer = ask({ ...order, brewers });
    if (answer !== 'yes') return { largest, proven: answer === 'no' };
    largest = brewers;
  }
  return { largest, proven: true };
}

/** Searches each way by itself, between what is asked and a bound past which nobody would go. */
export function nearestWays(order: BrewerOrder): NearestWays {
  const times = leastThat(1, 12, (t) => can(withGaps(order, t)));
  const slowest = Math.min(...order.pours.map(({ flow_g_s }) => flow_g_s ?? order.flow_g_s));
  const flow = leastThat(slowest, Math.min(60, 4 * slowest), (f) => can(withFlow(order, f)));
  const share = leastThat(1, 20, (s) => can(withPours(order, 1 / s)));
  const largest = Math.max(...order.pours.map(({ water_g }) => water_g));
  const apart = orderedNetwork({ ...order, alongside: false, apart_s: null });
  const alone = findByOrder(apart, 'end', { effort: effortFor(apart), step: 100 });
  const kettles = [...order.kettles, order.kettles[0]!];
  return {
    gaps: times === null || order.pours.length < 2 ? null : gapsAt(order, times),
    flow_g_s: flow === null ? null : roundUp(flow, 0.01),
    largest_pour_g: share === null ? null : Math.floor(largest / share + 1e-6),
    scales: order.scales !== null && can({ ...order, scales: null }),
    helper: can({ ...order, hands: Math.min(4, order.hands + 1), kettles }),
    one_after_another_s: alone.value === null ? null : alone.value / 1_000,
  };
}

/** Least x between `low` and `high` for which `holds`, to a ten-thousandth of the range; what is returned has been tried and holds. */
function leastThat(low: number, high: number, holds: (x: number) => boolean): number | null {
  if (!holds(high)) return null;
  let no = low;
  let yes = high;
  while (yes - no > 1e-4 * (high - low)) {
    const middle = (no + yes) / 2;
    if (holds(middle)) yes = middle;
    else no = middle;
  }
  return yes;
}

const withGaps = (order: BrewerOrder, times: number): BrewerOrder => ({
  ...order,
  // A longer wait is a longer run; the limit is said apart, so it may not decide here.
  limit_s: Math.max(order.limit_s, 7_200),
  pours: order.pours.map((pour, p) => {
    const { min, max } = gapBefore(order, p);
    return { ...pour, after_s: { min: min * times, max: max === null ? null : max * times } };
  }),
});

/** Every pour at this flow at least. */
const withFlow = (order: BrewerOrder, least: number): BrewerOrder => ({
  ...order,
  flow_g_s: Math.max(order.flow_g_s, least),
  pours: order.pours.map((pour) => ({
    ...pour,
    flow_g_s: pour.flow_g_s === null ? null : Math.max(pour.flow_g_s, least),
  })),
});

const withPours = (order: BrewerOrder, share: number): BrewerOrder => ({
  ...order,
  pours: order.pours.map((pour) => ({ ...pour, water_g: pour.water_g * share })),
});

/** In half seconds where that can be done as well: nobody waits for hundredths. */
function gapsAt(order: BrewerOrder, times: number): NearestWays['gaps'] {
  const { max, min } = gapBefore(order, 1);
  const first = max ?? min;
  if (first === 0) return null;
  const half = Math.floor(first * times * 2) / 2;
  for (const seconds of [half, half + 0.5])
    if (can(withGaps(order, seconds / first))) return { times: seconds / first, first_s: seconds };
  return { times, first_s: first * times };
}

const roundUp = (value: number, step: number): number =>
  Number((Math.ceil(value / step - 1e-6) * step).toFixed(4));
