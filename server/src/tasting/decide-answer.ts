import {
  type AnswerRequest,
  checkAnswer,
  type Problem,
  runOf,
  type SessionEvent,
  sessionProblem,
  statusOf,
} from '@pourline/core';
import type { SessionChange, SessionNow } from '@pourline/store';

/** What becomes of an answer. */
export type AnswerDecision =
  | { ok: true; outcome: 'taken' | 'already' | 'late'; counted: boolean; change: SessionChange | null }
  | { ok: false; why: 'now' | 'input'; problems: Problem[] };

/**
 * Decides on a taster's answer. Looks at codes only, so that neither what is said nor how long it takes depends on what is in the cups; whether
 * it is right is not asked before closing.
 */
export function decideAnswer(now: SessionNow, seat: number, request: AnswerRequest): AnswerDecision {
  const { session, log } = now;
  const { design, plan } = session;
  const before = log.find((e) => e.type === 'answered' && e.request.answer_id === request.answer_id);
  if (before?.type === 'answered') {
    const same = before.seat === seat && JSON.stringify(before.request) === JSON.stringify(request);
    const late = log.some((e) => e.type === 'closed' && e.seq < before.seq);
    if (same) return { ok: true, outcome: 'already', counted: !late, change: null };
    return refuse('input', sessionProblem(['answer_id'], 'id_reused', { value: request.answer_id }));
  }
  const status = statusOf(log);
  const mine = plan.sets.filter((s) => s.seat === seat);
  const problems = checkAnswer(design, mine, request);
  if (problems.length > 0) return { ok: false, why: 'input', problems };
  if (status.state === 'open') return refuse('now', sessionProblem([], 'not_started'));
  const flight = mine.find((s) => s.set === request.set)?.flight ?? 0;
  const answered = {
    event: { type: 'answered', seat, request } satisfies SessionEvent,
    event_id: request.answer_id,
  };
  if (status.state === 'closed')
    return { ok: true, outcome: 'late', counted: false, change: { ...keptBeside(now), events: [answered] } };
  if (!status.poured.has(flight)) return refuse('now', sessionProblem([], 'not_poured'));
  const away = status.tasters.get(seat)?.left_at !== null;
  const back = { event: { type: 'returned', seat } satisfies SessionEvent, event_id: null };
  return {
    ok: true,
    outcome: 'taken',
    counted: true,
    change: { events: away ? [back, answered] : [answered] },
  };
}

/** The run written anew with what came late; what the document holds besides stays. */
const keptBeside = ({ session }: SessionNow): Pick<SessionChange, 'document'> => ({
  document: (standing, log) => ({
    ...standing,
    run: runOf(session.design, session.plan, statusOf(log), session.opened_at),
  }),
});

const refuse = (why: 'now' | 'input', ...problems: Problem[]): AnswerDecision => ({
  ok: false,
  why,
  problems,
});
