import type { ClockSample } from '@pourline/core';

/** Both clocks of this device, read together. */
export const readClocks = (): ClockSample => ({ mono_ms: performance.now(), wall_ms: Date.now() });

/** When this page was opened, by the clock that nobody can set [ms since 1970]. */
export const openedMs = (): number => performance.timeOrigin;
