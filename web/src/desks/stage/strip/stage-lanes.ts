import type { BrewerSchedule, CupPlan, HandAction, PlannedRun, SpoutPour } from '@pourline/core';
import type { Extent } from '../../../strip/kernels/time-axis.ts';

/** A brewer from its first pour until it has drained. */
export interface BrewerLane {
  brewer: number;
  actions: HandAction[];
  from_s: number;
  drained_s: number | null;
}

/** Lanes of the brewers that the schedule is for. */
export function brewerLanes(schedule: BrewerSchedule, cups: CupPlan | null): BrewerLane[] {
  const numbers = [...new Set(schedule.actions.map(({ brewer }) => brewer))].sort((a, b) => a - b);
  return numbers.map((brewer) => {
    const actions = schedule.actions.filter((action) => action.brewer === brewer);
    return {
      brewer,
      actions,
      from_s: actions[0]?.start_s ?? 0,
      drained_s: cups?.cups.find((cup) => cup.brewer === brewer)?.drained_s ?? null,
    };
  });
}

/** A line of a kettle: temperature where a pour begins and ends. */
export interface KettleLine {
  kettle: string;
  points: { time_s: number; temperature_C: number }[];
  pours: (SpoutPour & { start_s: number })[];
}

/** Kettles with what leaves their spouts, in time. */
export function kettleLines({ actions, water }: BrewerSchedule): KettleLine[] {
  const lines = new Map<string, KettleLine>();
  for (const pour of water?.pours ?? []) {
    const action = actions.find(({ id }) => id === pour.id);
    if (!action) continue;
    const line = lines.get(pour.kettle) ?? { kettle: pour.kettle, points: [], pours: [] };
    line.points.push(
      { time_s: action.start_s, temperature_C: pour.start_C },
      { time_s: action.end_s, temperature_C: pour.end_C },
    );
    line.pours.push({ ...pour, start_s: action.start_s });
    lines.set(pour.kettle, line);
  }
  return [...lines.values()].sort((a, b) => a.kettle.localeCompare(b.kettle));
}

/** Lowest and highest temperature of all kettles, with air, on round fives [°C]. */
export function kettleRange(lines: readonly KettleLine[]): { low: number; high: number } {
  const all = lines.flatMap(({ points }) => points.map(({ temperature_C }) => temperature_C));
  if (all.length === 0) return { low: 80, high: 100 };
  return {
    low: Math.floor((Math.min(...all) - 2) / 5) * 5,
    high: Math.min(100, Math.ceil((Math.max(...all) + 2) / 5) * 5),
  };
}

/** All there is to see of a run: until its limit, or past it when something ends later [s]. */
export function extentOfRun(plan: PlannedRun | null, talk_end_s: number | null): Extent {
  const end = Math.max(plan?.limit_s ?? 600, plan?.schedule.ends_s ?? 0, talk_end_s ?? 0, 60);
  return { from_s: -Math.max(3, end / 100), to_s: Math.ceil((end * 1.04) / 10) * 10 };
}
