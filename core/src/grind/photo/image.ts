/** A picture as it comes out of a decoder: rows from the top, four bytes (red, green, blue, opacity) a pixel. */
export interface PhotoImage {
  width: number;
  height: number;
  /** [height × width × 4], sRGB. */
  data: Uint8ClampedArray | Uint8Array;
}

/** A picture of light: rows from the top, one number a pixel, 1 is white. */
export interface GreyImage {
  width: number;
  height: number;
  /** [height × width], proportional to light. */
  data: Float32Array;
}

/** Anything a measurement starts from. */
export type AnyImage = PhotoImage | GreyImage;

/** Thrown inside a measurement when its progress function said stop; never leaves it. */
export class Stopped extends Error {}

/** Reports the share of one stage that is done. Throws {@link Stopped} when it is time to stop. */
export type Tick = (share: number) => void;

/** Rows between two reports of progress. */
const ROWS = 64;

/** Runs `row` for every row of a picture, with reports in between. */
export function eachRow(height: number, tick: Tick, row: (y: number) => void): void {
  for (let y = 0; y < height; y++) {
    if (y % ROWS === 0) tick(y / height);
    row(y);
  }
}

/** Shares of red, green and blue in luminance, and the curve of sRGB (IEC 61966-2-1). */
const LUMINANCE = [0.2126, 0.7152, 0.0722] as const;
const fromSrgb = (byte: number): number => {
  const v = byte / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
};

export const isGrey = (image: AnyImage): image is GreyImage => image.data instanceof Float32Array;

/**
 * Luminance of a picture in linear light. A blurred edge lies where the light is halfway, and halfway in sRGB numbers is not
 * halfway in light: without this, dark grains on white come out about one blur width too small. A grey picture is
 * copied.
 */
export function lightOf(image: AnyImage, tick: Tick): GreyImage {
  const { width, height } = image;
  if (isGrey(image)) return { width, height, data: Float32Array.from(image.data) };
  const source = image.data;
  const data = new Float32Array(width * height);
  const [red, green, blue] = LUMINANCE.map((share) =>
    Float32Array.from({ length: 256 }, (_, byte) => share * fromSrgb(byte)),
  ) as [Float32Array, Float32Array, Float32Array];
  eachRow(height, tick, (y) => {
    for (let i = y * width, end = i + width; i < end; i++) {
      const j = 4 * i;
      data[i] = red[source[j]!]! + green[source[j + 1]!]! + blue[source[j + 2]!]!;
    }
  });
  return { width, height, data };
}

/** Variance of the kernel of {@link smooth} along each axis [px²]. */
export const SMOOTHING_VARIANCE = 0.5;

/** Takes the edge off noise, in place: the kernel 1-2-1 along rows and columns. Borders repeat their last pixel. */
export function smooth({ width, height, data }: GreyImage, tick: Tick): void {
  let above = new Float32Array(width);
  let here = new Float32Array(width);
  let below = new Float32Array(width);
  const alongRow = (y: number, out: Float32Array): void => {
    const start = y * width;
    for (let x = 0; x < width; x++) {
      const left = data[start + (x > 0 ? x - 1 : 0)]!;
      const right = data[start + (x < width - 1 ? x + 1 : x)]!;
      out[x] = 0.25 * (left + right) + 0.5 * data[start + x]!;
    }
  };
  alongRow(0, here);
  above.set(here);
  eachRow(height, tick, (y) => {
    if (y + 1 < height) alongRow(y + 1, below);
    else below.set(here);
    const start = y * width;
    for (let x = 0; x < width; x++) data[start + x] = 0.25 * (above[x]! + below[x]!) + 0.5 * here[x]!;
    [above, here, below] = [here, below, above];
  });
}
