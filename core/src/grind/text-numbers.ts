/** The unit of sizes that a heading names, as a factor to µm; null when it is µm or is not named. */
export function unitFactor(heading: string): { um: number; unit: 'nm' | 'mm' | null } {
  if (/(^|[^a-z])nm([^a-z]|$)|nanomet/i.test(heading)) return { um: 1e-3, unit: 'nm' };
  if (/(^|[^a-zµμ])mm([^a-z]|$)|millimet/i.test(heading)) return { um: 1e3, unit: 'mm' };
  return { um: 1, unit: null };
}
