/** Where pours and actions stand in the hands lane, and what lies under a finger there. */
import { type Pour, pourDuration } from '@pourline/core';
import { type TimeAxis, toPx } from './time-axis.ts';

/** A pour as a block [px, relative to the lane's plot]; its height tells the grams. */
export interface PourBlock {
  readonly index: number;
  readonly left: number;
  readonly width: number;
  readonly top: number;
  readonly height: number;
}

/** A pour of no time at all would be invisible; it is drawn at least this wide. */
const MIN_WIDTH = 5;
/** Room kept above the tallest block for its label. */
export const LABEL_ROOM = 40;
/** Room kept below the blocks for stirs, swirls and marks. */
export const ACTION_ROOM = 26;

/** Grams at the full height of a block: a round figure above the largest pour, at least 20 g. */
export function gramsAtTop(pours: readonly Pick<Pour, 'water_g'>[]): number {
  const most = pours.reduce((max, p) => Math.max(max, Number.isFinite(p.water_g) ? p.water_g : 0), 20);
  return Math.ceil(most / 20) * 20;
}

/** Blocks for all pours. `scale_g` is the grams at full height; keep it fixed during a drag so nothing jumps. */
export function pourBlocks(
  pours: readonly Pour[],
  axis: TimeAxis,
  laneHeight: number,
  scale_g: number,
): PourBlock[] {
  const base = laneHeight - ACTION_ROOM;
  const full = base - LABEL_ROOM;
  return pours.map((pour, index) => {
    const left = toPx(axis, pour.start_s);
    const width = Math.max(MIN_WIDTH, toPx(axis, pour.start_s + pourDuration(pour)) - left);
    const height = Math.max(4, Math.min(1.4, pour.water_g / scale_g) * full);
    return { index, left, width, top: base - height, height };
  });
}

/** Grams for a block dragged by `dy` [px, up negative] from `from_g`. */
export function gramsAfterDrag(from_g: number, dy: number, laneHeight: number, scale_g: number): number {
  const full = laneHeight - ACTION_ROOM - LABEL_ROOM;
  return from_g - (dy / full) * scale_g;
}

/** Part of a pour under a point. */
export type PourPart = 'body' | 'end' | 'top';

/**
 * What a pointer at `x, y` takes hold of. `reach` [px] is how far around an edge still counts: larger for fingers. Edges
 * of a block narrower than two reaches would swallow its body, so they shrink to a third of it.
 */
export function hitPour(
  blocks: readonly PourBlock[],
  x: number,
  y: number,
  reach: number,
): { index: number; part: PourPart } | null {
  let best: { index: number; part: PourPart } | null = null;
  let nearest = Number.POSITIVE_INFINITY;
  for (const block of blocks) {
    const right = block.left + block.width;
    const bottom = block.top + block.height;
    if (y < block.top - reach || y > bottom + reach || x < block.left - reach || x > right + reach) continue;
    const away = Math.max(block.left - x, 0, x - right);
    if (away >= nearest) continue;
    nearest = away;
    const edge = Math.min(reach, block.width / 3);
    if (x > right - edge) best = { index: block.index, part: 'end' };
    else if (y < block.top + Math.min(reach, block.height / 3)) best = { index: block.index, part: 'top' };
    else best = { index: block.index, part: 'body' };
  }
  return best;
}

/** Labels that would overlap are moved to a second row or dropped. Returns a row per label: 0, 1, or -1 for dropped. */
export function labelRows(spans: readonly { left: number; width: number }[], gap = 4): number[] {
  const ends = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  return spans.map((span) => {
    for (let row = 0; row < ends.length; row++) {
      if (span.left >= ends[row]! + gap) {
        ends[row] = span.left + span.width;
        return row;
      }
    }
    return -1;
  });
}
