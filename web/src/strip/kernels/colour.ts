/**
 * Mixing of colours in OKLab, where equal steps look equal.
 * Source: B. Ottosson, "A perceptual color space for image processing" (2020), matrices as printed there.
 */

/** Red, green, blue, 0–255. */
export type Rgb = readonly [r: number, g: number, b: number];
type Lab = readonly [l: number, a: number, b: number];

/** Reads `#rgb` and `#rrggbb`; anything else is mid grey, so that a wrong token is seen and nothing breaks. */
export function parseHex(text: string): Rgb {
  const hex = text.trim().replace(/^#([0-9a-f])([0-9a-f])([0-9a-f])$/i, '#$1$1$2$2$3$3');
  const match = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(hex);
  if (!match) return [128, 128, 128];
  return [Number.parseInt(match[1]!, 16), Number.parseInt(match[2]!, 16), Number.parseInt(match[3]!, 16)];
}

const linear = (c: number): number => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
const gamma = (c: number): number => (c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055);

function toLab([red, green, blue]: Rgb): Lab {
  const r = linear(red / 255);
  const g = linear(green / 255);
  const b = linear(blue / 255);
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}

function toRgb([lightness, a, b]: Lab): Rgb {
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  const byte = (c: number): number => Math.round(255 * Math.min(1, Math.max(0, gamma(Math.max(0, c)))));
  return [
    byte(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    byte(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    byte(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ];
}

/** The colour `share` (0–1) of the way from `from` to `to`. */
export function mix(from: Rgb, to: Rgb, share: number): Rgb {
  const a = toLab(from);
  const b = toLab(to);
  return toRgb([a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share, a[2] + (b[2] - a[2]) * share]);
}

export const css = ([r, g, b]: Rgb, alpha = 1): string => `rgb(${r} ${g} ${b} / ${alpha})`;

/** A stop of a ramp: a place on it, 0–1, and its colour. */
export type Stop = readonly [at: number, colour: Rgb];

/** `steps` colours along the stops, as packed bytes r, g, b. Stops must rise from 0 to 1. */
export function ramp(stops: readonly Stop[], steps: number): Uint8ClampedArray {
  const out = new Uint8ClampedArray(steps * 3);
  for (let i = 0; i < steps; i++) {
    const at = steps === 1 ? 0 : i / (steps - 1);
    const k = Math.max(
      1,
      stops.findIndex(([place]) => place >= at - 1e-12),
    );
    const [p0, c0] = stops[k - 1]!;
    const [p1, c1] = stops[k] ?? stops[stops.length - 1]!;
    out.set(mix(c0, c1, p1 > p0 ? (at - p0) / (p1 - p0) : 0), i * 3);
  }
  return out;
}
