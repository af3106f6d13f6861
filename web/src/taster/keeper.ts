import type { CareAnswers, TasterSheet, TastingAnswer } from '@pourline/core';
import { v7 } from 'uuid';
import type { Ask } from './asks.ts';
import type { Seat, Shelf, Waiting } from './shelf.ts';
import { fetchSheet, join, leave, listen, sendAnswer, type Told } from './wire.ts';

/** Everything the page draws from. */
export interface View {
  /** Null until the storage was read. */
  ready: boolean;
  seat: Seat | null;
  sheet: TasterSheet | null;
  waiting: readonly Waiting[];
  /** The server answered last time. */
  reached: boolean;
  /** Why joining was refused, or why the seat is gone. */
  refusal: string | null;
  joining: boolean;
}

/** The page's one source of truth: seat, sheet and answers, kept on the phone and brought to the server. */
export interface Keeper {
  get(): View;
  subscribe(listener: () => void): () => void;
  /** The server's clock, as far as it is known. */
  now(): number;
  join(code: string, name: string, care: CareAnswers): Promise<void>;
  answer(ask: Ask, answer: TastingAnswer, temperature_C: number | null): Promise<void>;
  leave(): Promise<void>;
  /** Forgets the seat, for another session; refused while answers wait. */
  forget(): Promise<boolean>;
  /** Tries again at once. */
  nudge(): void;
  draft(key: string): Promise<unknown>;
  keepDraft(key: string, value: unknown): void;
  stop(): void;
}

const FIRST_PAUSE_MS = 500;
const LONGEST_PAUSE_MS = 8_000;
/** The sheet is asked for again this often even without an event, in case a stream died unseen. */
const POLL_MS = 20_000;

