import { checkLineLength, fieldCorners } from './card.ts';
import { findCoin } from './coin.ts';
import { type Patch, polygonWindow, rectangleWindow, type Window } from './components.ts';
import { findCard } from './find-card.ts';
import { applyHomography, jacobianOf, type Point } from './homography.ts';
import type { GreyImage } from './image.ts';
import type { PhotoOptions, PhotoScale } from './options.ts';
import type { Plane } from './plane.ts';
import { remark } from './remarks.ts';
import type { PhotoRemark } from './result.ts';

/** What to measure, and in which units. */
export interface Setting {
  plane: Plane | null;
  window: Window;
  field: readonly Point[];
  /** Round places left out [px]. */
  ignore: { x: number; y: number; radius: number }[];
  remarks: PhotoRemark[];
}

const USUAL_DOUBT = 0.005;
/** A coin's rim is cut off in the print and in the picture: lengths by it are known to about this. */
const COIN_DOUBT = 0.005;
const CARD_DOUBT = 0.003;
/** Space left around a coin, as a share of its radius. */
const COIN_ROOM = 1.12;

/** Reads scale and field out of a flattened picture and its patches. Bad values become remarks, never errors. */
export function findSetting(
  image: GreyImage,
  patches: readonly Patch[],
  threshold: number,
  options: PhotoOptions,
): Setting {
  const { width, height } = image;
  const region = options.region ?? { left_px: 0, top_px: 0, right_px: width, bottom_px: height };
  const box = {
    left: Math.max(0, region.left_px),
    top: Math.max(0, region.top_px),
    right: Math.min(width, region.right_px),
    bottom: Math.min(height, region.bottom_px),
  };
  const remarks: PhotoRemark[] = [];
  if (!(box.right - box.left > 20 && box.bottom - box.top > 20)) {
    remarks.push(remark('region_empty', { width, height }));
    Object.assign(box, { left: 0, top: 0, right: width, bottom: height });
  }
  const setting: Setting = {
    plane: null,
    window: rectangleWindow(width, height, box),
    field: [
      [box.left, box.top],
      [box.right, box.top],
      [box.right, box.bottom],
      [box.left, box.bottom],
    ],
    ignore: (options.ignore ?? []).map((c) => ({ x: c.x_px, y: c.y_px, radius: c.radius_px })),
    remarks,
  };
  const { scale } = options;
  if (scale === null) remarks.push(remark('no_scale', {}));
  else if (scale.by === 'card') byCard(scale, image, patches, options, setting);
  else if (scale.by === 'coin') byCoin(scale, image, patches, threshold, setting);
  else setting.plane = planeByHand(scale, remarks);
  return setting;
}

/** A scale that needs no picture. */
export function planeByHand(
  scale: Extract<PhotoScale, { by: 'pixel' | 'ruler' }>,
  remarks: PhotoRemark[],
): Plane | null {
  if (scale.by === 'pixel') {
    const bad = !(scale.um_per_px > 0.05 && scale.um_per_px < 2000);
    if (bad) remarks.push(remark('pixel_bad', { value: scale.um_per_px }));
    if (bad) return null;
    const doubt = scale.doubt_pct === undefined ? USUAL_DOUBT : Math.max(0, scale.doubt_pct) / 100;
    return { by: 'pixel', um_per_px: scale.um_per_px, doubt, homography: null, tilt_deg: null };
  }
  const length = Math.hypot(scale.to.x_px - scale.from.x_px, scale.to.y_px - scale.from.y_px);
  if (!(scale.length_mm > 0) || !(length >= 20)) {
    remarks.push(remark('ruler_bad', { length: scale.length_mm, pixels: Math.round(length) }));
    return null;
  }
  const doubt = (Math.SQRT2 * (scale.doubt_px ?? 1)) / length;
  if (doubt > 0.01) remarks.push(remark('ruler_short', { pixels: Math.round(length) }));
  return {
    by: 'ruler',
    um_per_px: (1000 * scale.length_mm) / length,
    doubt: Math.hypot(doubt, 0.002),
    homography: null,
    tilt_deg: null,
  };
}

