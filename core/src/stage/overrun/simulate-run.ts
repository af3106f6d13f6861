import type { OvertimePenalty } from '../../documents/index.ts';
import { chanceFrom } from '../../panel/random.ts';
import { penaltyFor } from '../contest/overtime.ts';
import type { Lag, Network, Starts } from '../timing/network.ts';
import { handOvers } from '../timing/slack.ts';
import { normal } from './chance-values.ts';

/** How the length of a task varies: its mean as planned, this spread of its logarithm of its own, and whether it follows the pace of the run. */
export interface Variation {
  ownSd: number;
  followsPace: boolean;
}

export interface RunOptions {
  draws: number;
  seed: number;
  /** Spread of the logarithm of the pace shared by all that follow it. */
  paceSd: number;
  /** Limit of the contest [ticks]; the network's own may be later. */
  limit: number;
  penalty: OvertimePenalty | null;
  ticksPerSecond: number;
}

/** What many imagined runs of one schedule say. */
export interface ImaginedRuns {
  chanceOver: number;
  /** Standard error of it, from the number of runs. */
  chanceOverSe: number;
  expectedPoints: number | null;
  chanceDisqualified: number | null;
  /** Ends [ticks]: the 5th, 50th and 95th of a hundred. */
  ends: { low: number; middle: number; high: number };
  /** Waits that came out too long, and in what share of runs. */
  broken: { from: string; to: string; share: number }[];
}

/**
 * Plays a schedule many times with lengths that vary: every hand keeps its order, nothing starts before its time in the plan or before what it
 * waits for is done. Lengths are log-normal with the planned length as their median. Same seed, same answer.
 */
export function imagineRuns(
  network: Network,
  starts: Starts,
  variation: Readonly<Record<string, Variation>>,
  options: RunOptions,
): ImaginedRuns {
  const order = network.tasks
    .map((_, i) => i)
    .sort((a, b) => starts[network.tasks[a]!.id]! - starts[network.tasks[b]!.id]!);
  const place = new Map(network.tasks.map(({ id }, i) => [id, i]));
  const before = waits(network, starts, place);
  const longest = network.lags.filter((lag): lag is Lag & { max: number } => lag.max !== undefined);
  const chance = chanceFrom(options.seed);
  const ends = new Float64Array(options.draws);
  const broken = new Float64Array(longest.length);
  let points = 0;
  let out = 0;
  for (let draw = 0; draw < options.draws; draw++) {
    const { at, lengths } = playOnce();
    let end = 0;
    for (let i = 0; i < at.length; i++) end = Math.max(end, at[i]! + lengths[i]!);
    ends[draw] = end;
    longest.forEach(({ from, to, max }, l) => {
      if (at[place.get(to)!]! - at[place.get(from)!]! > max + 0.5) broken[l] = broken[l]! + 1;
    });
    if (!options.penalty) continue;
    const cost = penaltyFor(options.penalty, (end - options.limit) / options.ticksPerSecond);
    points += cost.points;
    if (cost.disqualified) out++;
  }
  ends.sort();
  const over = ends.filter((end) => end > options.limit).length / options.draws;
  return {
    chanceOver: over,
    chanceOverSe: Math.sqrt((over * (1 - over)) / options.draws),
    expectedPoints: options.penalty ? points / options.draws : null,
    chanceDisqualified: options.penalty ? out / options.draws : null,
    ends: { low: quantile(ends, 0.05), middle: quantile(ends, 0.5), high: quantile(ends, 0.95) },
    broken: longest.flatMap(({ from, to }, l) =>
      broken[l]! > 0 ? [{ from, to, share: broken[l]! / options.draws }] : [],
    ),
  };

  function playOnce(): { at: Float64Array; lengths: Float64Array } {
    const pace = options.paceSd * normal(chance);
    const lengths = Float64Array.from(network.tasks, ({ id, duration }) => {
      const how = variation[id];
      if (!how || duration === 0) return duration;
      return duration * Math.exp(how.ownSd * normal(chance) + (how.followsPace ? pace : 0));
    });
    const at = new Float64Array(network.tasks.length);
    for (const i of order) {
      let start = starts[network.tasks[i]!.id]!;
      for (const { from, by, length } of before[i]!)
        start = Math.max(start, at[from]! + (length ? lengths[from]! : 0) + by);
      at[i] = start;
    }
    return { at, lengths };
  }
}

/** What each task waits for. A least lag as long as the task before it is an end; it moves with that task's length. */
function waits(network: Network, starts: Starts, place: ReadonlyMap<string, number>) {
  const before = network.tasks.map(() => [] as { from: number; by: number; length: boolean }[]);
  const add = ({ from, to, min }: Lag): void => {
    if (starts[from]! > starts[to]!) return;
    const length = min >= network.tasks[place.get(from)!]!.duration;
    const by = length ? min - network.tasks[place.get(from)!]!.duration : min;
    before[place.get(to)!]!.push({ from: place.get(from)!, by, length });
  };
  network.lags.forEach(add);
  handOvers(network, starts).forEach(add);
  return before;
}

const quantile = (sorted: Float64Array, share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
