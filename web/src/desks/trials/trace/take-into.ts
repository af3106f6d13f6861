import type { Course, PouredAs, TraceMapping, Trial } from '@pourline/core';
import type { KeptFile } from '../../../replica/index.ts';
import type { TraceFound } from './found.ts';

/** What of a recording goes into the trial. */
export interface Taken {
  pours: boolean;
  courses: boolean;
  water: boolean;
  beverage: boolean;
  drawdown: boolean;
}

const tenth = (value: number): number => Math.round(value * 10) / 10;

const shiftCourse = (course: Course, by: number): Course => ({
  ...course,
  time_s: course.time_s.map((at) => Math.round((at + by) * 100) / 100),
});

const shiftPour = (pour: PouredAs, by: number): PouredAs => ({
  ...pour,
  start_s: Math.max(0, pour.start_s + by),
  end_s: Math.max(0, pour.end_s + by),
});

/** The trial with what was found in a recording, `shift_s` later on its clock. A course takes the place of an earlier one of its kind. */
export function withFound(trial: Trial, found: TraceFound, taken: Taken, shift_s: number): Trial {
  const next = { ...trial };
  if (taken.courses) {
    const kinds = new Set(found.courses.map(({ of }) => of));
    next.courses = [
      ...trial.courses.filter(({ of }) => !kinds.has(of)),
      ...found.courses.map((course) => shiftCourse(course, shift_s)),
    ].slice(-12);
  }
  if (taken.pours && found.poured.length > 0)
    next.poured = found.poured.map((pour) => shiftPour(pour, shift_s)).filter((p) => p.end_s > p.start_s);
  if (taken.water && found.total_g !== null) next.water_g = tenth(found.total_g);
  if (taken.beverage && found.drip) next.beverage_g = tenth(found.drip.beverage_g);
  if (taken.drawdown && found.drip) {
    const { drawdown_s, end_s } = found.drip;
    if (drawdown_s !== null) next.drawdown_s = tenth(Math.max(0, drawdown_s + shift_s));
    if (end_s !== null) next.end_s = tenth(Math.max(0, end_s + shift_s));
  }
  return next;
}

interface Taking {
  found: TraceFound;
  taken: Taken;
  shift_s: number;
  mapping: TraceMapping;
  kept: KeptFile;
}

/** {@link withFound}, and the file with how it was read, so that it can be read again in the same way. */
export function takeInto(body: Trial, { found, taken, shift_s, mapping, kept }: Taking): Trial {
  const next = withFound(body, found, taken, shift_s);
  const read_as = JSON.stringify(mapping);
  const entry = {
    ...kept,
    zero_s: Math.round((found.zero_s - shift_s) * 100) / 100,
    // A mapping too long to be kept is proposed anew when the file is read again.
    read_as: read_as.length <= 4_000 ? read_as : '',
  };
  const others = next.traces.filter((one) => one.attachment !== kept.attachment);
  return { ...next, traces: [...others, entry] };
}
