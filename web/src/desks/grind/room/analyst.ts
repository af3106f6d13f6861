import type { Analysed, Sizing } from '@pourline/core';

/** What is known of one measurement. */
export interface Known extends Analysed {
  /** It belongs to an older state of the document; the newest is being worked out. */
  stale: boolean;
  /** Its spread has been worked out as well. */
  spread: boolean;
}

/** Analyses measurements one at a time, each first without its spread, the one asked for last first. */
export interface Analyst {
  get(): ReadonlyMap<string, Known>;
  subscribe(listener: () => void): () => void;
  /** Says which measurements are in view, the most wanted first. */
  want(sizings: readonly Sizing[]): void;
}

export type Analyse = (sizing: Sizing, draws: number) => Promise<Analysed>;

/** Draws of the spread. */
const DRAWS = 200;

interface Entry {
  key: string;
  known: Known;
}

const keyOf = ({ data, model, fines_limit_um }: Sizing): string =>
  JSON.stringify([data, model, fines_limit_um]);

/** Makes an analyst over a computation that runs elsewhere. Answers are kept, so that the same state is never worked out twice. */
export function makeAnalyst(analyse: Analyse): Analyst {
  const listeners = new Set<() => void>();
  const entries = new Map<string, Entry>();
  const keys = new WeakMap<Sizing, string>();
  let view: ReadonlyMap<string, Known> = new Map();
  let wanted: readonly Sizing[] = [];
  let busy = false;

  const key = (sizing: Sizing): string => {
    const kept = keys.get(sizing) ?? keyOf(sizing);
    keys.set(sizing, kept);
    return kept;
  };
  const draw = (): void => {
    view = new Map(
      wanted.flatMap((sizing) => {
        const entry = entries.get(sizing.id);
        if (!entry) return [];
        const stale = entry.key !== key(sizing);
        return [[sizing.id, stale ? { ...entry.known, stale } : entry.known]];
      }),
    );
    for (const tell of listeners) tell();
  };
  const next = (): { sizing: Sizing; draws: number } | null => {
    const first = wanted.find((sizing) => entries.get(sizing.id)?.key !== key(sizing));
    if (first) return { sizing: first, draws: 0 };
    const second = wanted.find((sizing) => !entries.get(sizing.id)?.known.spread);
    return second ? { sizing: second, draws: DRAWS } : null;
  };
  const work = async (): Promise<void> => {
    if (busy) return;
    busy = true;
    for (let job = next(); job; job = next()) {
      const { sizing, draws } = job;
      const found = await analyse(sizing, draws).catch((reason: unknown) => failed(reason));
      // Nothing that could be analysed has no spread either.
      const spread = draws > 0 || found.analysis === null;
      entries.set(sizing.id, { key: key(sizing), known: { ...found, stale: false, spread } });
      draw();
    }
    busy = false;
  };
  return {
    get: () => view,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    want(sizings) {
      const same = sizings.length === wanted.length && sizings.every((sizing, i) => sizing === wanted[i]);
      if (same) return;
      wanted = sizings;
      draw();
      void work();
    },
  };
}

const failed = (reason: unknown): Analysed => ({
  analysis: null,
  remarks: [
    {
      level: 'problem',
      code: 'failed',
      values: {},
      sentence: reason instanceof Error ? reason.message : String(reason),
    },
  ],
});
