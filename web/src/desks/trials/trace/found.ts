import {
  type Course,
  coursesOf,
  findDrawdown,
  findPours,
  matchPours,
  type Plan,
  type PouredAs,
  pouredOf,
  type Recording,
  type TraceRemark,
} from '@pourline/core';

/** The shape of a pour, in figures. */
export interface PourLook {
  mean_g_s: number;
  peak_g_s: number;
  front_share: number;
  unsteadiness: number;
  breaks: number;
  disturbed: boolean;
}

/** What a recording holds, small enough to be shown and kept. Times on the clock of the brew, which starts at `zero_s` of the recording. */
export interface TraceFound {
  courses: readonly Course[];
  poured: readonly PouredAs[];
  /** One for each of `poured`. */
  looks: readonly PourLook[];
  /** All water of the pours; null where none were found. */
  total_g: number | null;
  /** Share of the time at which half of the water was in. */
  half_in: number | null;
  drip: { drawdown_s: number | null; end_s: number | null; beverage_g: number } | null;
  zero_s: number;
  rows: number;
  /** From the first row to the last [s]. */
  length_s: number;
  remarks: readonly TraceRemark[];
}

/** Fewer rows than this are no recording; core says so. */
const LEAST_ROWS = 10;

/** Everything that a recording tells, its pours set against those of a plan. */
export function foundIn(recording: Recording, plan: Plan | null): TraceFound {
  const { time_s, channels, rows } = recording;
  const remarks: TraceRemark[] = [...recording.remarks];
  const enough = time_s.length >= LEAST_ROWS;
  const poured = enough ? channels.find(({ use }) => use === 'poured') : undefined;
  const beverage = enough ? channels.find(({ use }) => use === 'beverage') : undefined;
  const pours = poured ? findPours(time_s, poured.value) : null;
  if (pours) remarks.push(...pours.remarks);
  const until = pours?.pours.at(-1)?.end_s;
  const drip = beverage ? findDrawdown(time_s, beverage.value, until) : null;
  if (drip) remarks.push(...drip.remarks);
  const matched = pours && pours.pours.length > 0 ? matchedTo(plan, pours.pours) : null;
  const zero_s = matched?.zero_s ?? drip?.first_drip_s ?? 0;
  const onClock = (at: number | null): number | null =>
    at === null ? null : Math.round(10 * (at - zero_s)) / 10;
  const kept = matched ? pouredOf(matched) : [];
  return {
    courses: enough ? coursesOf(recording, zero_s) : [],
    poured: kept,
    looks: (matched?.matches ?? []).slice(0, kept.length).map(({ found: { shape, disturbed } }) => ({
      mean_g_s: shape.mean_g_s,
      peak_g_s: shape.peak_g_s,
      front_share: shape.front_share,
      unsteadiness: shape.unsteadiness,
      breaks: shape.breaks,
      disturbed,
    })),
    total_g: pours && pours.pours.length > 0 ? pours.total_g : null,
    half_in: pours && pours.pours.length > 0 ? pours.half_in : null,
    drip: drip && {
      drawdown_s: onClock(drip.drawdown_s),
      end_s: onClock(drip.end_s),
      beverage_g: drip.beverage_g,
    },
    zero_s,
    rows,
    length_s: (time_s[time_s.length - 1] ?? 0) - (time_s[0] ?? 0),
    remarks: unrepeated(remarks),
  };
}

/** Without a plan every pour stands for itself, and the clock starts with the first. */
function matchedTo(
  plan: Plan | null,
  pours: Parameters<typeof matchPours>[1],
): ReturnType<typeof matchPours> {
  if (plan) return matchPours(plan, pours);
  return {
    matches: pours.map((found) => ({ pour_id: null, found })),
    missing: [],
    zero_s: pours[0]?.start_s ?? 0,
  };
}

function unrepeated(remarks: readonly TraceRemark[]): TraceRemark[] {
  const said = new Set<string>();
  return remarks.filter(({ sentence, at_s }) => {
    const key = `${sentence} ${at_s}`;
    if (said.has(key)) return false;
    said.add(key);
    return true;
  });
}
