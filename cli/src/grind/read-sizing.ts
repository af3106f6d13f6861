import { basename } from 'node:path';
import {
  checkArchive,
  checkDocument,
  checkSchema,
  type GrindRemark,
  measurePhoto,
  type PhotoOptions,
  type PhotoScale,
  type PhotoSummary,
  photoData,
  readSizeText,
  type Sizing,
  type SizingData,
  sizingData,
  summarisePhoto,
} from '@pourline/core';
import { pick } from '../archive.ts';
import { EXIT, Stop } from '../exit.ts';
import { readText, stopWithProblems, toJson } from '../io.ts';
import { isPicture, readPicture } from '../picture.ts';

/** A measurement as it was read from a file. */
export interface ReadSizing {
  data: SizingData;
  /** The document, when the file held one. */
  sizing: Sizing | null;
  notes: readonly (GrindRemark | { sentence: string })[];
  /** What the picture itself says, with its own bands. */
  photo: PhotoSummary | null;
}

/** How the scale of a picture is given on the command line. */
export interface ScaleOptions {
  pixelUm?: number;
  ruler?: readonly number[];
  coinMm?: number;
  cardMm?: number;
  checkLineMm?: number;
}

/** Reads a measurement: a picture, a table as text, or JSON (an archive, a document, or its data alone). */
export async function readSizingFile(
  path: string,
  wanted: string | undefined,
  scale: ScaleOptions,
): Promise<ReadSizing> {
  if (isPicture(path)) return fromPicture(path, scale);
  const text = readText(path);
  const json = jsonIn(text);
  if (json !== undefined) return fromJson(json, wanted);
  const read = readSizeText(text, path === '-' ? '' : basename(path));
  if (!read.ok) stopWithProblems(read.problems, true);
  return { data: read.value.data, sizing: null, notes: read.value.notes, photo: null };
}

/** JSON when the text looks like it; what looks like it and is not stops here. */
function jsonIn(text: string): unknown {
  if (!/^\s*[{[]/.test(text)) return undefined;
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new Stop(EXIT.problems, `This is not JSON: ${error instanceof Error ? error.message : error}.`);
  }
}

function fromJson(input: unknown, wanted: string | undefined): ReadSizing {
  const has = (key: string) => typeof input === 'object' && input !== null && key in input;
  if (has('format')) {
    const archive = checkArchive(input);
    if (!archive.ok) stopWithProblems(archive.problems, true);
    const all = archive.value.documents.filter((d): d is Sizing => d.kind === 'sizing' && !d.archived);
    const sizing = pick('sizing', all, wanted);
    return { data: sizing.data, sizing, notes: [], photo: null };
  }
  if (has('kind')) {
    const checked = checkDocument(input);
    if (!checked.ok) stopWithProblems(checked.problems, true);
    if (checked.value.kind !== 'sizing')
      throw new Stop(EXIT.problems, `This is a ${checked.value.kind}; a sizing is needed.`);
    return { data: checked.value.data, sizing: checked.value, notes: [], photo: null };
  }
  const checked = checkSchema(sizingData, input);
  if (!checked.ok) stopWithProblems(checked.problems, true);
  return { data: checked.value, sizing: null, notes: [], photo: null };
}

async function fromPicture(path: string, scale: ScaleOptions): Promise<ReadSizing> {
  const options: PhotoOptions = { scale: scaleOf(scale) };
  const measured = measurePhoto(await readPicture(path), options)!;
  const data = photoData([
    { measurement: measured, file: { name: basename(path), media_type: '', attachment: null } },
  ]);
  if (data) return { data, sizing: null, notes: measured.remarks, photo: summarisePhoto(measured) };
  process.stdout.write(toJson({ problems: measured.remarks }));
  throw new Stop(EXIT.problems, ...measured.remarks.map((remark) => remark.sentence));
}

function scaleOf({ pixelUm, ruler, coinMm, cardMm, checkLineMm }: ScaleOptions): PhotoScale | null {
  if (pixelUm !== undefined) return { by: 'pixel', um_per_px: pixelUm };
  if (coinMm !== undefined) return { by: 'coin', diameter_mm: coinMm };
  if (cardMm !== undefined)
    return {
      by: 'card',
      pitch_mm: cardMm,
      ...(checkLineMm === undefined ? {} : { check_line_mm: checkLineMm }),
    };
  if (!ruler) return null;
  const [x1, y1, x2, y2, length_mm] = ruler as [number, number, number, number, number];
  return { by: 'ruler', from: { x_px: x1, y_px: y1 }, to: { x_px: x2, y_px: y2 }, length_mm };
}
