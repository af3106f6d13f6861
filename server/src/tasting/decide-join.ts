import {
  admissionProblems,
  type JoinRequest,
  type Problem,
  sameName,
  sessionProblem,
  statusOf,
} from '@pourline/core';
import type { SessionChange, SessionNow } from '@pourline/store';

/** How a device proves itself from now on. */
export interface NewSecrets {
  join_hash: string;
  token_hash: string;
}

/** What becomes of somebody who has the right code. */
export type JoinDecision =
  | { ok: true; seat: number; change: SessionChange }
  | { ok: false; why: 'admission' | 'now'; problems: Problem[] };

/** Decides on joining with a session's code: care first, then a name of one's own, then a seat. */
export function decideJoin(now: SessionNow, request: JoinRequest, secrets: NewSecrets): JoinDecision {
  const { session, log } = now;
  const { design, plan, session_id } = session;
  const status = statusOf(log);
  if (status.state === 'closed') return refuse('now', sessionProblem([], 'joining_over'));
  const care = admissionProblems(design, request.care);
  if (care.length > 0) return { ok: false, why: 'admission', problems: care };
  const name = request.name.trim();
  const taken = [...status.tasters.values()].some((t) => sameName(t.name) === sameName(name));
  if (taken) return refuse('now', sessionProblem(['name'], 'name_taken', { value: name }));
  const all = plan.seats + plan.spare_seats;
  const seat = Array.from({ length: all }, (_, i) => i + 1).find((n) => !status.tasters.has(n));
  if (seat === undefined) return refuse('now', sessionProblem([], 'table_full', { limit: all }));
  return {
    ok: true,
    seat,
    change: {
      events: [{ event: { type: 'joined', seat, name }, event_id: null }],
      seat: { session_id, seat, ...secrets, care: request.care, seat_code: null, seat_code_until: null },
    },
  };
}

/** Decides on a new device for a seat, by that seat's own code. The name stays; what is asked of a person is asked again. */
export function decideReturn(
  now: SessionNow,
  seat: number,
  request: JoinRequest,
  secrets: NewSecrets,
): JoinDecision {
  const { session, seats } = now;
  const record = seats.find((s) => s.seat === seat);
  if (!record) return refuse('now', sessionProblem([], 'joining_over'));
  const care = admissionProblems(session.design, request.care);
  if (care.length > 0) return { ok: false, why: 'admission', problems: care };
  return {
    ok: true,
    seat,
    change: {
      events: [{ event: { type: 'returned', seat }, event_id: null }],
      seat: { ...record, ...secrets, care: request.care, seat_code: null, seat_code_until: null },
    },
  };
}

const refuse = (why: 'now', ...problems: Problem[]): JoinDecision => ({ ok: false, why, problems });
