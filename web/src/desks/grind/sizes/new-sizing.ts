import type { Checked, Grinder, Sizing, SizingData } from '@pourline/core';
import { createDocument } from '../../../replica/index.ts';
import { FIRST_STACK } from './sieve-kernels.ts';

/** What a new measurement takes over from the last one: the same bench, most likely. */
export function likeLast(sizings: readonly Sizing[], grinders: readonly Grinder[]) {
  const last = sizings.reduce<Sizing | null>(
    (newest, one) => (newest && newest.id > one.id ? newest : one),
    null,
  );
  return {
    grinder_id: last?.grinder_id ?? grinders[0]?.id ?? null,
    coffee_id: last?.coffee_id ?? null,
    beans_C: last?.beans_C ?? null,
  };
}

/** A stack with nothing weighed yet. */
export const emptyStack = (like: Sizing | null): SizingData => {
  const known = like?.data.by === 'sieves' ? like.data : null;
  return {
    by: 'sieves',
    load_g: null,
    sieves: (known?.sieves.map((row) => row.aperture_um) ?? FIRST_STACK).map((aperture_um, i) => ({
      aperture_um,
      weighed_g: known?.sieves[i]?.tare_g ?? 0,
      tare_g: known?.sieves[i]?.tare_g ?? 0,
    })),
    pan: { weighed_g: known?.pan?.tare_g ?? 0, tare_g: known?.pan?.tare_g ?? 0 },
    step_g: known?.step_g ?? 0.1,
    aperture_doubt_pct: known?.aperture_doubt_pct ?? null,
    repeat_pct: known?.repeat_pct ?? 0.5,
    shaken_s: known?.shaken_s ?? null,
  };
};

/** Keeps raw data as a measurement of its own, measured now. */
export function keepSizing(
  name: string,
  data: SizingData,
  like: ReturnType<typeof likeLast>,
  campaignId: string,
): Promise<Checked<Sizing>> {
  const measured_at = `${new Date().toISOString().slice(0, 19)}+00:00`;
  return createDocument('sizing', { name: name.slice(0, 120), measured_at, ...like, data }, campaignId);
}
