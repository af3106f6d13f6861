import { CACO3, DENSITY_25, type Heating } from '@pourline/core';

/** What the kettle does, as it is typed: any field may hold something that is no number yet. */
export interface KettleFields {
  to_C: unknown;
  co2: string;
  /** `share` of what could drop, or the alkalinity `measured` after boiling. */
  scale_by: string;
  share_pct: unknown;
  /** mg/L as CaCO3 */
  measured: unknown;
  steam_pct: unknown;
  kettle_g: unknown;
  sample_C: unknown;
}

/** A light heating in an open kettle, with the whole of what could drop: the worst that scale can do. */
export const USUAL_KETTLE: KettleFields = {
  to_C: 93,
  co2: 'lost',
  scale_by: 'share',
  share_pct: 100,
  measured: null,
  steam_pct: 0,
  kettle_g: 900,
  sample_C: 25,
};

/** Least and most that each figure may be. */
export const KETTLE_LIMITS = {
  to_C: [0, 100],
  share_pct: [0, 100],
  measured: [0, 2000],
  steam_pct: [0, 90],
  kettle_g: [1, 20_000],
  sample_C: [0, 100],
} as const satisfies Partial<Record<keyof KettleFields, readonly [number, number]>>;

export type KettleFigure = keyof typeof KETTLE_LIMITS;

/** A figure within its limits, or null. */
export function kettleFigure(of: KettleFields, field: KettleFigure): number | null {
  const value = of[field];
  const [low, high] = KETTLE_LIMITS[field];
  return typeof value === 'number' && value >= low && value <= high ? value : null;
}

/** mg/L as CaCO3 that an equivalent per kilogram is, at 25 °C. */
const CACO3_PER_EQ = (CACO3 / 2) * DENSITY_25;

/** What core is asked to do; null while a figure that it needs is not one. */
export function heatingOf(of: KettleFields): Heating | null {
  const to_C = kettleFigure(of, 'to_C');
  const steam = kettleFigure(of, 'steam_pct');
  const measured = of.scale_by === 'measured';
  const scale = kettleFigure(of, measured ? 'measured' : 'share_pct');
  if (to_C === null || steam === null || scale === null) return null;
  return {
    to_C,
    steam: steam / 100,
    co2: of.co2 === 'kept' ? 'kept' : 'lost',
    scale: measured
      ? { by: 'alkalinity', alkalinity: scale / CACO3_PER_EQ }
      : { by: 'share', share: scale / 100 },
  };
}
