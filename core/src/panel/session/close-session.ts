import type { TastingRun } from '../../documents/kinds/tasting.ts';
import type { SessionStatus } from './log.ts';
import type { PlannedSet, PourSheetLine, SessionDesign, SessionPlan } from './plan-types.ts';
import { hostAnswers } from './views.ts';

const iso = (ms: number): string => new Date(ms).toISOString();

/** What came of a session, as its document keeps it: which code was which, and every answer, also those that do not count. */
export function runOf(
  design: SessionDesign,
  plan: SessionPlan,
  status: SessionStatus,
  opened_at: number,
): TastingRun {
  const { method, samples, windows } = design;
  const seated = plan.sets.filter((set) => status.tasters.has(set.seat));
  return {
    method,
    samples,
    windows,
    opened_at: iso(opened_at),
    closed_at: iso(status.closed_at ?? opened_at),
    tasters: [...status.tasters.values()]
      .sort((a, b) => a.seat - b.seat)
      .map(({ seat, name, joined_at, left_at }) => ({
        seat,
        name,
        joined_at: iso(joined_at),
        left_at: left_at === null ? null : iso(left_at),
      })),
    sets: seated.map(({ seat, set, flight, window_id, cups, right }) => ({
      seat,
      set,
      flight,
      window_id,
      cups,
      right,
    })),
    answers: hostAnswers(design, plan, status).map((given) => ({
      answer_id: given.answer_id,
      seat: given.seat,
      set: given.set,
      code: given.code,
      window_id: given.window_id,
      at: iso(given.at),
      device_at: given.device_at,
      temperature_C: given.temperature_C,
      counts: given.counts,
      outside: given.outside,
      answer: given.answer,
    })),
    poured: status.pours.map(({ flight, at }) => ({ flight, at: iso(at) })),
    measured: status.measured.map(({ flight, at, temperature_C }) => ({
      flight,
      at: iso(at),
      temperature_C,
    })),
    sheet_seen: status.sheet_seen.map(({ at, by }) => ({ at: iso(at), by })),
  };
}

/** The pour sheet: by flight, then by sample, so that one sample is poured at a time; cups by seat. */
export function pourSheetOf(
  design: SessionDesign,
  plan: SessionPlan,
  names: ReadonlyMap<number, { name: string }>,
): PourSheetLine[] {
  return Array.from({ length: plan.flights }, (_, i) => i + 1).flatMap((flight) =>
    design.samples.map(({ id, name }) => ({
      flight,
      sample_id: id,
      sample: name,
      cups: plan.sets.filter((set) => set.flight === flight).flatMap((set) => cupsOfSample(set, id, names)),
    })),
  );
}

function cupsOfSample(
  { cups, seat, set, window_id }: PlannedSet,
  sample_id: string,
  names: ReadonlyMap<number, { name: string }>,
): PourSheetLine['cups'] {
  return cups.flatMap((cup, i) =>
    cup.sample_id === sample_id
      ? [
          {
            code: cup.code,
            seat,
            taster: names.get(seat)?.name ?? '',
            set,
            place: i + 1,
            window_id,
            known: cup.known,
          },
        ]
      : [],
  );
}
