import type { Plan } from '@pourline/core';
import type { Draft } from '../../../replica/index.ts';

interface TracePanelProps {
  draft: Draft<'trial'>;
  plan: Plan | null;
}

/** Recordings of the brew. */
export function TracePanel(_props: TracePanelProps) {
  return null;
}
