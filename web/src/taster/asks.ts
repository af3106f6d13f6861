import type { AnswerRequest, OwnAnswer, TasterSet, TasterSheet, TasterTask } from '@pourline/core';

/** One thing to be answered: a set of cups, or one cup of it, at one temperature. */
export interface Ask {
  key: string;
  set: TasterSet;
  /** The cup, where each is answered by itself. */
  code: string | null;
  window_id: string | null;
  /** Opens and closes by the server's clock; null: not known, or whenever. */
  opens_at: number | null;
  closes_at: number | null;
  /** Poured, as far as the host has said. */
  poured: boolean;
}

/** Tests in which every cup is answered by itself. */
const EACH_CUP: ReadonlySet<TasterTask['test']> = new Set([
  'intensity',
  'check_all',
  'just_about_right',
  'descriptors',
  'temporal',
  'a_not_a',
]);

/** Whether every cup is answered by itself. */
export const eachCup = (task: TasterTask): boolean => EACH_CUP.has(task.test);

export const keyOf = (set: number, code: string | null, window_id: string | null): string =>
  `${set} ${code ?? '-'} ${window_id ?? '-'}`;

/** Everything that a sheet asks, in the order of tasting: flight by flight, hot before cold, set by set, cup by cup. */
export function asksOf(sheet: TasterSheet): Ask[] {
  const place = new Map(sheet.windows.map(({ id }, i) => [id, i]));
  const flights = new Map(sheet.flights.map((flight) => [flight.flight, flight]));
  const asks = sheet.sets.flatMap((set) => {
    const windows =
      set.window_id !== null
        ? [set.window_id]
        : sheet.windows.length > 0
          ? sheet.windows.map(({ id }) => id)
          : [null];
    const codes = eachCup(sheet.task) ? set.codes : [null];
    const flight = flights.get(set.flight);
    return windows.flatMap((window_id) =>
      codes.map((code): Ask => {
        const window = flight?.windows.find((w) => w.window_id === window_id);
        return {
          key: keyOf(set.set, code, window_id),
          set,
          code,
          window_id,
          opens_at: window?.opens_at ?? null,
          closes_at: window?.closes_at ?? null,
          poured: flight ? flight.poured_at !== null : false,
        };
      }),
    );
  });
  const window = (ask: Ask): number => (ask.window_id === null ? -1 : (place.get(ask.window_id) ?? 0));
  return asks
    .map((ask, i) => ({ ask, i }))
    .sort((a, b) => a.ask.set.flight - b.ask.set.flight || window(a.ask) - window(b.ask) || a.i - b.i)
    .map(({ ask }) => ask);
}

/** How an ask stands at a moment. */
export type Standing = 'answered' | 'open' | 'early' | 'late' | 'not_poured';

/** How an ask stands. Without windows a cup may be tasted as soon as it is poured, or at once when pouring is not followed. */
export function standingOf(ask: Ask, answered: ReadonlySet<string>, now: number): Standing {
  if (answered.has(ask.key)) return 'answered';
  if (!ask.poured) return 'not_poured';
  if (ask.window_id === null) return 'open';
  if (ask.opens_at === null) return 'late';
  if (now < ask.opens_at) return 'early';
  return ask.closes_at !== null && now >= ask.closes_at ? 'late' : 'open';
}

/** Keys of what has been answered, on the server or still here. */
export function answeredKeys(
  answers: readonly Pick<OwnAnswer, 'set' | 'code' | 'window_id'>[],
  waiting: readonly Pick<AnswerRequest, 'set' | 'code' | 'window_id'>[],
): Set<string> {
  return new Set([...answers, ...waiting].map((a) => keyOf(a.set, a.code, a.window_id)));
}

/** What to do now: the first ask that is open, else when the next opens, else nothing more. */
export type Now =
  | { do: 'taste'; ask: Ask }
  | { do: 'wait'; until: number | null; ask: Ask }
  | { do: 'missed'; asks: Ask[] }
  | { do: 'done' };

/** What a taster does at a moment. */
export function whatNow(asks: readonly Ask[], answered: ReadonlySet<string>, now: number): Now {
  const standing = asks.map((ask) => ({ ask, is: standingOf(ask, answered, now) }));
  const open = standing.find(({ is }) => is === 'open');
  if (open) return { do: 'taste', ask: open.ask };
  const early = standing
    .filter(({ is }) => is === 'early')
    .sort((a, b) => (a.ask.opens_at ?? 0) - (b.ask.opens_at ?? 0))[0];
  if (early) return { do: 'wait', until: early.ask.opens_at, ask: early.ask };
  const unpoured = standing.find(({ is }) => is === 'not_poured');
  if (unpoured) return { do: 'wait', until: null, ask: unpoured.ask };
  const missed = standing.filter(({ is }) => is === 'late').map(({ ask }) => ask);
  return missed.length > 0 ? { do: 'missed', asks: missed } : { do: 'done' };
}

/** A list in an order of its own for each seat, the same every time: nobody starts with the same word. */
export function shuffledFor<T>(list: readonly T[], seat: number): T[] {
  let state = (seat * 2_654_435_761 + 97) >>> 0;
  const next = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
  const out = [...list];
  for (let i = out.length - 1; i > 0; i--) {
    const k = Math.floor(next() * (i + 1));
    [out[i], out[k]] = [out[k]!, out[i]!];
  }
  return out;
}
