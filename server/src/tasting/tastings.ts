import {
  type AnswerReceipt,
  type AnswerRequest,
  checkKind,
  type HostAction,
  type HostView,
  type Joined,
  type JoinRequest,
  makeJoinCode,
  type OpenRequest,
  type PourSheetLine,
  planSession,
  pourSheetOf,
  type SessionSummary,
  sessionProblem,
  statusOf,
  type TasterSheet,
  tasterSheet,
  tidyCode,
} from '@pourline/core';
import type { SeatRecord, SessionNow, Store } from '@pourline/store';
import type { Live } from '../live.ts';
import { notFound, ProblemError } from '../problem.ts';
import { type Decision, decideAct } from './decide-act.ts';
import { decideAnswer } from './decide-answer.ts';
import { decideJoin, decideReturn, type JoinDecision } from './decide-join.ts';
import { hostView, summaryOf } from './host-view.ts';
import { TASTING_LIMITS } from './limits.ts';
import type { Randomness } from './randomness.ts';
import { codeRefused, noToken, notAdmitted, notNow, notValid, tooManyCodes } from './refusals.ts';
import { hashOf, makeToken, sameSecret } from './secrets.ts';
import { SessionStreams } from './session-streams.ts';

/** What tastings work with. */
export interface TastingsOptions {
  store: Store;
  live: Live;
  /** The server's clock [ms]. */
  now: () => number;
  chance: Randomness;
  /** Where a taster's page is reached just now. */
  addresses: () => string[];
  onFailure: (error: unknown) => void;
}

/** Blind sessions as host and tasters use them. Throws {@link ProblemError} for whatever cannot be. */
export class Tastings {
  readonly streams: SessionStreams;
  readonly #of: TastingsOptions;

  constructor(options: TastingsOptions) {
    this.#of = options;
    this.streams = new SessionStreams(options.store, options.now, options.onFailure);
  }

  /** Opens a session for a tasting as it stands saved, or gives the one that is open. */
  async open({ request_id, document_id }: OpenRequest): Promise<{ view: HostView; opened: boolean }> {
    const { store, chance, now } = this.#of;
    const revision = await store.document(document_id);
    const checked = revision && checkKind('tasting', revision.body);
    if (!checked) throw new ProblemError(notFound(`There is no document with the id "${document_id}" here.`));
    if (!checked.ok) throw notValid(checked.problems);
    const { run, ...design } = checked.value;
    if (run) throw notNow([sessionProblem([], 'run_already')]);
    const plan = planSession(design, { codes: chance.codes, orders: chance.orders });
    if (!plan.ok) throw notValid(plan.problems);
    const at = now();
    const made = await store.tastings.open({
      session_id: chance.uuid(),
      request_id,
      document_id,
      campaign_id: design.campaign_id,
      opened_at: at,
      design,
      plan: plan.value,
      join_code: makeJoinCode(chance.secrets),
      join_until: at + TASTING_LIMITS.join_ms,
    });
    return { view: await this.view(made.session.session_id, false), opened: made.outcome === 'opened' };
  }