function byCoin(
  scale: Extract<PhotoScale, { by: 'coin' }>,
  image: GreyImage,
  patches: readonly Patch[],
  threshold: number,
  setting: Setting,
): void {
  if (!(scale.diameter_mm > 0)) {
    setting.remarks.push(remark('coin_bad', { value: scale.diameter_mm }));
    return;
  }
  const coin = findCoin(image, patches, threshold, scale.near ?? null);
  if (!coin) {
    setting.remarks.push(remark(scale.near ? 'coin_not_there' : 'coin_not_found', {}));
    return;
  }
  const tilt = (Math.acos(Math.min(1, coin.roundness)) * 180) / Math.PI;
  if (coin.roundness < 0.985) setting.remarks.push(remark('coin_tilted', { tilt: Math.round(tilt) }));
  setting.ignore.push({ x: coin.x, y: coin.y, radius: COIN_ROOM * coin.radius });
  setting.plane = {
    by: 'coin',
    um_per_px: (1000 * scale.diameter_mm) / (2 * coin.radius),
    // A tilted sheet has another scale at the coin than at the grains.
    doubt: Math.hypot(COIN_DOUBT, coin.rough / coin.radius, (1 - coin.roundness) / 2),
    homography: null,
    tilt_deg: tilt,
  };
}

function byCard(
  scale: Extract<PhotoScale, { by: 'card' }>,
  { width, height }: GreyImage,
  patches: readonly Patch[],
  options: PhotoOptions,
  setting: Setting,
): void {
  if (!(scale.pitch_mm > 0)) {
    setting.remarks.push(remark('card_bad', { value: scale.pitch_mm }));
    return;
  }
  const design = { pitch_mm: scale.pitch_mm };
  const { card, seen } = findCard(patches, design);
  if (!card) {
    setting.remarks.push(remark('card_not_found', { seen }));
    return;
  }
  const line = checkLineLength(design);
  const print = scale.check_line_mm === undefined ? 1 : scale.check_line_mm / line;
  if (!(print > 0.8 && print < 1.25)) {
    setting.remarks.push(remark('check_line_bad', { value: scale.check_line_mm ?? 0, expected: line }));
    return;
  }
  const um = 1000 * print;
  // Numerators in µm; the denominator stays.
  const homography = card.toCard.map((v, k) => (k < 6 ? um * v : v));
  const middle = applyHomography(card.toPicture, [design.pitch_mm / 2, design.pitch_mm / 2]);
  const [a, b, c, d] = jacobianOf(homography, middle);
  const share = card.miss_mm / design.pitch_mm;
  if (share > 0.004) setting.remarks.push(remark('card_bent', { miss: Math.round(1000 * card.miss_mm) }));
  if (card.marks < 8) setting.remarks.push(remark('card_marks_hidden', { seen: card.marks }));
  setting.plane = {
    by: 'card',
    um_per_px: Math.sqrt(Math.abs(a * d - b * c)),
    doubt: Math.hypot(CARD_DOUBT, share),
    homography,
    tilt_deg: tiltOf([a, b, c, d]),
  };
  if (options.region) return;
  setting.field = fieldCorners(design).map((p) => applyHomography(card.toPicture, p));
  setting.window = polygonWindow(width, height, setting.field);
}

/** Tilt that gives this foreshortening: the ratio of the singular values is its cosine [°]. */
function tiltOf([a, b, c, d]: readonly [number, number, number, number]): number {
  const sum = a * a + b * b + c * c + d * d;
  const det = Math.abs(a * d - b * c);
  const root = Math.sqrt(Math.max(0, sum * sum - 4 * det * det));
  const ratio = Math.sqrt(Math.max(0, (sum - root) / (sum + root)));
  return (Math.acos(Math.min(1, ratio)) * 180) / Math.PI;
}
