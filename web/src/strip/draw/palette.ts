import { css, parseHex, type Rgb, ramp } from '../kernels/colour.ts';

/** The app's colours as the canvas needs them. */
export interface Palette {
  readonly dark: boolean;
  readonly font: string;
  readonly paper: string;
  readonly raised: string;
  readonly sunken: string;
  readonly ink: string;
  readonly ink2: string;
  readonly ink3: string;
  readonly line: string;
  readonly lineStrong: string;
  readonly water: Hue;
  readonly heat: Hue;
  readonly flow: Hue;
  readonly solutes: Hue;
  readonly alert: string;
  /** Bed temperature as colour, {@link HEAT_STEPS} steps over {@link HEAT_RANGE_C}, packed r, g, b. */
  readonly heatRamp: Uint8ClampedArray;
  /** Fill, line and hatching of each solute group. */
  readonly groups: readonly Group[];
}

export interface Hue {
  readonly line: string;
  readonly soft: string;
  readonly ink: string;
  readonly rgb: Rgb;
}

export interface Group {
  readonly fill: string;
  readonly hatch: Hatch;
}

/** Hatching tells neighbouring groups apart without colour. */
export type Hatch = 'plain' | 'rising' | 'falling' | 'dots' | 'level';

export const HEAT_STEPS = 256;
export const HEAT_RANGE_C: readonly [number, number] = [20, 100];

const HATCHES: readonly Hatch[] = ['plain', 'rising', 'plain', 'dots', 'plain', 'falling', 'level'];

/** Reads the colours that stand on an element in the theme in force. */
export function readPalette(element: Element): Palette {
  const style = getComputedStyle(element);
  const get = (name: string): string => style.getPropertyValue(`--${name}`).trim();
  const hue = (name: string): Hue => ({
    line: get(name),
    soft: get(`${name}-soft`),
    ink: get(`${name}-ink`),
    rgb: parseHex(get(name)),
  });
  const heat = hue('heat');
  const solutes = hue('solutes');
  const sunken = get('paper-sunken');
  const dark = document.documentElement.dataset.theme === 'dark';
  return {
    dark,
    font: get('font-text') || 'sans-serif',
    paper: get('paper'),
    raised: get('paper-raised'),
    sunken,
    ink: get('ink'),
    ink2: get('ink-2'),
    ink3: get('ink-3'),
    line: get('line'),
    lineStrong: get('line-strong'),
    water: hue('water'),
    heat,
    flow: hue('flow'),
    solutes,
    alert: get('alert'),
    heatRamp: heatRamp(sunken, heat, dark),
    groups: groupFills(solutes),
  };
}

/** From the ground over pale to full heat; lightness runs one way, so that it also reads in grey. */
function heatRamp(ground: string, heat: Hue, dark: boolean): Uint8ClampedArray {
  const soft = parseHex(heat.soft);
  const deep = dark ? parseHex(heat.ink) : parseHex('#7d2405');
  return ramp(
    [
      [0, parseHex(ground)],
      [0.3, soft],
      [0.7, heat.rgb],
      [1, deep],
    ],
    HEAT_STEPS,
  );
}

function groupFills(solutes: Hue): Group[] {
  const shades = ramp(
    [
      [0, parseHex(solutes.ink)],
      [0.45, solutes.rgb],
      [1, parseHex(solutes.soft)],
    ],
    HATCHES.length,
  );
  return HATCHES.map((hatch, i) => ({
    fill: css([shades[i * 3]!, shades[i * 3 + 1]!, shades[i * 3 + 2]!]),
    hatch,
  }));
}
