import type { Contest, Talk } from '../../documents/index.ts';
import { type ExpectedOvertime, expectedPenalty } from '../contest/overtime.ts';
import { chanceOver, drift, type Forecast, forecastFrom, momentsOf, slips } from '../overrun/history.ts';
import { type ImaginedRuns, imagineRuns, type Variation } from '../overrun/simulate-run.ts';
import type { PlannedRun } from './plan-run.ts';
import { wholeRun } from './run-network.ts';
import type { RunTalk } from './run-talk.ts';
import { historiesOf, type TimedRun } from './timed-runs.ts';

/** What earlier runs say about the next one. */
export interface RunOverrun {
  limit_s: number;
  /** Runs to their end, and their mean and spread [s]. */
  runs: number;
  mean_s: number | null;
  sd_s: number | null;
  /** Chance of running over by whole runs; null with fewer than two. */
  chance_over: number | null;
  expected: ExpectedOvertime | null;
  drift: { perRun: number; p: number } | null;
  forecast: Forecast | null;
  slips: ReturnType<typeof slips>;
  /** The schedule played with segments that vary as they did; null when no segment was timed twice. */
  imagined: ImaginedRuns | null;
  ticks_per_s: number;
}

const DRAWS = 4_000;
const SEED = 7;

/** Chance and cost of running over, from whole runs and from the schedule with its segments' own spread. */
export function overrunOfRun(
  talk: Talk,
  contest: Contest | null,
  plan: PlannedRun,
  placed: RunTalk,
  runs: readonly TimedRun[],
): RunOverrun {
  const { limit_s } = plan;
  const ends = runs.flatMap(({ ended_s }) => (ended_s === null ? [] : [ended_s]));
  const penalty = contest?.penalty ?? null;
  const chance = ends.length > 0 ? chanceOver(ends, limit_s) : null;
  const moments = ends.length > 0 ? momentsOf(ends) : null;
  const history = historiesOf(talk, runs);
  const forecast = forecastFrom(history);
  const planned = Object.fromEntries(placed.placed.segments.map(({ id, takes_s }) => [id, takes_s]));
  const whole = forecast ? wholeRun(talk, plan, placed) : null;
  return {
    limit_s,
    runs: ends.length,
    mean_s: moments?.mean ?? null,
    sd_s: moments?.sd ?? null,
    chance_over: chance,
    expected:
      penalty && chance !== null
        ? expectedPenalty(penalty, (over) => chanceOver(ends, limit_s + over)!)
        : null,
    drift: drift(ends),
    forecast,
    slips: slips(history, planned),
    imagined:
      whole && forecast
        ? imagineRuns(whole.network, whole.starts, variationOf(forecast), {
            draws: DRAWS,
            seed: SEED,
            paceSd: forecast.paceSd,
            limit: limit_s * whole.ticks_per_s,
            penalty,
            ticksPerSecond: whole.ticks_per_s,
          })
        : null,
    ticks_per_s: whole?.ticks_per_s ?? 1,
  };
}

/** What is left of a segment's spread when the pace that all share is taken out. */
const variationOf = ({ segments, paceSd }: Forecast): Record<string, Variation> =>
  Object.fromEntries(
    segments.map(({ id, mean, shrunkSd }) => [
      id,
      { ownSd: Math.sqrt(Math.max(0, (shrunkSd / mean) ** 2 - paceSd ** 2)), followsPace: true },
    ]),
  );
