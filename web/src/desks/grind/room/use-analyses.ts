import type { Sizing } from '@pourline/core';
import { useLayoutEffect, useMemo, useSyncExternalStore } from 'react';
import { useDocuments, useLookup } from '../../../replica/index.ts';
import { type Analyst, type Known, makeAnalyst } from './analyst.ts';
import { theGrindRoom } from './room.ts';

let shared: Analyst | null = null;

/** The page's analyst, over the desk's worker. */
function theAnalyst(): Analyst {
  shared ??= makeAnalyst((sizing, draws) =>
    theGrindRoom().remote.analyse(sizing.data, {
      draws,
      model: sizing.model,
      fines_limit_um: sizing.fines_limit_um,
    }),
  );
  return shared;
}

/** All measurements of the campaign as they stand on screen, by name. */
export function useSizings(): readonly Sizing[] {
  const documents = useDocuments('sizing');
  const lookup = useLookup();
  return useMemo(
    () =>
      documents.map((document) => {
        const now = lookup(document.id);
        return now?.kind === 'sizing' ? now : document;
      }),
    [documents, lookup],
  );
}

/** What is known of measurements, kept up to date; `first` is worked out before all others. */
export function useAnalyses(
  sizings: readonly Sizing[],
  first: string | null = null,
): ReadonlyMap<string, Known> {
  const analyst = theAnalyst();
  const known = useSyncExternalStore(analyst.subscribe, analyst.get);
  useLayoutEffect(() => {
    const open = sizings.filter(({ id }) => id === first);
    analyst.want([...open, ...sizings.filter(({ id }) => id !== first)]);
  }, [analyst, sizings, first]);
  return known;
}
