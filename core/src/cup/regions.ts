/** A region of the strength–yield plane that somebody published or that the trade goes by. */
export interface CupRegion {
  key: string;
  /** Strength and yield, %. */
  strength_pct: readonly [low: number, high: number];
  yield_pct: readonly [low: number, high: number];
  name: string;
  /** `common practice`: no study behind it that was read. */
  standing: 'common practice' | 'from memory';
  source: string;
}

/**
 * Regions as data. They are habits of the trade, not laws: consumers liked cups well outside them (Batali, Cotter, Frost and others 2020–2021,
 * from memory), and a person's own region is learned from tastings.
 */
export const CUP_REGIONS: readonly CupRegion[] = [
  {
    key: 'classic',
    strength_pct: [1.15, 1.35],
    yield_pct: [18, 22],
    name: 'The classic box',
    standing: 'common practice',
    source: 'a brewing chart of the trade from the middle of the last century; common practice',
  },
  {
    key: 'northern',
    strength_pct: [1.3, 1.55],
    yield_pct: [18, 22],
    name: 'Stronger, as in the north of Europe',
    standing: 'from memory',
    source: 'the same chart as used there, from memory; common practice',
  },
  {
    key: 'contest',
    strength_pct: [1.25, 1.55],
    yield_pct: [19, 23],
    name: 'As seen in contests',
    standing: 'common practice',
    source: 'strengths and yields that competitors report; common practice',
  },
];

/** Strength [%] of a brew with a yield [%], from water over dose and liquid held per dose: a line of one ratio in the plane. */
export function strengthOnRatio(yield_pct: number, ratio: number, held = 2.1): number {
  const solids = yield_pct / 100;
  return (100 * solids) / (ratio - held + solids);
}

/** Regions that a cup lies in. */
export const regionsAt = (strength_pct: number, yield_pct: number): readonly CupRegion[] =>
  CUP_REGIONS.filter(
    (region) =>
      strength_pct >= region.strength_pct[0] &&
      strength_pct <= region.strength_pct[1] &&
      yield_pct >= region.yield_pct[0] &&
      yield_pct <= region.yield_pct[1],
  );
