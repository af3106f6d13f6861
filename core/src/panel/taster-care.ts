import type { TasterCare } from './caffeine.ts';
import { type Finding, finding } from './findings.ts';

/**
 * Temperatures of a sip [°C]. Above 65: very hot drinks, IARC Monographs volume 116 (2016), group 2A. Advised: 60, about where people like to
 * drink (Brown & Diller 2008: 60 ± 8.3).
 */
export const SIP_LIMITS = { never_above_C: 65, advised_C: 60 } as const;

/**
 * Whether a cup can be sipped at a temperature [°C]; null when there is nothing to say. `minutes` until it is down to the limit, when a cooling
 * model knows.
 */
export function sipCaution(celsius: number, minutes: number | null = null): Finding | null {
  const limit = SIP_LIMITS.never_above_C;
  const shown = Math.round(celsius * 10) / 10;
  if (celsius > limit)
    return minutes === null
      ? finding('cannot', 'too_hot_plain', { celsius: shown, limit })
      : finding('cannot', 'too_hot', { celsius: shown, limit, minutes: Math.ceil(minutes) });
  if (celsius > SIP_LIMITS.advised_C)
    return finding('caution', 'hot', { celsius: shown, advised: SIP_LIMITS.advised_C });
  return null;
}

/** Which samples a taster must not get: anything that may carry what this taster keeps away from. */
export function blockedSamples(
  taster: Pick<TasterCare, 'name' | 'allergens'>,
  samples: readonly { name: string; may_carry: readonly string[] }[],
): { sample: number; finding: Finding }[] {
  const avoided = new Set((taster.allergens ?? []).map((a) => a.trim().toLowerCase()));
  return samples.flatMap(({ name, may_carry }, sample) => {
    const carried = may_carry.filter((a) => avoided.has(a.trim().toLowerCase()));
    if (carried.length === 0) return [];
    const values = { taster: taster.name, sample: name, allergens: carried.join(', ') };
    return [{ sample, finding: finding('cannot', 'allergen', values) }];
  });
}

/** What is said when someone spits and assumes a share that is kept. */
export const spitNote = (kept: number): Finding =>
  finding('note', 'spit_unknown', { share: Math.round(kept * 100) });

/** What is said when a session is late. */
export const lateNote = (): Finding => finding('note', 'late_caffeine');
