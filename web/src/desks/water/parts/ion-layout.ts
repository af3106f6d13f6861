import { amountOf, IONS, type IonField, type Ions } from '@pourline/core';

/** Ions from left to right: what makes hardness first above, what makes alkalinity first below. */
export const CATIONS = ['calcium_mg_L', 'magnesium_mg_L', 'sodium_mg_L', 'potassium_mg_L'] as const;
export const ANIONS = ['bicarbonate_mg_L', 'sulfate_mg_L', 'chloride_mg_L', 'nitrate_mg_L'] as const;

/** One ion on the chart; lengths are charge [meq/L]. */
export interface IonSegment {
  field: IonField;
  from: number;
  length: number;
}

/** Charges of a water laid end to end: cations in one row, anions in the other, both from the same start. */
export interface IonLayout {
  cations: readonly IonSegment[];
  anions: readonly IonSegment[];
  /** Ends of the two rows [meq/L]. */
  positive: number;
  negative: number;
  /** How far calcium and magnesium reach, and how far bicarbonate does [meq/L]. */
  hardness: number;
  alkalinity: number;
  /** What of the hardness stands over alkalinity and can leave as scale: the shorter of both [meq/L]. */
  temporary: number;
}

/** Lays out the ions of a water. Ions that are absent have no segment. */
export function layoutIons(ions: Ions): IonLayout {
  const row = (fields: readonly IonField[]): { segments: IonSegment[]; end: number } => {
    let end = 0;
    const segments = fields.flatMap((field) => {
      const length = amountOf(ions, field) * Math.abs(IONS[field].charge);
      if (!(length > 0)) return [];
      const from = end;
      end += length;
      return [{ field, from, length }];
    });
    return { segments, end };
  };
  const above = row(CATIONS);
  const below = row(ANIONS);
  const reach = (segments: readonly IonSegment[], of: readonly IonField[]): number =>
    segments.reduce((sum, { field, length }) => sum + (of.includes(field) ? length : 0), 0);
  const hardness = reach(above.segments, ['calcium_mg_L', 'magnesium_mg_L']);
  const alkalinity = reach(below.segments, ['bicarbonate_mg_L']);
  return {
    cations: above.segments,
    anions: below.segments,
    positive: above.end,
    negative: below.end,
    hardness,
    alkalinity,
    temporary: Math.min(hardness, alkalinity),
  };
}

/** The nearest of 1, 1.5, 2, 3, 4, 5, 6, 8 × 10ⁿ that is not below `reach`: the length of the scale [meq/L]. */
export function scaleFor(reach: number): number {
  if (!(reach > 1e-3)) return 0.1;
  const power = 10 ** Math.floor(Math.log10(reach));
  const steps = [1, 1.5, 2, 3, 4, 5, 6, 8, 10];
  return (steps.find((step) => step * power >= reach * (1 - 1e-9)) ?? 10) * power;
}

/** Longest of several waters on one scale, so that they can be held against each other. */
export const sharedScale = (layouts: readonly IonLayout[]): number =>
  scaleFor(Math.max(0, ...layouts.flatMap(({ positive, negative }) => [positive, negative])));
