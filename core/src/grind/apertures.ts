/**
 * Sieve openings [µm] of ISO 3310-1 (R 40/3, ratio about ⁴√2) with the mesh number that ASTM E11 gives them. From memory,
 * but for 2000 (No. 10), 425 (No. 40), 75 (No. 200) and 45 (No. 325), which were read: in a maker's notes on sieves and in
 * the scope of ASTM E11-17.
 */
export const APERTURES: readonly { aperture_um: number; mesh: number }[] = [
  { aperture_um: 2000, mesh: 10 },
  { aperture_um: 1700, mesh: 12 },
  { aperture_um: 1400, mesh: 14 },
  { aperture_um: 1180, mesh: 16 },
  { aperture_um: 1000, mesh: 18 },
  { aperture_um: 850, mesh: 20 },
  { aperture_um: 710, mesh: 25 },
  { aperture_um: 600, mesh: 30 },
  { aperture_um: 500, mesh: 35 },
  { aperture_um: 425, mesh: 40 },
  { aperture_um: 355, mesh: 45 },
  { aperture_um: 300, mesh: 50 },
  { aperture_um: 250, mesh: 60 },
  { aperture_um: 212, mesh: 70 },
  { aperture_um: 180, mesh: 80 },
  { aperture_um: 150, mesh: 100 },
  { aperture_um: 125, mesh: 120 },
  { aperture_um: 106, mesh: 140 },
  { aperture_um: 90, mesh: 170 },
  { aperture_um: 75, mesh: 200 },
  { aperture_um: 63, mesh: 230 },
  { aperture_um: 53, mesh: 270 },
  { aperture_um: 45, mesh: 325 },
  { aperture_um: 38, mesh: 400 },
  { aperture_um: 32, mesh: 450 },
  { aperture_um: 25, mesh: 500 },
  { aperture_um: 20, mesh: 635 },
];

/** Openings [µm] of the principal series of ISO 3310-1 (R 20/3), from memory: a stack that any supplier has. */
export const PRINCIPAL_APERTURES: readonly number[] = [
  2000, 1400, 1000, 710, 500, 355, 250, 180, 125, 90, 63, 45, 32,
];

/** Openings [µm] of older tables that are still printed, and today's of the same mesh number: 420 and 841 read, the rest from memory. */
const SUPERSEDED: readonly (readonly [old: number, now: number])[] = [
  [841, 850],
  [707, 710],
  [595, 600],
  [420, 425],
  [354, 355],
  [297, 300],
  [210, 212],
  [177, 180],
  [149, 150],
  [105, 106],
  [88, 90],
  [74, 75],
];

/** Today's opening [µm] for one of an older table; null for any other. */
export const supersededBy = (aperture_um: number): number | null =>
  SUPERSEDED.find(([old]) => old === aperture_um)?.[1] ?? null;

/** Whether an opening [µm] is one of the standard. */
export const isStandardAperture = (aperture_um: number): boolean =>
  APERTURES.some((row) => row.aperture_um === aperture_um);

/**
 * How far the mean opening of a sieve may be off its nominal [m], both ways: Y = w^0.98/27 + 1.6 (µm; ISO 3310-1 and ASTM E11,
 * from memory), so that 500 µm may be 482 to 518.
 */
export function apertureTolerance(aperture: number): number {
  const um = aperture * 1e6;
  return (um ** 0.98 / 27 + 1.6) * 1e-6;
}

/** Standard uncertainty of an opening [m] that is only known to keep the standard: the tolerance as a rectangle, Y/√3. */
export const apertureDoubt = (aperture: number): number => apertureTolerance(aperture) / Math.sqrt(3);
