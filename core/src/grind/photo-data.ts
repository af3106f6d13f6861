import type { SizingData } from '../documents/index.ts';
import type { PhotoMeasurement } from './photo/index.ts';

type Photo = Extract<SizingData, { by: 'photo' }>;

const FROM = { pixel: 'pixel_size', ruler: 'ruler', coin: 'coin', card: 'card' } as const;

/** A photograph measured, the file it came from, and the grains a person took out. */
export interface MeasuredPicture {
  measurement: PhotoMeasurement;
  file: Photo['pictures'][number]['file'];
  erased?: ReadonlySet<number>;
}

/**
 * Photographs of the same grounds, measured, as the raw data of a document: every grain with a size, those left out or erased
 * kept and not counted. Pictures without a scale are left out; null when none is left with any such grain.
 */
export function photoData(measured: readonly MeasuredPicture[]): Photo | null {
  const scaled = measured.filter(({ measurement }) => measurement.plane !== null);
  const grains = scaled.flatMap((one, picture) => grainsOf(one, picture));
  if (grains.length === 0) return null;
  return {
    by: 'photo',
    pictures: scaled.map(({ measurement, file }) => {
      const plane = measurement.plane!;
      return {
        file,
        scale: {
          pixel_um: plane.um_per_px,
          from: FROM[plane.by],
          doubt_pct: Math.min(50, 100 * plane.doubt),
        },
      };
    }),
    grains: grains.slice(0, 20_000),
  };
}

const grainsOf = ({ measurement, erased }: MeasuredPicture, picture: number): Photo['grains'] =>
  measurement.grains
    .filter((grain) => grain.diameter_um >= 1 && grain.diameter_um <= 20_000)
    .map((grain) => ({
      diameter_um: rounded(grain.diameter_um),
      weight: Math.min(1_000, rounded(grain.weight)),
      aspect: grain.length_um > 0 ? Math.min(1, rounded(grain.width_um / grain.length_um)) : null,
      x_px: rounded(grain.x_px),
      y_px: rounded(grain.y_px),
      picture,
      counted: grain.left_out === null && !erased?.has(grain.id),
    }));

/** Six digits: far more than a picture holds, and a third of the file. */
const rounded = (x: number): number => Number(x.toPrecision(6));
