import type { Talk } from '@pourline/core';
import { useDocuments } from '../../../replica/index.ts';

const KEY = 'pourline.stage-run';

function remembered(): string | null {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}

/** Keeps which run is on the desk for the next time. */
export function rememberRun(id: string): void {
  try {
    localStorage.setItem(KEY, id);
  } catch {
    // Without storage the choice simply does not outlive the page.
  }
}

/** The run on the desk: the one in the address, else the last one looked at, else the first made. */
export function useRunChoice(asked: string | undefined): { runId: string | null; runs: readonly Talk[] } {
  const runs = useDocuments('talk');
  const has = (id: string | null | undefined): id is string => runs.some((run) => run.id === id);
  const last = remembered();
  const first = runs.reduce<string | null>(
    (found, { id }) => (found === null || id < found ? id : found),
    null,
  );
  return { runId: has(asked) ? asked : has(last) ? last : first, runs };
}
