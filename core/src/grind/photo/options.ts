import type { SplitRule } from './split.ts';

/** A point of the picture [px]: (0, 0) is the upper left corner of the upper left pixel. */
export interface PicturePoint {
  x_px: number;
  y_px: number;
}

/** Where the scale comes from. */
export type PhotoScale =
  | {
      by: 'pixel';
      /** Side of a pixel on the sheet. */
      um_per_px: number;
      /** Standard uncertainty of it [%]; 0.5 when left out. */
      doubt_pct?: number;
    }
  | {
      by: 'ruler';
      from: PicturePoint;
      to: PicturePoint;
      /** Length between both points. */
      length_mm: number;
      /** Standard uncertainty of each point along the ruler; 1 px when left out. */
      doubt_px?: number;
    }
  | {
      by: 'coin';
      diameter_mm: number;
      /** A point on the coin. Left out: the largest round thing is it. */
      near?: PicturePoint;
    }
  | {
      by: 'card';
      /** Distance of the corner marks, centre to centre, as designed. */
      pitch_mm: number;
      /** Length of the card's check line as measured on the print; left out: printed true. */
      check_line_mm?: number;
    };

/** How a grain's shadow on the sheet becomes a volume. */
export interface VolumeModel {
  /**
   * `sphere`: the cube of the area-equivalent diameter. `roller`: length × width² of the fitted ellipse, a grain that lies
   * on its long side and is as thick as it is wide.
   */
  by: 'sphere' | 'roller';
  /** Thickness over width of a lying grain, least and most. It scales all grains alike and so moves no share. */
  flatness: { low: number; high: number };
}

/** What a person may choose about a measurement. */
export interface PhotoOptions {
  scale: PhotoScale | null;
  /** Part of the picture to measure, left out: all of it; with a card: the field between its marks. */
  region?: { left_px: number; top_px: number; right_px: number; bottom_px: number };
  /** Round places to leave out: a coin, a stain. */
  ignore?: readonly (PicturePoint & { radius_px: number })[];
  /** Dark grains on a light sheet (usual) or light ones on a dark sheet. */
  grains?: 'dark' | 'light';
  /** A grain narrower than this is counted but not trusted [px]; 10 when left out. */
  smallest_px?: number;
  /** Anything larger is no grain [µm]; 5000 when left out. */
  largest_um?: number;
  /** Rule for parting touching grains; null parts none. */
  split?: SplitRule | null;
}

/** Smallest grain that is looked at at all [px across]. */
export const LEAST_ACROSS = 4;
export const USUAL_SMALLEST = 10;
export const USUAL_LARGEST = 5000;
export const USUAL_VOLUME: VolumeModel = { by: 'sphere', flatness: { low: 0.6, high: 1 } };
