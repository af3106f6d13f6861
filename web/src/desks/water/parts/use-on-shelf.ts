import type { DocumentOf } from '@pourline/core';
import { useDocuments } from '../../../replica/index.ts';
import { useStable } from './use-stable.ts';

/**
 * What stands on the shelf, and after it what was archived but is still used: an order that points to it goes on using it, so it
 * must be seen to be.
 */
export function useOnShelf<K extends 'water' | 'salt' | 'concentrate'>(
  kind: K,
  used: readonly string[],
): readonly DocumentOf<K>[] {
  const here = useDocuments(kind);
  const archived = useDocuments(kind, { archived: true });
  return useStable([...here, ...archived.filter(({ id }) => used.includes(id))]);
}