  /** All sessions, newest first. */
  async list(): Promise<SessionSummary[]> {
    const all = await this.#of.store.tastings.sessions();
    const standing = await Promise.all(all.map((s) => this.#of.store.tastings.now(s.session_id)));
    return standing.flatMap((s) => (s ? [summaryOf(s)] : []));
  }

  /** A session as its host, or a coach, sees it. */
  async view(session_id: string, coach: boolean): Promise<HostView> {
    const standing = await this.#standing(session_id);
    const { store, now, addresses } = this.#of;
    const refused = await store.tastings.refusedJoins('', now() - TASTING_LIMITS.refused_ms);
    return hostView(standing, {
      now: now(),
      addresses: addresses(),
      here: this.streams.here(session_id),
      refused_joins: refused.all,
      coach,
    });
  }

  /** Does what a host wishes; the same wish sent again changes nothing. */
  async act(session_id: string, { action_id, act }: HostAction): Promise<HostView> {
    const { store, now, chance, live } = this.#of;
    const decision = await store.tastings.change(session_id, (standing) => {
      const done = standing.log.some((e) => e.event_id === action_id);
      const made: Decision = done
        ? { ok: true, change: null }
        : decideAct(standing, act, action_id, now(), chance.secrets);
      return { change: made.ok ? made.change : null, answer: made };
    });
    if (!decision) throw noSession(session_id);
    if (!decision.ok) throw (decision.why === 'now' ? notNow : notValid)(decision.problems);
    if (act.do === 'close') void live.tell();
    if (act.do === 'remove') this.streams.endSeat(session_id, act.seat);
    this.streams.tell(session_id);
    return this.view(session_id, false);
  }

  /** Which code is which, for the person who pours. That somebody looked is written down. */
  async pourSheet(session_id: string, by: string): Promise<PourSheetLine[]> {
    const standing = await this.#standing(session_id);
    const status = statusOf(standing.log);
    if (status.state !== 'closed') {
      const events = [{ event: { type: 'sheet_seen' as const, by }, event_id: null }];
      await this.#of.store.tastings.change(session_id, () => ({ change: { events }, answer: null }));
      this.streams.tell(session_id);
    }
    return pourSheetOf(standing.session.design, standing.session.plan, status.tasters);
  }

  /** Whether any session takes tasters. */
  async isOpen(): Promise<boolean> {
    return (await this.#of.store.tastings.codes(this.#of.now())).length > 0;
  }

  /**
   * Seats somebody who has the right code.
   * @param address where the request came from, for counting wrong codes
   */
  async join(request: JoinRequest, address: string): Promise<Joined> {
    const { store } = this.#of;
    await this.refuseTooMany(address);
    const join_hash = hashOf(request.join_id);
    const token = makeToken();
    const secrets = { join_hash, token_hash: hashOf(token) };
    const known = await store.tastings.seatByJoin(join_hash);
    if (known) return this.#rejoin(known, token);
    const found = await this.#sessionOf(request.code, address);
    const decision = await store.tastings.change(found.session_id, (standing) => {
      const made =
        found.seat === null
          ? decideJoin(standing, request, secrets)
          : decideReturn(standing, found.seat, request, secrets);
      return { change: made.ok ? made.change : null, answer: made };
    });
    const { seat } = seated(decision);
    this.streams.tell(found.session_id);
    return { token, sheet: await this.#sheet(found.session_id, seat) };
  }

  /** Throws when too many wrong codes came in lately, from this address or from all. */
  async refuseTooMany(address: string): Promise<void> {
    const { refused_ms, refused_by_address, refused_by_all } = TASTING_LIMITS;
    const refused = await this.#of.store.tastings.refusedJoins(address, this.#of.now() - refused_ms);
    if (refused.address >= refused_by_address || refused.all >= refused_by_all)
      throw tooManyCodes(refused_ms / 1000);
  }

  /** Counts a wrong code and throws. */
  async refuseCode(address: string): Promise<never> {
    const at = this.#of.now();
    await this.#of.store.tastings.refuseJoin(address, at, at - TASTING_LIMITS.refused_ms);
    throw codeRefused();
  }

  /** The seat behind a token. */
  async seatOf(token: string | undefined): Promise<SeatRecord> {
    const seat = token === undefined ? undefined : await this.#of.store.tastings.seatByToken(hashOf(token));
    if (!seat) throw noToken();
    return seat;
  }

  /** What a taster's device may know. */
  sheet(seat: SeatRecord): Promise<TasterSheet> {
    return this.#sheet(seat.session_id, seat.seat);
  }

  /** Takes an answer; when it resolves, the answer is on disk. */
  async answer(
    seat: SeatRecord,
    request: AnswerRequest,
  ): Promise<{ receipt: AnswerReceipt; outcome: string }> {
    const { store, now, live } = this.#of;
    const elsewhere = await store.tastings.eventById(request.answer_id);
    if (elsewhere && elsewhere.session_id !== seat.session_id)
      throw notValid([sessionProblem(['answer_id'], 'id_reused', { value: request.answer_id })]);
    const decision = await store.tastings.change(seat.session_id, (standing) => {
      const made = decideAnswer(standing, seat.seat, request);
      return { change: made.ok ? made.change : null, answer: made };
    });
    if (!decision) throw noToken();
    if (!decision.ok) throw (decision.why === 'now' ? notNow : notValid)(decision.problems);
    if (decision.outcome !== 'already') this.streams.tell(seat.session_id);
    if (decision.outcome === 'late') void live.tell();
    const receipt = { answer_id: request.answer_id, counted: decision.counted, now: now() };
    return { receipt, outcome: decision.outcome };
  }

  /** A taster gets up. The seat stays theirs: with the same token they can come back. */
  async leave(seat: SeatRecord): Promise<TasterSheet> {
    await this.#of.store.tastings.change(seat.session_id, ({ log }) => {
      const status = statusOf(log);
      const here = status.tasters.get(seat.seat)?.left_at === null && status.state !== 'closed';
      const events = [
        { event: { type: 'left' as const, seat: seat.seat, by: 'taster' as const }, event_id: null },
      ];
      return { change: here ? { events } : null, answer: null };
    });
    this.streams.tell(seat.session_id);
    return this.#sheet(seat.session_id, seat.seat);
  }

  async #rejoin(seat: SeatRecord, token: string): Promise<Joined> {
    if (seat.token_hash === null) throw noToken();
    const token_hash = hashOf(token);
    await this.#of.store.tastings.change(seat.session_id, ({ seats }) => {
      const standing = seats.find((s) => s.seat === seat.seat);
      return { change: standing ? { seat: { ...standing, token_hash } } : null, answer: null };
    });
    return { token, sheet: await this.#sheet(seat.session_id, seat.seat) };
  }

  /** The session, or seat, that a code opens. Every open code is compared, so that the time tells nothing. */
  async #sessionOf(typed: string, address: string): Promise<{ session_id: string; seat: number | null }> {
    const wanted = tidyCode(typed);
    const codes = await this.#of.store.tastings.codes(this.#of.now());
    const [found] = codes.filter(({ code }) => sameSecret(code, wanted));
    return found ?? this.refuseCode(address);
  }

  async #sheet(session_id: string, seat: number): Promise<TasterSheet> {
    const { session, seats, log } = await this.#standing(session_id);
    const care = seats.find((s) => s.seat === seat)?.care;
    if (!care) throw noToken();
    return tasterSheet(session.design, session.plan, statusOf(log), {
      session_id,
      seat,
      care,
      now: this.#of.now(),
    });
  }

  async #standing(session_id: string): Promise<SessionNow> {
    const standing = await this.#of.store.tastings.now(session_id);
    if (!standing) throw noSession(session_id);
    return standing;
  }
}

const noSession = (id: string): ProblemError =>
  new ProblemError(notFound(`There is no session with the id "${id.slice(0, 60)}" here.`));

function seated(decision: JoinDecision | undefined): Extract<JoinDecision, { ok: true }> {
  if (!decision) throw codeRefused();
  if (decision.ok) return decision;
  throw (decision.why === 'admission' ? notAdmitted : notNow)(decision.problems);
}
