/** The calendar day of a moment as it was written, or null. */
export const dayOf = (moment: string | null): string | null => moment?.slice(0, 10) ?? null;

/** A moment on another day, at the time it had; noon when it had none. */
export function onDay(moment: string | null, day: string | null): string | null {
  if (day === null) return null;
  return day + (moment?.slice(10) || 'T12:00:00+00:00');
}
