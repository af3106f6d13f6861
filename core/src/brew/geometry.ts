/**
 * A dripper's inside as a frustum: radius `r0` at the bottom, growing by `slope` per height. A cylinder has slope 0.
 */
export interface Frustum {
  r0: number;
  slope: number;
  height: number;
}

/** Radius at height z [m]. */
export const radiusAt = (f: Frustum, z: number): number => f.r0 + f.slope * z;

/** Volume below height z [m³]. */
export function volumeBelow(f: Frustum, z: number): number {
  const r = radiusAt(f, z);
  return (Math.PI / 3) * z * (f.r0 * f.r0 + f.r0 * r + r * r);
}

/** Height that a volume fills [m]; inverse of {@link volumeBelow}. */
export function heightOf(f: Frustum, volume: number): number {
  return fillHeight(f.r0, f.slope, volume);
}

/**
 * Height that a volume fills above a level of radius r [m]. With a slope near 0 the cubic root would cancel, so a
 * cylinder is used below a relative growth of 10⁻⁶.
 */
export function fillHeight(r: number, slope: number, volume: number): number {
  const growth = (3 * slope * volume) / (Math.PI * r * r * r);
  if (Math.abs(growth) < 1e-6) return volume / (Math.PI * r * r);
  return (r * Math.cbrt(1 + growth) - r) / slope;
}
