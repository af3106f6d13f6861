import type { AnswerRequest, SessionState } from './api.ts';

/** Something that happened in a session. A session is what its events add up to; none is ever changed. Moments are of the server [ms]. */
export type SessionEvent =
  | { type: 'joined'; seat: number; name: string }
  /** A new device took over a seat, or a taster came back. */
  | { type: 'returned'; seat: number }
  | { type: 'left'; seat: number; by: 'taster' | 'host' }
  | { type: 'joining_changed' }
  | { type: 'started' }
  | { type: 'poured'; flight: number; poured_at: number }
  | { type: 'measured'; flight: number; measured_at: number; temperature_C: number }
  | { type: 'answered'; seat: number; request: AnswerRequest }
  | { type: 'sheet_seen'; by: string }
  | { type: 'closed' };

/** An event with its place in the log and its moment. */
export type Logged = SessionEvent & {
  seq: number;
  at: number;
  /** Made by a client, so that a retry is found; null for what has none. */
  event_id: string | null;
};

/** Who sits where. */
export interface Sitting {
  seat: number;
  name: string;
  joined_at: number;
  left_at: number | null;
  offset_ms: number | null;
}

/** An answer as it was taken. */
export interface TakenAnswer {
  seat: number;
  /** When the server had it [ms]. */
  received_at: number;
  request: AnswerRequest;
  /** It came after closing. */
  late: boolean;
}

/** Where a session stands. */
export interface SessionStatus {
  state: SessionState;
  /** Events so far. */
  version: number;
  closed_at: number | null;
  tasters: ReadonlyMap<number, Sitting>;
  /** When flights were poured, by number; the last word counts. */
  poured: ReadonlyMap<number, number>;
  pours: readonly { flight: number; at: number }[];
  measured: readonly { flight: number; at: number; temperature_C: number }[];
  answers: readonly TakenAnswer[];
  sheet_seen: readonly { at: number; by: string }[];
}

/** What a log adds up to. */
export function statusOf(log: readonly Logged[]): SessionStatus {
  const tasters = new Map<number, Sitting>();
  const poured = new Map<number, number>();
  const pours: { flight: number; at: number }[] = [];
  const measured: { flight: number; at: number; temperature_C: number }[] = [];
  const answers: TakenAnswer[] = [];
  const sheet_seen: { at: number; by: string }[] = [];
  let state: SessionState = 'open';
  let closed_at: number | null = null;
  const change = (seat: number, to: Partial<Sitting>): void => {
    const sitting = tasters.get(seat);
    if (sitting) tasters.set(seat, { ...sitting, ...to });
  };
  for (const event of log) {
    const { at } = event;
    if (event.type === 'joined') {
      const { seat, name } = event;
      tasters.set(seat, { seat, name, joined_at: at, left_at: null, offset_ms: null });
    } else if (event.type === 'returned') change(event.seat, { left_at: null });
    else if (event.type === 'left') change(event.seat, { left_at: at });
    else if (event.type === 'started') state = 'tasting';
    else if (event.type === 'poured') {
      poured.set(event.flight, event.poured_at);
      pours.push({ flight: event.flight, at: event.poured_at });
    } else if (event.type === 'measured')
      measured.push({ flight: event.flight, at: event.measured_at, temperature_C: event.temperature_C });
    else if (event.type === 'answered') {
      const { seat, request } = event;
      answers.push({ seat, received_at: at, request, late: state === 'closed' });
      if (request.offset_ms !== null) change(seat, { offset_ms: request.offset_ms });
    } else if (event.type === 'sheet_seen') sheet_seen.push({ at, by: event.by });
    else if (event.type === 'closed') {
      state = 'closed';
      closed_at = at;
    }
  }
  const version = log.length;
  return { state, version, closed_at, tasters, poured, pours, measured, answers, sheet_seen };
}

/** Readings of a flight since it was last poured. */
export function readingsOf(status: SessionStatus, flight: number): { at: number; temperature_C: number }[] {
  const since = status.poured.get(flight) ?? Number.POSITIVE_INFINITY;
  return status.measured.filter((m) => m.flight === flight && m.at >= since);
}

/** What an answer is about; a later answer about the same takes the place of an earlier one. */
export const aboutOf = (seat: number, { set, code, window_id }: AnswerRequest): string =>
  JSON.stringify([seat, set, code, window_id]);

/** Whether each answer counts: the last in time about its cups, and none that came after closing. */
export function countingAnswers(answers: readonly TakenAnswer[]): boolean[] {
  const last = new Map<string, number>();
  answers.forEach(({ seat, request, late }, i) => {
    if (!late) last.set(aboutOf(seat, request), i);
  });
  return answers.map(({ seat, request, late }, i) => !late && last.get(aboutOf(seat, request)) === i);
}

/**
 * When an answer was given, on the server's clock [ms]: by the device's clock and how far it believes it is behind, but never before the
 * taster joined nor after the answer came. An answer may wait in a phone that was away.
 */
export function givenAt({ received_at, request }: TakenAnswer, joined_at: number): number {
  const device = Date.parse(request.device_at);
  if (request.offset_ms === null || !Number.isFinite(device)) return received_at;
  return Math.min(received_at, Math.max(joined_at, Math.round(device + request.offset_ms)));
}