/** Starts keeping over a phone's storage. */
export function startKeeper(shelf: Shelf): Keeper {
  let view: View = {
    ready: false,
    seat: null,
    sheet: null,
    waiting: [],
    reached: true,
    refusal: null,
    joining: false,
  };
  const listeners = new Set<() => void>();
  const ended = new AbortController();
  let stream: AbortController | null = null;
  let wake: (() => void) | null = null;
  let sending = false;

  const set = (change: Partial<View>): void => {
    view = { ...view, ...change };
    for (const tell of listeners) tell();
  };
  const keepSeat = async (seat: Seat | null): Promise<void> => {
    set({ seat, sheet: seat?.sheet ?? null });
    await shelf.keepSeat(seat);
  };
  const takeSheet = async (sheet: TasterSheet, took_ms: number): Promise<void> => {
    const { seat } = view;
    if (!seat || (view.sheet?.session_id === sheet.session_id && view.sheet.version > sheet.version)) return;
    await keepSeat({ ...seat, sheet, offset_ms: sheet.now + took_ms / 2 - Date.now() });
  };
  const lost = async (sentence: string): Promise<void> => {
    const { seat } = view;
    stream?.abort();
    if (seat) await keepSeat({ ...seat, token: null });
    set({ refusal: sentence });
  };
  const readSheet = async (): Promise<void> => {
    const token = view.seat?.token;
    if (!token) return;
    const told = await fetchSheet(token);
    set({ reached: told.is !== 'away' });
    if (told.is === 'ok') await takeSheet(told.value, told.took_ms);
    else if (told.is === 'refused' && (told.status === 401 || told.status === 403)) await lost(told.sentence);
  };

  /** Sends what waits, oldest first, until the server is away. */
  const drain = async (): Promise<void> => {
    if (sending) return;
    sending = true;
    try {
      for (let next = nextWaiting(view); next && view.seat?.token; next = nextWaiting(view)) {
        const { session_id: _, refused: __, ...request } = next;
        const told = await sendAnswer(view.seat.token, request);
        set({ reached: told.is !== 'away' });
        if (told.is === 'away') break;
        await settle(next, told);
      }
    } finally {
      sending = false;
    }
  };
  const settle = async (
    answer: Waiting,
    told: Exclude<Told<{ counted: boolean; now: number }>, { is: 'away' }>,
  ): Promise<void> => {
    if (told.is === 'ok') {
      await shelf.sent(answer.answer_id);
      const { seat, sheet } = view;
      const { answer_id, set: number, code, window_id } = answer;
      set({ waiting: view.waiting.filter((w) => w.answer_id !== answer_id) });
      if (seat && sheet && !sheet.answers.some((a) => a.answer_id === answer_id)) {
        const own = {
          answer_id,
          set: number,
          code,
          window_id,
          at: told.value.now,
          counts: told.value.counted,
          answer: answer.answer,
        };
        await keepSeat({ ...seat, sheet: { ...sheet, answers: [...sheet.answers, own] } });
      }
    } else if (told.status === 401 || told.status === 429) {
      if (told.status === 401) await lost(told.sentence);
      else await pause(LONGEST_PAUSE_MS);
    } else {
      const refused = { ...answer, refused: told.sentence };
      await shelf.put(refused);
      set({ waiting: view.waiting.map((w) => (w.answer_id === answer.answer_id ? refused : w)) });
    }
  };
  const pause = (ms: number): Promise<void> =>
    new Promise((resolve) => {
      const timer = setTimeout(done, ms);
      function done(): void {
        clearTimeout(timer);
        wake = null;
        resolve();
      }
      wake = done;
    });

  /** Reads the sheet, sends what waits and listens, over and over; waits longer after each failure. */
  const follow = async (): Promise<void> => {
    let rest = FIRST_PAUSE_MS;
    while (!ended.signal.aborted) {
      const token = view.seat?.token;
      if (!token) {
        await pause(LONGEST_PAUSE_MS);
        continue;
      }
      await readSheet();
      await drain();
      if (view.reached && view.seat?.token) {
        rest = FIRST_PAUSE_MS;
        stream = new AbortController();
        const status = await listen(
          token,
          AbortSignal.any([stream.signal, ended.signal]),
          () => void readSheet().then(drain),
        );
        if (status === 401 || status === 403) await readSheet();
      }
      await pause(rest);
      rest = Math.min(LONGEST_PAUSE_MS, rest * 2);
    }
  };
  const poll = setInterval(() => {
    if (view.seat?.token && view.sheet?.state !== 'closed') void readSheet().then(drain);
  }, POLL_MS);
  const nudge = (): void => {
    wake?.();
    void readSheet().then(drain);
  };

  void (async () => {
    const [seat, waiting] = [await shelf.seat(), await shelf.waiting()];
    set({ ready: true, seat, sheet: seat?.sheet ?? null, waiting });
    void follow();
  })();

  return {
    get: () => view,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    now: () => Date.now() + (view.seat?.offset_ms ?? 0),
    async join(code, name, care) {
      set({ joining: true, refusal: null });
      // Kept before it is sent: when the answer is lost on the way, the same seat comes back.
      const join_id = view.seat?.join_id ?? v7();
      const before: Seat = { join_id, name, token: null, sheet: view.seat?.sheet ?? null, offset_ms: 0 };
      await shelf.keepSeat(before);
      set({ seat: before });
      const told = await join({ join_id, code, name, care, device_at: new Date().toISOString() });
      set({ joining: false, reached: told.is !== 'away' });
      if (told.is !== 'ok') {
        set({ refusal: told.is === 'refused' ? told.sentence : null });
        return;
      }
      const { token, sheet } = told.value;
      if (before.sheet && before.sheet.session_id !== sheet.session_id) await shelf.clearDrafts();
      await keepSeat({ join_id, name, token, sheet, offset_ms: sheet.now + told.took_ms / 2 - Date.now() });
      nudge();
    },
    async answer(ask, answer, temperature_C) {
      const { seat, sheet } = view;
      if (!seat || !sheet) return;
      const waiting: Waiting = {
        answer_id: v7(),
        session_id: sheet.session_id,
        set: ask.set.set,
        code: ask.code,
        window_id: ask.window_id,
        device_at: new Date().toISOString(),
        offset_ms: Math.round(seat.offset_ms),
        temperature_C,
        answer,
        refused: null,
      };
      await shelf.put(waiting);
      await shelf.keepDraft(`${sheet.session_id} ${ask.key}`, undefined);
      set({ waiting: [...view.waiting, waiting] });
      void drain();
    },
    async leave() {
      const token = view.seat?.token;
      if (!token) return;
      await drain();
      const told = await leave(token);
      set({ reached: told.is !== 'away' });
      if (told.is === 'ok') await takeSheet(told.value, told.took_ms);
    },
    async forget() {
      if (view.waiting.some((w) => w.refused === null)) return false;
      stream?.abort();
      for (const { answer_id } of view.waiting) await shelf.sent(answer_id);
      await shelf.clearDrafts();
      await keepSeat(null);
      set({ waiting: [], refusal: null });
      return true;
    },
    nudge,
    draft: (key) => shelf.draft(`${view.sheet?.session_id} ${key}`),
    keepDraft: (key, value) => void shelf.keepDraft(`${view.sheet?.session_id} ${key}`, value),
    stop() {
      clearInterval(poll);
      stream?.abort();
      ended.abort();
      wake?.();
    },
  };
}

const nextWaiting = (view: View): Waiting | undefined =>
  view.waiting.find(
    (w) => w.refused === null && (view.sheet === null || w.session_id === view.sheet.session_id),
  );
