import { APERTURES, type Sizing } from '@pourline/core';

export type SieveData = Extract<Sizing['data'], { by: 'sieves' }>;
type Sieve = SieveData['sieves'][number];

const grams = (value: unknown): number => (typeof value === 'number' && Number.isFinite(value) ? value : 0);

/** What lies on each sieve and in the pan, coarsest first, and what is missing of the load. Fields may hold anything typed. */
export interface SieveSums {
  net_g: readonly number[];
  pan_g: number;
  total_g: number;
  /** Share of the sum, %; 0 while nothing was weighed. */
  pct: readonly number[];
  pan_pct: number;
  /** Load less the sum; null when the load was not weighed. */
  missing_g: number | null;
}

/** Adds a stack up. */
export function sieveSums({ sieves, pan, load_g }: SieveData): SieveSums {
  const net = sieves.map((row) => grams(row.weighed_g) - grams(row.tare_g));
  const inPan = pan ? grams(pan.weighed_g) - grams(pan.tare_g) : 0;
  const total = net.reduce((sum, g) => sum + g, inPan);
  const pct = (g: number): number => (total > 0 ? (100 * g) / total : 0);
  return {
    net_g: net,
    pan_g: inPan,
    total_g: total,
    pct: net.map(pct),
    pan_pct: pct(inPan),
    missing_g: typeof load_g === 'number' ? load_g - total : null,
  };
}

/** The stack with one more sieve, put where its opening belongs. */
export function withSieve(sieves: readonly Sieve[], aperture_um: number): Sieve[] {
  const at = sieves.findIndex((row) => row.aperture_um < aperture_um);
  const place = at < 0 ? sieves.length : at;
  return [...sieves.slice(0, place), { aperture_um, weighed_g: 0, tare_g: 0 }, ...sieves.slice(place)];
}

/** Openings of the standard that a stack does not have yet. */
export const openingsLeft = (sieves: readonly Sieve[]): typeof APERTURES =>
  APERTURES.filter(({ aperture_um }) => !sieves.some((row) => row.aperture_um === aperture_um));

/** A first stack: openings of the principal series from 1400 µm down to 90 µm, nothing weighed yet. */
export const FIRST_STACK: readonly number[] = [1400, 1000, 710, 500, 355, 250, 180, 90];
