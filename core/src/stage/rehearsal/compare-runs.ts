import type { Rehearsal } from '../../documents/kinds/rehearsal.ts';
import { chanceOver, type Forecast, forecastFrom, momentsOf, slips } from '../overrun/history.ts';
import { type Drift, driftOf, type Learning, learningOf } from './learning.ts';
import { type OwnPace, ownPace } from './own-pace.ts';
import { type CueLateness, historyOf, latenessOf, plannedLengths, wholeTimes } from './run-history.ts';
import { byMoment, type RunTimes, timesOf } from './run-times.ts';

/** Everything that a set of rehearsals says together. */
export interface Compared {
  /** Oldest first. */
  runs: RunTimes[];
  finished: number;
  mean_s: number | null;
  sd_s: number | null;
  /** Chance that the next run goes over the limit of the newest; null with fewer than two finished runs. */
  chance_over: number | null;
  limit_s: number;
  drift: Drift | null;
  learning: Learning | null;
  pace: OwnPace | null;
  forecast: Forecast | null;
  lateness: CueLateness[];
  slips: ReturnType<typeof slips>;
}

/** Compares runs of one performance; nothing is said of a spread that too few runs show. */
export function compareRuns(rehearsals: readonly Rehearsal[]): Compared {
  const runs = byMoment(rehearsals.map(timesOf));
  const whole = wholeTimes(runs);
  const limit_s = runs.at(-1)?.limit_s ?? 0;
  const moments = whole.length > 0 ? momentsOf(whole) : null;
  const history = historyOf(runs);
  return {
    runs,
    finished: whole.length,
    mean_s: moments?.mean ?? null,
    sd_s: moments?.sd ?? null,
    chance_over: whole.length > 1 ? chanceOver(whole, limit_s) : null,
    limit_s,
    drift: driftOf(whole),
    learning: learningOf(whole),
    pace: ownPace(runs),
    forecast: forecastFrom(history),
    lateness: latenessOf(runs),
    slips: slips(history, plannedLengths(runs)),
  };
}
