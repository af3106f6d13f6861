import type { TastingMethod } from '../../documents/kinds/tasting-method.ts';
import type {
  CareAnswers,
  HostAnswer,
  OwnAnswer,
  TasterFlight,
  TasterSet,
  TasterSheet,
  TasterTask,
} from './api.ts';
import { cautionsFor } from './care.ts';
import { flightWindows } from './cup-course.ts';
import { countingAnswers, givenAt, readingsOf, type SessionStatus } from './log.ts';
import { answersWholeSet, sameCupsInWindows } from './plan-session.ts';
import type { PlannedSet, SessionDesign, SessionPlan } from './plan-types.ts';

/** How far from its window an answer may be and still count as in it [ms]; a sip takes a while. Our choice. */
const GRACE = 20_000;

/** All flights with their windows. */
export const flightsOf = (design: SessionDesign, plan: SessionPlan, status: SessionStatus): TasterFlight[] =>
  Array.from({ length: plan.flights }, (_, i) =>
    flightWindows(design, i + 1, status.poured.get(i + 1) ?? null, readingsOf(status, i + 1)),
  );

/** The method as tasters may see it: without what is expected. Named field by field, so that nothing new slips through. */
export function taskOf(method: TastingMethod): TasterTask {
  switch (method.test) {
    case 'triangle':
    case 'duo_trio':
    case 'tetrad':
    case 'a_not_a':
      return { test: method.test };
    case 'three_afc':
    case 'paired':
      return { test: method.test, attribute: method.attribute };
    case 'ranking':
      return { test: 'ranking', attribute: method.attribute, ties: method.ties };
    case 'preference':
      return { test: 'preference', ties: method.ties };
    default:
      return method;
  }
}

/** Sets of one seat as its taster may see them. */
export function setsFor(design: SessionDesign, sets: readonly PlannedSet[]): TasterSet[] {
  const { rinse_s, break_s, cups_per_break } = design.rest;
  let before = 0;
  return sets.map(({ set, flight, window_id, cups }, i): TasterSet => {
    const after = before + cups.length;
    const pause = Math.floor(after / cups_per_break) > Math.floor(before / cups_per_break);
    before = after;
    const rest = pause
      ? ({ kind: 'break', seconds: break_s } as const)
      : ({ kind: 'rinse', seconds: rinse_s } as const);
    return {
      set,
      flight,
      window_id,
      codes: cups.filter((c) => !c.known).map((c) => c.code),
      known_code: cups.find((c) => c.known)?.code ?? null,
      rest: i === sets.length - 1 ? null : rest,
    };
  });
}

/** How many answers a seat's sets ask for. */
export function expectedAnswers(design: SessionDesign, sets: readonly PlannedSet[]): number {
  const { test } = design.method;
  const windows = sameCupsInWindows(test) ? Math.max(1, design.windows.length) : 1;
  return sets.reduce(
    (sum, { cups }) => sum + (answersWholeSet(test) ? 1 : windows * cups.filter((c) => !c.known).length),
    0,
  );
}

/** All answers as the host sees them: never whether they are right. */
export function hostAnswers(design: SessionDesign, plan: SessionPlan, status: SessionStatus): HostAnswer[] {
  const counts = countingAnswers(status.answers);
  const flights = flightsOf(design, plan, status);
  return status.answers.map((taken, i) => {
    const { seat, request } = taken;
    const { answer_id, set, code, window_id, device_at, temperature_C, answer } = request;
    const at = givenAt(taken, status.tasters.get(seat)?.joined_at ?? 0);
    const flight = plan.sets.find((s) => s.seat === seat && s.set === set)?.flight;
    const outside = isOutside(
      flights.find((f) => f.flight === flight),
      window_id,
      at,
    );
    return {
      answer_id,
      set,
      code,
      window_id,
      at,
      counts: counts[i]!,
      answer,
      seat,
      device_at,
      temperature_C,
      outside,
    };
  });
}

function isOutside(flight: TasterFlight | undefined, window_id: string | null, at: number): boolean {
  const window = flight?.windows.find((w) => w.window_id === window_id);
  if (!window) return false;
  if (window.opens_at === null) return true;
  return at < window.opens_at - GRACE || (window.closes_at !== null && at > window.closes_at + GRACE);
}

/** Whose sheet, and what its server knows beside the log. */
export interface SheetOf {
  session_id: string;
  seat: number;
  care: CareAnswers;
  now: number;
}

/**
 * Everything that a taster's device is ever sent. Made from codes and the taster's own deeds alone until the session is closed; nothing in it
 * depends on what is in the cups.
 */
export function tasterSheet(
  design: SessionDesign,
  plan: SessionPlan,
  status: SessionStatus,
  { session_id, seat, care, now }: SheetOf,
): TasterSheet {
  const mine = plan.sets.filter((s) => s.seat === seat);
  const sitting = status.tasters.get(seat);
  const own = ownAnswers(status, seat);
  return {
    session_id,
    state: status.state,
    version: ownVersion(status, seat),
    now,
    seat,
    name: sitting?.name ?? '',
    left: sitting?.left_at !== null && sitting?.left_at !== undefined,
    title: design.title,
    instructions: design.instructions,
    task: taskOf(design.method),
    windows: design.windows,
    flights: flightsOf(design, plan, status),
    sets: setsFor(design, mine),
    answers: own,
    rinse_s: design.rest.rinse_s,
    sip_mL: design.sip_mL,
    care: cautionsFor(design, plan, seat, sitting?.name ?? '', care, own),
    told: status.state === 'closed' && design.tell_tasters ? told(design, mine) : null,
  };
}

function ownAnswers(status: SessionStatus, seat: number): OwnAnswer[] {
  const counts = countingAnswers(status.answers);
  return status.answers.flatMap((taken, i) => {
    if (taken.seat !== seat) return [];
    const { answer_id, set, code, window_id, answer } = taken.request;
    const at = givenAt(taken, status.tasters.get(seat)?.joined_at ?? 0);
    return [{ answer_id, set, code, window_id, at, counts: counts[i]!, answer }];
  });
}

/** A number that rises whenever something on this seat's sheet may have changed, and for nothing that others do. */
export function ownVersion(status: SessionStatus, seat: number): number {
  const answers = status.answers.filter((a) => a.seat === seat).length;
  const left = status.tasters.get(seat)?.left_at === null ? 0 : 1;
  const state = { open: 0, tasting: 1, closed: 2 }[status.state];
  return 1 + answers + left + state + status.pours.length + status.measured.length;
}

/** What was in one's own cups, once everything is over. */
function told(design: SessionDesign, mine: readonly PlannedSet[]): NonNullable<TasterSheet['told']> {
  const name = (id: string) => design.samples.find((s) => s.id === id)?.name ?? id;
  return {
    samples: mine.flatMap((s) => s.cups.map((c) => ({ code: c.code, name: name(c.sample_id) }))),
    right: mine.filter((s) => s.right.length > 0).map((s) => ({ set: s.set, codes: s.right })),
  };
}
