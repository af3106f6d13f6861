import type { Beat } from '@pourline/core';

/** Whether this device can vibrate at all; browsers on desks have the function and no motor. */
export const canVibrate = (): boolean => 'vibrate' in navigator && matchMedia('(pointer: coarse)').matches;

/** Vibrates for the sounds whose moment has come since the last look. */
export function vibrate(beats: readonly Beat[]): void {
  const strongest = beats.some(({ tone }) => tone === 'go') ? 280 : beats.length > 0 ? 60 : 0;
  if (strongest > 0) navigator.vibrate(strongest);
}
