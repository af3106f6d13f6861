import {
  expectedAnswers,
  findingsBefore,
  flightsOf,
  type HostAnswer,
  type HostSeat,
  type HostView,
  hostAnswers,
  type SessionStatus,
  type SessionSummary,
  setsFor,
  statusOf,
} from '@pourline/core';
import type { SessionNow } from '@pourline/store';

/** What the server knows of a session beside its record. */
export interface Around {
  now: number;
  /** Where a taster's page is reached. */
  addresses: string[];
  /** Seats whose device listens. */
  here: ReadonlySet<number>;
  refused_joins: number;
  /** A coach is told no codes that open anything. */
  coach: boolean;
}

/** A session in a list. */
export function summaryOf({ session, log }: SessionNow): SessionSummary {
  const status = statusOf(log);
  return {
    session_id: session.session_id,
    document_id: session.document_id,
    name: session.design.name,
    state: status.state,
    opened_at: session.opened_at,
    closed_at: status.closed_at,
  };
}

/** A session as its host sees it. Holds no sample beside a code: for that there is the pour sheet. */
export function hostView(of: SessionNow, around: Around): HostView {
  const { session, log } = of;
  const { design, plan } = session;
  const status = statusOf(log);
  const answers = hostAnswers(design, plan, status);
  const seats = Array.from({ length: plan.seats + plan.spare_seats }, (_, i) => i + 1);
  const joining = session.join_code !== null && (session.join_until ?? 0) > around.now && !around.coach;
  return {
    ...summaryOf(of),
    version: log.at(-1)?.seq ?? 0,
    now: around.now,
    design,
    join: joining
      ? { code: session.join_code ?? '', until: session.join_until ?? 0, addresses: around.addresses }
      : null,
    seats: seats.map((seat) => seatOf(of, status, answers, seat, around)),
    flights: flightsOf(design, plan, status),
    sets: seats.flatMap((seat) =>
      setsFor(
        design,
        plan.sets.filter((s) => s.seat === seat),
      ).map((set) => ({ seat, ...set })),
    ),
    answers,
    before: findingsBefore(design, Math.max(status.tasters.size, status.state === 'open' ? design.seats : 1)),
    sheet_seen: [...status.sheet_seen],
    refused_joins: around.refused_joins,
  };
}

function seatOf(
  { session, seats }: SessionNow,
  status: SessionStatus,
  answers: readonly HostAnswer[],
  seat: number,
  { now, here, coach }: Around,
): HostSeat {
  const { design, plan } = session;
  const sitting = status.tasters.get(seat);
  const record = seats.find((s) => s.seat === seat);
  const code = record?.seat_code ?? null;
  const until = record?.seat_code_until ?? 0;
  const own = plan.sets.filter((s) => s.seat === seat);
  return {
    seat,
    spare: seat > plan.seats,
    name: sitting?.name ?? null,
    joined_at: sitting?.joined_at ?? null,
    left_at: sitting?.left_at ?? null,
    here: here.has(seat),
    answered: answers.filter((a) => a.seat === seat && a.counts).length,
    expected: expectedAnswers(design, own),
    offset_ms: sitting?.offset_ms ?? null,
    seat_code: code !== null && until > now && !coach ? { code, until } : null,
  };
}
