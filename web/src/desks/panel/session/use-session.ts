import type { HostAct, HostView } from '@pourline/core';
import { useCallback, useEffect, useRef, useState } from 'react';
import { v7 } from 'uuid';
import { everythingSent } from '../../../replica/index.ts';
import { actOn, listenTo, listSessions, openSession, viewSession } from './host-wire.ts';

/** A running session as its host follows it. */
export interface Hosting {
  view: HostView | null;
  /** How far the server's clock is ahead of this one [ms]. */
  offset_ms: number;
  connected: boolean;
  /** What the server refused last. */
  refusal: string | null;
  busy: boolean;
  open(): Promise<boolean>;
  act(act: HostAct): Promise<void>;
}

/** Follows the session of a tasting: the one that runs, or none. Answers are put in as they arrive; everything else is read again. */
export function useSession(tastingId: string): Hosting {
  const [view, setView] = useState<HostView | null>(null);
  const [state, setState] = useState({
    connected: false,
    busy: false,
    refusal: null as string | null,
    offset_ms: 0,
  });
  const set = useCallback((part: Partial<typeof state>) => setState((now) => ({ ...now, ...part })), []);
  const newest = useRef(0);
  const take = useCallback(
    (next: HostView): void => {
      if (next.version < newest.current) return;
      newest.current = next.version;
      setView(next);
      set({ offset_ms: next.now - Date.now() });
    },
    [set],
  );
  useEffect(() => {
    let stale = false;
    newest.current = 0;
    setView(null);
    void (async () => {
      const told = await listSessions();
      const found = told.is === 'ok' ? newestOf(told.value.sessions, tastingId) : undefined;
      if (!found || stale) return;
      const now = await viewSession(found.session_id);
      if (!stale && now.is === 'ok') take(now.value);
    })();
    return () => {
      stale = true;
    };
  }, [tastingId, take]);
  const session_id = view?.session_id ?? null;
  useEffect(() => {
    if (session_id === null) return;
    const reading = oneAtATime(async () => {
      const told = await viewSession(session_id);
      if (told.is === 'ok') take(told.value);
    });
    return listenTo(session_id, (event) => {
      if (event.is === 'broken') return set({ connected: false });
      if (event.is !== 'answer') {
        set({ connected: true });
        return reading();
      }
      const { answer } = event;
      setView((now) =>
        now === null || now.answers.some((a) => a.answer_id === answer.answer_id)
          ? now
          : { ...now, answers: [...now.answers, answer] },
      );
    });
  }, [session_id, take, set]);
  const open = async (): Promise<boolean> => {
    set({ busy: true, refusal: null });
    // The server opens what it has; what was typed a moment ago must be there first.
    if (!(await everythingSent())) {
      set({ busy: false, refusal: 'away' });
      return false;
    }
    const told = await openSession(v7(), tastingId);
    set({ busy: false, refusal: told.is === 'refused' ? told.sentence : told.is === 'away' ? 'away' : null });
    if (told.is === 'ok') take(told.value);
    return told.is === 'ok';
  };
  const act = async (what: HostAct): Promise<void> => {
    if (session_id === null) return;
    set({ busy: true, refusal: null });
    const told = await actOn(session_id, v7(), what);
    set({ busy: false, refusal: told.is === 'refused' ? told.sentence : told.is === 'away' ? 'away' : null });
    if (told.is === 'ok') take(told.value);
  };
  return { view, ...state, open, act };
}

function newestOf<T extends { document_id: string; opened_at: number; state: string }>(
  sessions: readonly T[],
  document_id: string,
): T | undefined {
  return sessions
    .filter((s) => s.document_id === document_id)
    .sort(
      (a, b) => Number(a.state === 'closed') - Number(b.state === 'closed') || b.opened_at - a.opened_at,
    )[0];
}

/** Runs a job; calls while it runs make it run once more, not at the same time. */
function oneAtATime(job: () => Promise<void>): () => void {
  let running = false;
  let again = false;
  const run = (): void => {
    if (running) {
      again = true;
      return;
    }
    running = true;
    void job().finally(() => {
      running = false;
      if (again) {
        again = false;
        run();
      }
    });
  };
  return run;
}
