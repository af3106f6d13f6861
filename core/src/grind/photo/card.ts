import type { Point } from './homography.ts';

/** A printed card with marks at known places, for scale and tilt. */
export interface CardDesign {
  /** Distance of the corner marks, centre to centre. */
  pitch_mm: number;
}

/** Sizes that are offered. Small ones show small grains: the whole card has to fit into the picture. */
export const CARD_PITCHES_mm = [30, 60, 120] as const;

/** A mark is seven modules wide: a dark ring of one, a light one of one, a dark middle of three. */
export const MARK_MODULES = 7;
const MODULES_IN_PITCH = 75;
/** Light margin between marks and field [modules]. */
const MARGIN_MODULES = 1;
/** The check line, as a share of the pitch. */
const CHECK_SHARE = 0.8;

/** Middles of the eight marks [mm]: four corners clockwise from the upper left, then the middles of the sides likewise. */
export function markPlaces({ pitch_mm: p }: CardDesign): readonly Point[] {
  return [
    [0, 0],
    [p, 0],
    [p, p],
    [0, p],
    [p / 2, 0],
    [p, p / 2],
    [p / 2, p],
    [0, p / 2],
  ];
}

/** Side of a mark [mm]. */
export const markSide = ({ pitch_mm }: CardDesign): number => (MARK_MODULES * pitch_mm) / MODULES_IN_PITCH;

/** Corners of the field for grains [mm], clockwise from the upper left. */
export function fieldCorners(card: CardDesign): readonly Point[] {
  const inset = markSide(card) / 2 + (MARGIN_MODULES * card.pitch_mm) / MODULES_IN_PITCH;
  const far = card.pitch_mm - inset;
  return [
    [inset, inset],
    [far, inset],
    [far, far],
    [inset, far],
  ];
}

/** Length of the check line as designed [mm]. */
export const checkLineLength = ({ pitch_mm }: CardDesign): number => CHECK_SHARE * pitch_mm;

/** What stands on the card, below the field; a face may say it in another language. */
export interface CardWords {
  /** Holds {length}. */
  check: string;
  hint: string;
}

export const ENGLISH_CARD_WORDS: CardWords = {
  check: 'This line must measure {length} mm. If it does not, enter what it measures.',
  hint: 'Print at 100 %. Lay flat, scatter grains in the field, photograph from straight above in even light.',
};

const number = (value: number): string => String(Math.round(value * 1000) / 1000);

/**
 * The card as an SVG picture in true size: eight square marks around a free field, a line to check the print with, and two
 * lines of text. Marks are nested squares, which no grain looks like.
 */
export function cardSvg(card: CardDesign, words: CardWords = ENGLISH_CARD_WORDS): string {
  const side = markSide(card);
  const module = side / MARK_MODULES;
  const margin = side / 2 + 3 * module;
  const width = card.pitch_mm + 2 * margin;
  const check = words.check.replace('{length}', number(checkLineLength(card)));
  const textSize = sizeFor([check, words.hint], 0.92 * width);
  const foot = 6 * textSize;
  const height = width + foot;
  const line = checkLineLength(card);
  const lineX = (width - line) / 2;
  const lineY = width + textSize;
  const marks = markPlaces(card).map(([x, y]) => markPath(margin + x, margin + y, module));
  const tick = (x: number) => `M${number(x)} ${number(lineY - textSize / 2)}v${number(textSize)}`;
  const text = (y: number, words: string) =>
    `<text x="${number(width / 2)}" y="${number(y)}" text-anchor="middle">${escapeText(words)}</text>`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${number(width)}mm" height="${number(height)}mm" viewBox="0 0 ${number(width)} ${number(height)}">`,
    `<rect width="${number(width)}" height="${number(height)}" fill="#fff"/>`,
    `<path d="${marks.join('')}" fill="#000" fill-rule="evenodd"/>`,
    `<path d="M${number(lineX)} ${number(lineY)}h${number(line)}${tick(lineX)}${tick(lineX + line)}" stroke="#000" stroke-width="${number(textSize / 12)}" fill="none"/>`,
    `<g font-family="sans-serif" font-size="${number(textSize)}" fill="#000">`,
    text(lineY + 2 * textSize, check),
    text(lineY + 3.6 * textSize, words.hint),
    '</g></svg>',
  ].join('');
}

/** Three nested squares; with the even–odd rule the second one is a hole. */
function markPath(x: number, y: number, module: number): string {
  return [7, 5, 3]
    .map((modules) => {
      const half = (modules * module) / 2;
      const side = number(2 * half);
      return `M${number(x - half)} ${number(y - half)}h${side}v${side}h-${side}z`;
    })
    .join('');
}

/** Height of letters with which every line fits a width: half a height a letter, a whole one for ideographs [mm]. */
function sizeFor(lines: readonly string[], width: number): number {
  const lengths = lines.map((line) => [...line].reduce((sum, c) => sum + (c > '\u2e80' ? 1 : 0.52), 0));
  return Math.min(0.05 * width, width / Math.max(...lengths));
}

const escapeText = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
