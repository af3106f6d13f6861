import type { PhotoScale } from '../options.ts';
import { makeCardScene } from './card-scene.ts';
import type { Camera } from './render.ts';
import type { NumberMode } from './scatter.ts';
import { makeScene, type Scene, type SceneOrder } from './scenes.ts';

/** A scene to measure, made when it is asked for. */
export interface SceneCase {
  name: string;
  make(): { scene: Scene; scale: PhotoScale };
}

const COUNTS = [200, 250, 300, 350, 450, 600, 900, 1500] as const;
/** One scene is as large as they come. */
const MOST = 3000;

const MODES: Readonly<Record<string, readonly NumberMode[]>> = {
  narrow: [{ share: 1, median_px: 22, gsd: 1.3 }],
  usual: [{ share: 1, median_px: 20, gsd: 1.4 }],
  wide: [{ share: 1, median_px: 17, gsd: 1.5 }],
  two: [
    { share: 0.75, median_px: 16, gsd: 1.3 },
    { share: 0.25, median_px: 36, gsd: 1.25 },
  ],
};
const MODE_NAMES = Object.keys(MODES);

interface Condition {
  name: string;
  touching: number;
  covered: number;
  cut: boolean;
  jpeg: number;
  camera: Partial<Camera>;
  /** Tilt over the printed card; null: no card. */
  tilt_deg: number | null;
}

/** What happens to a picture: each scene has its share of every trouble, one of them strong. */
const CONDITIONS: readonly Condition[] = [
  {
    name: 'good light',
    touching: 0.05,
    covered: 0.1,
    cut: false,
    jpeg: 92,
    camera: { blur: 0.8, noise: 0.01, slope: 0.05 },
    tilt_deg: null,
  },
  {
    name: 'uneven light',
    touching: 0.1,
    covered: 0.12,
    cut: true,
    jpeg: 85,
    camera: { blur: 0.9, noise: 0.02, slope: 0.4, vignette: 0.3, towards: 0.7 },
    tilt_deg: null,
  },
  {
    name: 'shadows',
    touching: 0.1,
    covered: 0.12,
    cut: false,
    jpeg: 88,
    camera: { blur: 0.9, noise: 0.015, slope: 0.2, towards: 2.2, shadow: 0.25, thrown: 0.22, soft: 3 },
    tilt_deg: null,
  },
  {
    name: 'noise, JPEG 60',
    touching: 0.12,
    covered: 0.12,
    cut: true,
    jpeg: 60,
    camera: { blur: 1.3, noise: 0.05, slope: 0.15, vignette: 0.1 },
    tilt_deg: null,
  },
  {
    name: 'touching',
    touching: 0.2,
    covered: 0.18,
    cut: true,
    jpeg: 85,
    camera: { blur: 1, noise: 0.02, slope: 0.15, shadow: 0.1, thrown: 0.15, soft: 4 },
    tilt_deg: null,
  },
  {
    name: 'card, tilted',
    touching: 0.1,
    covered: 0.12,
    cut: false,
    jpeg: 88,
    camera: { blur: 1, noise: 0.02, slope: 0.2, vignette: 0.1 },
    tilt_deg: 14,
  },
];

/** Forty-eight scenes: eight numbers of grains under six conditions, with kinds of distribution taking turns. */
export function sceneSet(): SceneCase[] {
  return CONDITIONS.flatMap((condition, c) =>
    COUNTS.map((count, n) => {
      const kind = MODE_NAMES[(c + n) % MODE_NAMES.length]!;
      const { tilt_deg, ...rest } = condition;
      const order: SceneOrder = {
        ...rest,
        name: `${condition.name}, ${kind}`,
        seed: 1000 * (c + 1) + n,
        um_per_px: 20,
        count: c === 0 && n === COUNTS.length - 1 ? MOST : count,
        modes: MODES[kind]!,
        rough: 0.06,
        slender: 1.3,
      };
      return { name: order.name, make: () => makeCase(order, tilt_deg, n) };
    }),
  );
}

function makeCase(
  order: SceneOrder,
  tilt_deg: number | null,
  n: number,
): { scene: Scene; scale: PhotoScale } {
  if (tilt_deg === null)
    return { scene: makeScene(order), scale: { by: 'pixel', um_per_px: order.um_per_px, doubt_pct: 0 } };
  const view = { tilt_deg: tilt_deg - n, towards_deg: 50 * n, turn_deg: 7 * n - 20 };
  const { scene, design } = makeCardScene(order, view);
  return { scene, scale: { by: 'card', pitch_mm: design.pitch_mm } };
}
