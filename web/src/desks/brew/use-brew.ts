import { type BrewBundle, bundlePlan, checkBundle, type Plan, type Problem } from '@pourline/core';
import { useMemo } from 'react';
import { useLookup } from '../../replica/index.ts';

export interface Gathered {
  /** Null when the plan cannot be computed as it stands. */
  bundle: BrewBundle | null;
  /** What stands in the way; paths lead into the plan. */
  problems: readonly Problem[];
  /** What deserves a second look, in any of the documents. */
  cautions: readonly Problem[];
}

const NOTHING: Gathered = { bundle: null, problems: [], cautions: [] };

/** Gathers what a plan points to and checks it together. */
export function useBundle(plan: Plan | null): Gathered {
  const lookup = useLookup();
  return useMemo(() => {
    if (!plan) return NOTHING;
    const gathered = bundlePlan(plan, lookup);
    if (!gathered.ok) return { bundle: null, problems: gathered.problems, cautions: [] };
    const found = checkBundle(gathered.value);
    const problems = found.filter((entry) => entry.level === 'problem');
    return {
      bundle: problems.length > 0 ? null : gathered.value,
      problems,
      cautions: found.filter((entry) => entry.level === 'caution'),
    };
  }, [plan, lookup]);
}
