import type { Plane } from './plane.ts';

/** Why a patch is not in the statistics; null means that it is. */
export type LeftOut = 'at border' | 'too large' | 'thread' | 'erased';

/** One grain, for statistics and for drawing over the picture. */
export interface PhotoGrain {
  /** Stays the same for the same picture and options. */
  id: number;
  x_px: number;
  y_px: number;
  /** Closed line around it: x and y by turns. */
  outline_px: Float32Array;
  /** Area [px²], corrected for the blur of the edge. */
  area_px: number;
  /** Second moments of the area about the centre [px²]. */
  moments_px: readonly [xx: number, xy: number, yy: number];
  /** Width and height of its box. */
  box_px: readonly [width: number, height: number];
  /** Perimeter of the outline [px]. */
  perimeter_px: number;
  /** Area over that of its convex hull. */
  solidity: number;
  /** Grains in the patch it was parted from; 1 stood alone. */
  parted: number;
  left_out: LeftOut | null;
  /** Below the width that is trusted. */
  small: boolean;
  /** How many grains like it stand for: large ones are cut by the border more often (Miles–Lantuéjoul). */
  weight: number;
  /** Diameter of the circle of the same area; NaN without a scale. */
  diameter_um: number;
  /** Axes of the ellipse with the same moments; NaN without a scale. */
  length_um: number;
  width_um: number;
  /** Direction of the long axis on the sheet, from the rows of the picture, clockwise. */
  angle_deg: number;
}

/** Something a person should know about a measurement. */
export interface PhotoRemark {
  code: string;
  /** `stop`: what is found cannot be trusted. `doubt`: it may be off. `note`: good to know. */
  weight: 'stop' | 'doubt' | 'note';
  values: Readonly<Record<string, string | number>>;
  /** English. */
  sentence: string;
}

/** A picture measured: all grains and what was found about the picture. */
export interface PhotoMeasurement {
  width_px: number;
  height_px: number;
  grains: readonly PhotoGrain[];
  /** null without a usable scale. */
  plane: Plane | null;
  /** Measured part of the picture: corners in order. */
  field_px: readonly (readonly [x: number, y: number])[];
  /** Standard deviation of the blur of edges. */
  blur_px: number;
  /** Light of grains, the sheet being 1. */
  grain_light: number;
  /** Noise of the sheet's light, standard deviation. */
  noise: number;
  /** Darkest over brightest light of the bare sheet. */
  evenness: number;
  /** Share of the field that grains cover. */
  covered: number;
  /** Specks of a few pixels that are not counted. */
  specks: number;
  /** Width below which grains are not trusted. */
  smallest_px: number;
  remarks: readonly PhotoRemark[];
}

/** A figure with the range that the coffee's own lies in with 90 % probability. */
export interface PhotoBand {
  /** Of the grains counted. */
  value: number;
  low: number;
  high: number;
}

/** What the accepted grains say about the grounds. */
export interface PhotoSummary {
  /** Grains counted. */
  grains: number;
  /** Sizes below which 10, 50 and 90 % of the volume lie. */
  d10_um: PhotoBand;
  d50_um: PhotoBand;
  d90_um: PhotoBand;
  span: PhotoBand;
  /** Surface and volume means D[3,2] and D[4,3]. */
  d32_um: PhotoBand;
  d43_um: PhotoBand;
  /** Median by number, as it is counted. */
  number_median_um: number;
  /** Area-weighted median of width over length, and of solidity. */
  width_over_length: number;
  solidity: number;
  /** Share of the volume in the grain that carries most. */
  largest_share: number;
  /** Share of the volume in grains below the trusted width, and of the number. */
  small_share: number;
  small_number_share: number;
  /** Share of the volume in grains parted from others. */
  parted_share: number;
  /**
   * Diameter of the sphere of the same volume over the diameter of the shadow, for the flatness assumed: low, high. Sizes
   * of this summary are of the shadow.
   */
  sphere_over_shadow: { low: number; high: number };
  /** Shares of volume in even steps of the logarithm of size, for a distribution: middle of the class and share. */
  classes: readonly { diameter_um: number; share: number }[];
  remarks: readonly PhotoRemark[];
}
