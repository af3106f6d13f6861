import type { SizingData } from '../documents/index.ts';
import type { PhotoMeasurement } from './photo/index.ts';

type Photo = Extract<SizingData, { by: 'photo' }>;

const FROM = { pixel: 'pixel_size', ruler: 'ruler', coin: 'coin', card: 'card' } as const;

/**
 * A photograph measured, as the raw data of a document: every grain with a size, those left out or erased kept and not counted. Null
 * without a scale or without any such grain.
 */
export function photoData(
  measurement: PhotoMeasurement,
  file: Photo['file'],
  erased: ReadonlySet<number> = new Set(),
): Photo | null {
  const { plane } = measurement;
  if (!plane) return null;
  const grains = measurement.grains
    .filter((grain) => grain.diameter_um >= 1 && grain.diameter_um <= 20_000)
    .map((grain) => ({
      diameter_um: rounded(grain.diameter_um),
      weight: Math.min(1_000, rounded(grain.weight)),
      aspect: grain.length_um > 0 ? Math.min(1, rounded(grain.width_um / grain.length_um)) : null,
      x_px: rounded(grain.x_px),
      y_px: rounded(grain.y_px),
      counted: grain.left_out === null && !erased.has(grain.id),
    }));
  if (grains.length === 0) return null;
  return {
    by: 'photo',
    file,
    scale: {
      pixel_um: plane.um_per_px,
      from: FROM[plane.by],
      doubt_pct: Math.min(50, 100 * plane.doubt),
    },
    grains: grains.slice(0, 20_000),
  };
}

/** Six digits: far more than a picture holds, and a third of the file. */
const rounded = (x: number): number => Number(x.toPrecision(6));
