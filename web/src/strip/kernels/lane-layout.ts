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
  readonly plot_left: number;
  readonly plot_width: number;
  readonly height: number;
}

/** Below this width [px] headings move above their lanes. */
export const NARROW_BELOW = 720;
const HEAD_WIDTH = 172;
const RIGHT_PAD = 52;
const NARROW_PAD = 12;
const NARROW_HEAD = 26;
const AXIS_HEIGHT = 34;
const GAP = 10;

const HEIGHTS: Readonly<Record<LaneKey, readonly [wide: number, narrow: number]>> = {
  hands: [112, 132],
  water: [76, 76],
  heat: [196, 204],
  head: [56, 52],
  drip: [56, 52],
  solutes: [132, 116],
  cup: [104, 104],
};

/** Lays the lanes out under one another over `width` [px]. Lanes not in `shown` take no room. */
export function layoutStrip(width: number, shown: readonly LaneKey[] = LANES): StripLayout {
  const narrow = width < NARROW_BELOW;
  const plot_left = narrow ? NARROW_PAD : HEAD_WIDTH;
  const plot_width = Math.max(80, width - plot_left - (narrow ? NARROW_PAD : RIGHT_PAD));
  let top = AXIS_HEIGHT;
  const lanes = LANES.filter((key) => shown.includes(key)).map((key): LaneBox => {
    const drawn = HEIGHTS[key][narrow ? 1 : 0];
    const heading = narrow ? NARROW_HEAD : 0;
    const box = {
      key,
      top,
      height: drawn + heading,
      plot: { left: plot_left, top: top + heading, width: plot_width, height: drawn },
    };
    top += box.height + GAP;
    return box;
  });
  return { narrow, lanes, axis: { top: 0, height: AXIS_HEIGHT }, plot_left, plot_width, height: top };
}

/** The lane at a height, or null between lanes. */
export const laneAt = (layout: StripLayout, y: number): LaneBox | null =>
  layout.lanes.find((lane) => y >= lane.top && y < lane.top + lane.height) ?? null;
