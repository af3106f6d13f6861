import { evenness, fineBackground, flatten, roughBackground } from './background.ts';
import { type Blob, blobsOf } from './blobs.ts';
import { findPatches, type Patch, type Window } from './components.ts';
import { edgeBlur } from './edge-width.ts';
import { findSetting, planeByHand, type Setting } from './find-scale.ts';
import { grainsOf, sizeGrains } from './grains.ts';
import {
  type AnyImage,
  type GreyImage,
  isGrey,
  lightOf,
  SMOOTHING_VARIANCE,
  Stopped,
  smooth,
  type Tick,
} from './image.ts';
import {
  LEAST_ACROSS,
  type PhotoOptions,
  type PhotoScale,
  USUAL_LARGEST,
  USUAL_SMALLEST,
} from './options.ts';
import { pictureRemarks, scaleRemarkCodes } from './picture-remarks.ts';
import { remark } from './remarks.ts';
import type { PhotoMeasurement, PhotoRemark } from './result.ts';
import { sideShade } from './shade.ts';
import { USUAL_SPLIT } from './split.ts';
import { histogramOf, levelsOf } from './threshold.ts';

/** Progress of long work: called with 0–1; return false to stop. */
export type PhotoProgress = (done: number) => boolean;

/** Light of the sheet that counts as burnt out. */
const BURNT = 0.995;

/**
 * Measures the grains of a photograph: light, background, cut half-way between grains and sheet, patches, touching
 * grains parted, scale, sizes. Same picture and options, same result. Bad input gives remarks, never an error; without
 * a scale all grains are there with sizes of NaN, and {@link rescalePhoto} adds one later. Returns null when `progress`
 * said stop.
 */
export function measurePhoto(
  image: AnyImage,
  options: PhotoOptions,
  progress?: PhotoProgress,
): PhotoMeasurement | null {
  const bad = imageRemark(image);
  if (bad) return emptyMeasurement(image, options, [bad]);
  try {
    return measure(image, options, progress ?? (() => true));
  } catch (reason) {
    if (reason instanceof Stopped) return null;
    throw reason;
  }
}

/** Sizes the grains of a measurement anew with a scale given by hand: quick, no picture needed. */
export function rescalePhoto(
  measurement: PhotoMeasurement,
  scale: Extract<PhotoScale, { by: 'pixel' | 'ruler' }>,
  largest_um = USUAL_LARGEST,
): PhotoMeasurement {
  const remarks = measurement.remarks.filter((r) => !scaleRemarkCodes.includes(r.code));
  const plane = planeByHand(scale, remarks);
  const free = measurement.grains.map((g) => (g.left_out === 'too large' ? { ...g, left_out: null } : g));
  return {
    ...measurement,
    plane,
    remarks,
    grains: sizeGrains(free, plane, measurement.field_px, largest_um),
  };
}

/** Stages of a measurement with their shares of the time. */
function stages(progress: PhotoProgress): (share: number) => Tick {
  let done = 0;
  return (share) => {
    const start = done;
    done += share;
    return (within) => {
      if (!progress(Math.min(1, start + share * within))) throw new Stopped();
    };
  };
}

function measure(image: AnyImage, options: PhotoOptions, progress: PhotoProgress): PhotoMeasurement {
  const stage = stages(progress);
  const grey = lightOf(image, stage(0.12));
  if (options.grains === 'light') for (let i = 0; i < grey.data.length; i++) grey.data[i] = 1 - grey.data[i]!;
  const flat = evenLight(grey, stage);
  const levels = levelsOf(histogramOf(grey, stage(0.06)));
  const least = Math.floor((Math.PI / 4) * LEAST_ACROSS ** 2);
  const whole = findPatches(grey, wholeOf(grey), levels.threshold, least, stage(0.08));
  const setting = findSetting(grey, whole.patches, levels.threshold, options);
  clearPlaces(grey, setting);
  const found = findPatches(grey, setting.window, levels.threshold, least, stage(0.08));
  const largest = largestPatch(setting, options);
  const { blobs, oversized } = partAll(found.patches, grey, setting.window, options, largest, stage(0.4));
  const cutBlur = edgeBlur(grey, blobs);
  const blur = Number.isFinite(cutBlur) ? cutBlur : 0;
  const smallest = options.smallest_px ?? USUAL_SMALLEST;
  const grains = sizeGrains(
    grainsOf(blobs, { image: grey, blur, threshold: levels.threshold }, smallest),
    setting.plane,
    setting.field,
    options.largest_um ?? USUAL_LARGEST,
  );
  const measured = {
    grains,
    levels,
    oversized,
    evenness: flat.evenness,
    burnt: flat.burnt,
    blur: Math.sqrt(Math.max(0, blur * blur - SMOOTHING_VARIANCE)),
    shade: sideShade(grey, blobs, levels),
  };
  progress(1);
  return {
    width_px: image.width,
    height_px: image.height,
    grains,
    plane: setting.plane,
    field_px: setting.field,
    blur_px: measured.blur,
    grain_light: levels.grain,
    noise: levels.noise,
    evenness: flat.evenness,
    covered: coveredShare(found.patches, setting),
    specks: found.specks,
    smallest_px: smallest,
    remarks: [
      ...setting.remarks,
      ...pictureRemarks({ ...measured, covered: coveredShare(found.patches, setting) }, options),
    ],
  };
}

