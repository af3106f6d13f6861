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
export const LABEL_ROOM = 38;
/** Room kept below the blocks: a row for stirs, swirls and marks, and one for the names of waters. */
export const ACTION_ROOM = 44;

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
 * What a pointer at `x, y` takes hold of. `reach` [px] is how far around a block still counts: larger for fingers. Where
 * `edges` says so a block can be taken by its end and its top; other blocks only as a whole, so that a thumb does not reshape a
 * pour it meant to move. Hazard: a block is often narrower than a finger; its inner edge zones shrink with it, and
 * the rest of the reach lies outside.
 */
export function hitPour(
  blocks: readonly PourBlock[],
  x: number,
  y: number,
  reach: number,
  edges: (index: number) => boolean = () => true,
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
    best = { index: block.index, part: edges(block.index) ? partOf(block, x, y) : 'body' };
  }
  return best;
}

function partOf(block: PourBlock, x: number, y: number): PourPart {
  const right = block.left + block.width;
  if (y < block.top + Math.min(8, block.height / 3)) return 'top';
  return x > right - Math.min(8, block.width / 3) ? 'end' : 'body';
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
