import {
  type Chance,
  type HostAct,
  makeJoinCode,
  type Problem,
  runOf,
  type SessionEvent,
  type SessionStatus,
  sessionProblem,
  statusOf,
} from '@pourline/core';
import type { SessionChange, SessionNow } from '@pourline/store';
import { TASTING_LIMITS } from './limits.ts';

/** What a host's wish comes to. */
export type Decision =
  | { ok: true; change: SessionChange | null }
  /** `now`: not possible as things stand; `input`: what was sent does not fit. */
  | { ok: false; why: 'now' | 'input'; problems: Problem[] };

const refuse = (why: 'now' | 'input', ...problems: Problem[]): Decision => ({ ok: false, why, problems });

/** Decides on a host's wish, given how a session stands. Pure but for `chance`. */
export function decideAct(
  now: SessionNow,
  act: HostAct,
  action_id: string,
  at: number,
  chance: Chance,
): Decision {
  const { session, seats } = now;
  const status = statusOf(now.log);
  const add = (event: SessionEvent, more: Omit<SessionChange, 'events'> = {}): Decision => ({
    ok: true,
    change: { events: [{ event, event_id: action_id }], ...more },
  });
  if (status.state === 'closed') return refuse('now', sessionProblem([], 'not_open'));
  switch (act.do) {
    case 'start':
      if (status.state !== 'open') return { ok: true, change: null };
      if (status.tasters.size === 0) return refuse('now', sessionProblem([], 'nobody_here'));
      return add({ type: 'started' });
    case 'pour':
    case 'measure':
      return decideCups(now, status, act, at, add);
    case 'new_code': {
      const join = { join_code: makeJoinCode(chance), join_until: at + TASTING_LIMITS.join_ms };
      return add({ type: 'joining_changed' }, { join });
    }
    case 'stop_joining':
      return add({ type: 'joining_changed' }, { join: { join_code: null, join_until: null } });
    case 'seat_code':
    case 'remove': {
      const seat = seats.find((s) => s.seat === act.seat);
      if (!seat) return refuse('input', sessionProblem(['seat'], 'no_such_seat', { value: act.seat }));
      if (act.do === 'seat_code') {
        const code = { seat_code: makeJoinCode(chance), seat_code_until: at + TASTING_LIMITS.short_code_ms };
        return add({ type: 'joining_changed' }, { seat: { ...seat, ...code } });
      }
      const gone = { ...seat, token_hash: null, seat_code: null, seat_code_until: null };
      return add({ type: 'left', seat: act.seat, by: 'host' }, { seat: gone });
    }
    case 'close':
      return add(
        { type: 'closed' },
        {
          join: { join_code: null, join_until: null },
          document: (standing, log) => ({
            ...session.design,
            name: standing.name,
            notes: standing.notes,
            archived: standing.archived,
            run: runOf(session.design, session.plan, statusOf(log), session.opened_at),
          }),
        },
      );
  }
}

function decideCups(
  { session }: SessionNow,
  status: SessionStatus,
  act: Extract<HostAct, { do: 'pour' | 'measure' }>,
  at: number,
  add: (event: SessionEvent) => Decision,
): Decision {
  if (status.state !== 'tasting') return refuse('now', sessionProblem([], 'not_tasting'));
  const { flight } = act;
  const limit = session.plan.flights;
  if (flight > limit)
    return refuse('input', sessionProblem(['flight'], 'no_such_flight', { value: flight, limit }));
  const moment = act.at ?? at;
  if (moment > at + TASTING_LIMITS.ahead_ms) return refuse('input', sessionProblem(['at'], 'in_the_future'));
  if (act.do === 'pour') return add({ type: 'poured', flight, poured_at: moment });
  const poured_at = status.poured.get(flight);
  if (poured_at === undefined)
    return refuse('now', sessionProblem([], 'flight_not_poured', { value: flight }));
  if (moment < poured_at) return refuse('input', sessionProblem(['at'], 'measured_before_pouring'));
  return add({ type: 'measured', flight, measured_at: moment, temperature_C: act.temperature_C });
}