/** Divides out the light of the sheet, in place, and takes the edge off noise. */
function evenLight(grey: GreyImage, stage: (share: number) => Tick): { evenness: number; burnt: number } {
  const rough = roughBackground(grey);
  // Between the rough sheet and the darkest grains; only to tell the sheet from the rest.
  const fine = fineBackground(grey, rough, 0.7);
  let burnt = 0;
  for (let i = 0; i < grey.data.length; i += 7) if (grey.data[i]! > BURNT) burnt++;
  flatten(grey, fine, stage(0.14));
  smooth(grey, stage(0.12));
  return { evenness: evenness(fine), burnt: (7 * burnt) / grey.data.length };
}

const wholeOf = ({ width, height }: GreyImage) => ({
  width,
  height,
  left: new Int32Array(height),
  right: new Int32Array(height).fill(width),
});

/** Paints the places to leave out with the light of the sheet. */
function clearPlaces({ width, height, data }: GreyImage, { ignore }: Setting): void {
  for (const { x, y, radius } of ignore)
    for (let j = Math.max(0, Math.floor(y - radius)); j < Math.min(height, y + radius); j++) {
      const half = Math.sqrt(Math.max(0, radius * radius - (j + 0.5 - y) ** 2));
      const from = Math.max(0, Math.round(x - half));
      data.fill(1, j * width + from, j * width + Math.max(from, Math.min(width, Math.round(x + half))));
    }
}

/** Area above which a patch cannot be a cluster of grains worth parting [px]. */
function largestPatch({ plane, window }: Setting, options: PhotoOptions): number {
  const half = (window.width * window.height) / 4;
  if (!plane) return half;
  const across = (options.largest_um ?? USUAL_LARGEST) / plane.um_per_px;
  return Math.min(half, 60 * across * across);
}

function partAll(
  patches: readonly Patch[],
  grey: GreyImage,
  window: Window,
  options: PhotoOptions,
  largest: number,
  tick: Tick,
): { blobs: Blob[]; oversized: number } {
  const rule = options.split === undefined ? USUAL_SPLIT : options.split;
  const total = patches.reduce((sum, p) => sum + p.area, 0);
  const blobs: Blob[] = [];
  let oversized = 0;
  let done = 0;
  patches.forEach((patch, k) => {
    if (k % 50 === 0) tick(done / Math.max(1, total));
    done += patch.area;
    if (patch.area > largest) oversized++;
    else blobs.push(...blobsOf(patch, grey, window, rule));
  });
  return { blobs, oversized };
}

function coveredShare(patches: readonly Patch[], { window }: Setting): number {
  let room = 0;
  for (let y = 0; y < window.height; y++) room += window.right[y]! - window.left[y]!;
  return patches.reduce((sum, p) => sum + p.area, 0) / Math.max(1, room);
}

function imageRemark(image: AnyImage): PhotoRemark | null {
  const { width, height, data } = image;
  const whole = Number.isInteger(width) && Number.isInteger(height);
  const needed = width * height * (isGrey(image) ? 1 : 4);
  if (!whole || data.length !== needed) return remark('image_bad', { width, height, bytes: data.length });
  if (width < 64 || height < 64) return remark('image_small', { width, height });
  return null;
}

const emptyMeasurement = (
  { width, height }: AnyImage,
  options: PhotoOptions,
  remarks: PhotoRemark[],
): PhotoMeasurement => ({
  width_px: width,
  height_px: height,
  grains: [],
  plane: null,
  field_px: [],
  blur_px: 0,
  grain_light: 0,
  noise: 0,
  evenness: 1,
  covered: 0,
  specks: 0,
  smallest_px: options.smallest_px ?? USUAL_SMALLEST,
  remarks,
});
