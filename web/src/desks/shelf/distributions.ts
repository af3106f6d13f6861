import type { Distribution } from '@pourline/core';

type Modes = Extract<Distribution, { by: 'modes' }>;
type Classes = Extract<Distribution, { by: 'classes' }>;

/** A filter grind to start from: a main mode and fines. Common practice, to be replaced by a measurement. */
export function seedModes(): Modes {
  return {
    by: 'modes',
    modes: [
      { share: 0.12, median_um: 60, gsd: 2 },
      { share: 0.88, median_um: 900, gsd: 1.5 },
    ],
  };
}

/**
 * The same sizes as one log-normal mode, when they were given by classes: mean and spread of the logarithm of the
 * diameter, by mass. What is already given by modes stays.
 */
export function modesOf(distribution: Distribution): Modes {
  if (distribution.by === 'modes') return distribution;
  let mass = 0;
  let sum = 0;
  let squares = 0;
  for (const { diameter_um, share } of distribution.classes) {
    const log = Math.log(diameter_um);
    mass += share;
    sum += share * log;
    squares += share * log * log;
  }
  if (!(mass > 0)) return seedModes();
  const mean = sum / mass;
  const spread = Math.exp(Math.sqrt(Math.max(0, squares / mass - mean * mean)));
  return {
    by: 'modes',
    modes: [{ share: 1, median_um: round(Math.exp(mean)), gsd: Math.min(4, Math.max(1.01, round(spread))) }],
  };
}

/** Number of classes that modes are written out in. */
const CLASSES = 12;

/**
 * The same sizes as classes, when they were given by modes: the range of all modes to two spreads either side, in
 * even steps of the logarithm, each with the mass that falls into it. Shares are made to add up to 1.
 */
export function classesOf(distribution: Distribution): Classes {
  if (distribution.by === 'classes') return distribution;
  const { modes } = distribution;
  const low = Math.log(Math.max(1, Math.min(...modes.map((mode) => mode.median_um / mode.gsd ** 2))));
  const high = Math.log(Math.min(5_000, Math.max(...modes.map((mode) => mode.median_um * mode.gsd ** 2))));
  const step = (high - low) / CLASSES;
  const weights = Array.from({ length: CLASSES }, (_, i) => {
    const log = low + (i + 0.5) * step;
    const density = (mode: Modes['modes'][number]): number =>
      (mode.share / Math.log(mode.gsd)) *
      Math.exp(-0.5 * ((log - Math.log(mode.median_um)) / Math.log(mode.gsd)) ** 2);
    return { diameter_um: round(Math.exp(log)), weight: modes.reduce((sum, mode) => sum + density(mode), 0) };
  });
  const total = weights.reduce((sum, { weight }) => sum + weight, 0);
  const shares = weights.map(({ weight }) => Math.round((weight / total) * 1e4) / 1e4);
  const rest = 1 - shares.reduce((sum, share) => sum + share, 0);
  const widest = shares.indexOf(Math.max(...shares));
  return {
    by: 'classes',
    classes: weights.map(({ diameter_um }, i) => ({
      diameter_um,
      share: Math.round((shares[i]! + (i === widest ? rest : 0)) * 1e4) / 1e4,
    })),
  };
}

const round = (x: number): number => Number(x.toPrecision(4));
