/**
 * Moves labels at the end of lines apart so that none covers another. Keeps their order by height and stays within
 * `[low, high]` when they fit there at all. Returns a height for each, in the order given.
 */
export function spreadLabels(heights: readonly number[], gap: number, low: number, high: number): number[] {
  const order = heights.map((_, i) => i).sort((a, b) => heights[a]! - heights[b]!);
  const placed = order.map((i) => Math.min(Math.max(heights[i]!, low), high));
  for (let pass = 0; pass < 2; pass++) {
    for (let k = 1; k < placed.length; k++) placed[k] = Math.max(placed[k]!, placed[k - 1]! + gap);
    const over = (placed[placed.length - 1] ?? high) - high;
    if (over > 0) placed[placed.length - 1] = high;
    for (let k = placed.length - 2; k >= 0; k--) placed[k] = Math.min(placed[k]!, placed[k + 1]! - gap);
  }
  const out = new Array<number>(heights.length);
  order.forEach((i, k) => {
    out[i] = placed[k]!;
  });
  return out;
}
