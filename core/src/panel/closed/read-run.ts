import type { Tasting, TastingAnswer, TastingRun, TastingWindow } from '../../documents/index.ts';

/** One cup as it stood before a taster. */
export interface SeenCup {
  code: string;
  /** Position in the run's list of samples. */
  sample: number;
  known: boolean;
}

/** An answer that counts, with what only the closed session knows. */
export interface GivenAnswer {
  /** Name, made different from everybody else's. */
  taster: string;
  /** Set of this taster, from 1. */
  set: number;
  cups: readonly SeenCup[];
  right: readonly string[];
  /** The cup that it is about; null when it is about the whole set. */
  code: string | null;
  /** Position in the run's list of windows; null: whenever. */
  window: number | null;
  temperature_C: number | null;
  answer: TastingAnswer;
}

/** Names of the tasters of a run by seat; a name that stands twice carries its seat. */
export function namesBySeat(run: TastingRun): Map<number, string> {
  const plain = (name: string): string => name.trim().toLowerCase();
  const count = (name: string): number => run.tasters.filter((t) => plain(t.name) === plain(name)).length;
  return new Map(
    run.tasters.map(({ seat, name }) => {
      const given = name.trim();
      return [seat, given === '' ? `${seat}` : count(name) > 1 ? `${given} (${seat})` : given];
    }),
  );
}

/** Every answer of a closed session that counts, in order of tasters and sets. */
export function readRun(run: TastingRun): GivenAnswer[] {
  const names = namesBySeat(run);
  const sets = new Map(run.sets.map((set) => [`${set.seat} ${set.set}`, set]));
  const windows = new Map(run.windows.map(({ id }, i) => [id, i]));
  const samples = new Map(run.samples.map(({ id }, i) => [id, i]));
  return run.answers
    .filter(({ counts }) => counts)
    .flatMap((given) => {
      const set = sets.get(`${given.seat} ${given.set}`);
      const taster = names.get(given.seat);
      if (!set || taster === undefined) return [];
      const window = given.window_id ?? set.window_id;
      return [
        {
          taster,
          seat: given.seat,
          set: given.set,
          cups: set.cups.flatMap(({ code, sample_id, known }) => {
            const sample = samples.get(sample_id);
            return sample === undefined ? [] : [{ code, sample, known }];
          }),
          right: set.right,
          code: given.code,
          window: window === null ? null : (windows.get(window) ?? null),
          temperature_C: given.temperature_C,
          answer: given.answer,
        },
      ];
    })
    .sort((a, b) => a.seat - b.seat || a.set - b.set)
    .map(({ seat: _, ...answer }) => answer);
}

/** The answers of one window; all of them when the session has none. */
export const inWindow = (answers: readonly GivenAnswer[], window: number | null): GivenAnswer[] =>
  window === null ? [...answers] : answers.filter((a) => a.window === window);

/** Windows of a run by position; one without a name when there are none. */
export const windowsOf = (run: TastingRun): { at: number | null; window: TastingWindow | null }[] =>
  run.windows.length === 0 ? [{ at: null, window: null }] : run.windows.map((window, at) => ({ at, window }));

/** The sample that an answer about one cup is about; null for an answer about a whole set. */
export function sampleOf({ code, cups }: GivenAnswer): number | null {
  return cups.find((cup) => cup.code === code)?.sample ?? null;
}

/** A tasting that has been run and closed. */
export type ClosedTasting = Tasting & { run: TastingRun };

/** Whether a tasting has been run and closed. */
export const isClosed = (tasting: Tasting): tasting is ClosedTasting => tasting.run !== null;
