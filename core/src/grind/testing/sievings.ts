import { type SizingData, sizingData } from '../../documents/index.ts';
import { APERTURES } from '../apertures.ts';
import { type Random, randomOf } from '../bootstrap.ts';
import { type SizeModel, undersize } from '../model.ts';

type Sieves = Extract<SizingData, { by: 'sieves' }>;

/** Every second opening of the standard from 1700 µm down to 53 µm: thirteen sieves. */
export const LONG_STACK: readonly number[] = APERTURES.map((row) => row.aperture_um).filter(
  (um, i) => um <= 1700 && um >= 45 && i % 2 === 1,
);

/** A stack of sieves and what lies on it, ready for the schema. */
export const sieves = (rows: readonly (readonly [um: number, g: number])[], more: object = {}): Sieves =>
  sizingData.parse({
    by: 'sieves',
    sieves: rows.map(([aperture_um, weighed_g]) => ({ aperture_um, weighed_g })),
    ...more,
  }) as Sieves;

export interface SievingOptions {
  load_g?: number;
  /** Null weighs exactly. */
  step_g?: number | null;
  stack?: readonly number[];
  /** Standard deviation of ln of every opening. */
  stray?: number;
  random?: Random;
}

/** What a sieving of a known distribution weighs, with strayed openings and a scale of given step. */
export function sieved(model: SizeModel, options: SievingOptions = {}): Sieves {
  const { load_g = 100, step_g = null, stack = LONG_STACK, stray = 0, random = randomOf(1) } = options;
  const real = stack.map((um) => um * 1e-6 * Math.exp(stray * random.normal()));
  const weigh = (g: number) => (step_g === null ? g : Math.round(g / step_g) * step_g);
  let above = 1;
  const rows = stack.map((um, i): [number, number] => {
    const below = undersize(model, real[i]!);
    const mass = Math.max(0, above - below);
    above = Math.min(above, below);
    return [um, weigh(load_g * mass)];
  });
  return sieves(rows, { load_g, pan: { weighed_g: weigh(load_g * above) }, step_g: step_g ?? 0.001 });
}

/** A filter grind as it is usual: fines and a main mode. */
export const usualGrind: SizeModel = {
  family: 'log_normal',
  modes: [
    { share: 0.15, median: 90e-6, gsd: 1.7 },
    { share: 0.85, median: 700e-6, gsd: 1.4 },
  ],
};
