import type { RunEvent } from '../../../documents/kinds/rehearsal.ts';

type Bare = RunEvent extends infer E
  ? E extends RunEvent
    ? Omit<E, 'n' | 'wall_ms' | 'mono_ms' | 'opened_ms'>
    : never
  : never;

const MORNING_MS = 1_804_158_300_000;

/** Numbers events and puts the clocks of a device to them that was never interrupted. */
export const recorded = (events: readonly Bare[]): RunEvent[] =>
  events.map((event, n) => ({
    ...event,
    n,
    wall_ms: MORNING_MS + 1_000 * event.at_s,
    mono_ms: 10_000 + 1_000 * event.at_s,
    opened_ms: MORNING_MS - 10_000,
  }));
