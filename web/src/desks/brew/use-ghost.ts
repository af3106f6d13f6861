import { checkKind, type Plan } from '@pourline/core';
import { useMemo } from 'react';
import { usePrediction } from '../../engine/use-prediction.ts';
import { type RevisionInfo, useDocument } from '../../replica/index.ts';
import type { Ghost } from '../../strip/strip.tsx';
import { formatMoment } from '../../words/index.ts';
import { useBundle } from './use-brew.ts';

const NO_SPREAD = { bandRuns: 0 } as const;

/** Another plan, or an earlier state of this one, behind the plan on the strip. */
export function useGhost(of: { id: string } | { revision: RevisionInfo } | null): Ghost | null {
  const other = useDocument('plan', of && 'id' in of ? of.id : null);
  const revision = of && 'revision' in of ? of.revision : null;
  const earlier = useMemo(() => {
    const checked = revision ? checkKind('plan', revision.body) : null;
    return checked?.ok ? checked.value : null;
  }, [revision]);
  const plan: Plan | null = of === null ? null : (earlier ?? other);
  const { bundle } = useBundle(plan);
  const { result } = usePrediction(bundle, false, NO_SPREAD);
  return useMemo(() => {
    if (!plan) return null;
    return { plan, result: bundle ? result : null, name: revision ? formatMoment(revision.at) : plan.name };
  }, [plan, bundle, result, revision]);
}
