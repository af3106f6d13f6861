import type { PhotoOptions } from './options.ts';
import { USUAL_LARGEST } from './options.ts';
import { remark } from './remarks.ts';
import type { PhotoGrain, PhotoRemark } from './result.ts';
import type { Levels } from './threshold.ts';

/** What is known of a picture when it is judged. */
export interface PictureFacts {
  grains: readonly PhotoGrain[];
  levels: Levels;
  /** Patches too large to be grains. */
  oversized: number;
  evenness: number;
  /** Share of pixels at the end of the scale. */
  burnt: number;
  /** Blur of edges [px]. */
  blur: number;
  shade: number;
  covered: number;
}

/** Codes that speak of the scale: they go when a scale is given later. */
export const scaleRemarkCodes: readonly string[] = [
  'no_scale',
  'pixel_bad',
  'ruler_bad',
  'ruler_short',
  'coin_bad',
  'coin_not_there',
  'coin_not_found',
  'coin_tilted',
  'card_bad',
  'card_not_found',
  'card_marks_hidden',
  'card_bent',
  'check_line_bad',
];

/** An edge rises from 10 to 90 % over this many standard deviations of its blur. */
const RISE = 2.563;
const percent = (share: number): number => Math.round(100 * share);

/** Everything worth saying about light, sharpness and coverage. */
export function pictureRemarks(facts: PictureFacts, options: PhotoOptions): PhotoRemark[] {
  const { grains, levels, evenness, burnt, covered } = facts;
  const counted = grains.filter((g) => g.left_out === null);
  if (counted.length === 0) return [remark('no_grains', {})];
  const remarks: PhotoRemark[] = [];
  const put = (when: boolean, code: string, values: Record<string, string | number>): void => {
    if (when) remarks.push(remark(code, values));
  };
  const noise = levels.noise / Math.max(0.02, 1 - levels.grain);
  const vague = levels.valley > 0.7 || levels.grain > 0.8 || noise > 0.3;
  put(vague, 'low_contrast', {});
  const small = smallAcross(counted);
  const rise = RISE * facts.blur;
  put(rise > Math.max(3, 0.25 * small), 'blurred', { width: rise.toFixed(1), grain: Math.round(small) });
  put(evenness < 0.6, 'uneven_light', { percent: percent(evenness) });
  put(burnt > 0.2 && options.grains !== 'light', 'overexposed', { percent: percent(burnt) });
  put(!vague && noise > 0.12, 'noisy', { percent: percent(noise) });
  put(facts.shade > 0.15, 'shadows', { percent: percent(facts.shade) });
  put(covered > 0.3, 'crowded', { percent: percent(covered) });
  const cut = grains.filter((g) => g.left_out === 'at border').length;
  put(cut > 0.1 * counted.length, 'many_at_border', { count: cut });
  const large = facts.oversized + grains.filter((g) => g.left_out === 'too large').length;
  put(large > 0, 'too_large', { count: large, limit: options.largest_um ?? USUAL_LARGEST });
  const threads = grains.filter((g) => g.left_out === 'thread').length;
  put(threads > 0, 'threads', { count: threads });
  return remarks;
}

/** Width that a tenth of the volume lies below [px]. */
function smallAcross(grains: readonly PhotoGrain[]): number {
  const across = grains.map((g) => 2 * Math.sqrt(g.area_px / Math.PI)).sort((a, b) => a - b);
  const total = across.reduce((sum, d) => sum + d ** 3, 0);
  let sum = 0;
  for (const d of across) {
    sum += d ** 3;
    if (sum >= total / 10) return d;
  }
  return across[across.length - 1] ?? 0;
}
