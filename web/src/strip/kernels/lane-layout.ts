/** Where each lane of the strip lies. */

export const LANES = ['hands', 'water', 'heat', 'head', 'drip', 'solutes', 'cup'] as const;
export type LaneKey = (typeof LANES)[number];

/** A lane's place on the strip [px]. */
export interface LaneBox {
  readonly key: LaneKey;
  /** Top of the whole lane, its heading included. */
  readonly top: number;
  readonly height: number;
  /** The drawn part, in the coordinates of the strip. */
  readonly plot: {
    readonly left: number;
    readonly top: number;
    readonly width: number;
    readonly height: number;
  };
}

export interface StripLayout {
  /** Lane headings stand beside the plot (wide) or above it (narrow). */
  readonly narrow: boolean;
  readonly lanes: readonly LaneBox[];
  readonly axis: { readonly top: number; readonly height: number };
  readonly width: number;
  readonly plot_left: number;
  readonly plot_width: number;
  readonly height: number;
}

/** Below this width [px] headings move above their lanes. */
export const NARROW_BELOW = 720;
const HEAD_WIDTH = 216;
const RIGHT_PAD = 58;
const NARROW_PAD = 12;
const AXIS_HEIGHT = 34;
const GAP = 12;

interface LaneSize {
  /** Height of the drawn part [px] on wide and narrow strips. */
  readonly wide: number;
  readonly narrow: number;
  /** Height of the heading above the drawn part on narrow strips [px]. */
  readonly heading: number;
}

const SIZES: Readonly<Record<LaneKey, LaneSize>> = {
  hands: { wide: 156, narrow: 164, heading: 26 },
  water: { wide: 64, narrow: 64, heading: 26 },
  heat: { wide: 176, narrow: 188, heading: 58 },
  head: { wide: 46, narrow: 46, heading: 26 },
  drip: { wide: 46, narrow: 46, heading: 26 },
  solutes: { wide: 184, narrow: 110, heading: 76 },
  cup: { wide: 84, narrow: 92, heading: 26 },
};

/** Lays the lanes out under one another over `width` [px]. Lanes not in `shown` take no room. */
export function layoutStrip(width: number, shown: readonly LaneKey[] = LANES): StripLayout {
  const narrow = width < NARROW_BELOW;
  const plot_left = narrow ? NARROW_PAD : HEAD_WIDTH;
  const plot_width = Math.max(80, width - plot_left - (narrow ? NARROW_PAD : RIGHT_PAD));
  let top = AXIS_HEIGHT;
  const lanes = LANES.filter((key) => shown.includes(key)).map((key): LaneBox => {
    const drawn = narrow ? SIZES[key].narrow : SIZES[key].wide;
    const heading = narrow ? SIZES[key].heading : 0;
    const box = {
      key,
      top,
      height: drawn + heading,
      plot: { left: plot_left, top: top + heading, width: plot_width, height: drawn },
    };
    top += box.height + GAP;
    return box;
  });
  return { narrow, lanes, axis: { top: 0, height: AXIS_HEIGHT }, width, plot_left, plot_width, height: top };
}

/** The lane at a height, or null between lanes. */
export const laneAt = (layout: StripLayout, y: number): LaneBox | null =>
  layout.lanes.find((lane) => y >= lane.top && y < lane.top + lane.height) ?? null;
