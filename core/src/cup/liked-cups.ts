import type { Tasted, Trial } from '../documents/index.ts';
import type { LikedCup } from './liking-process.ts';

/** A trial with the strength and yield that were found of it, %. */
export interface MeasuredCup {
  trial: Pick<Trial, 'tasted' | 'counted' | 'archived' | 'brewed_at'>;
  strength_pct: number | null;
  yield_pct: number | null;
}

/** Which marks are asked for; null for all. */
export interface LikedBy {
  by: string | null;
  when: Tasted['when'] | null;
}

/**
 * Marks of trials as {@link preferredRegion} takes them, oldest first: one a cup and taster, the mean over hot, warm and cold unless one is asked for.
 * Cups without a strength and a yield, without a mark, or not counted are left out.
 */
export function likedCups(
  measured: readonly MeasuredCup[],
  asked: LikedBy = { by: null, when: null },
): LikedCup[] {
  return measured
    .toSorted((a, b) => Date.parse(a.trial.brewed_at) - Date.parse(b.trial.brewed_at))
    .flatMap(({ trial, strength_pct, yield_pct }): LikedCup[] => {
      if (strength_pct === null || yield_pct === null || !trial.counted || trial.archived) return [];
      const marks = new Map<string, number[]>();
      for (const { by, when, liking } of trial.tasted) {
        if (liking === null || (asked.by !== null && by !== asked.by)) continue;
        if (asked.when !== null && when !== asked.when) continue;
        marks.set(by, [...(marks.get(by) ?? []), liking]);
      }
      return [...marks].map(([by, list]) => ({
        strength_pct,
        yield_pct,
        by,
        liking: list.reduce((a, b) => a + b, 0) / list.length,
      }));
    });
}
