import { PARAMETERS, type Parameter } from '../../brew/index.ts';
import type { ChannelName, LearnedName } from './types.ts';

/** Scale on which a quantity is fitted: its logarithm, its logit, or itself. */
export type Natural = 'log' | 'logit' | 'plain';

/** What is believed of a quantity before any trial: median, 5 and 95 %, all as values, and the scale they are normal on. */
export interface Prior {
  natural: Natural;
  median: number;
  low: number;
  high: number;
  source: string;
}

/** Standard normal deviate that 5 % lie above. */
const Z95 = 1.6448536269514722;
/** √(1 + Z95²) − 1. */
const BEND95 = Math.sqrt(1 + Z95 * Z95) - 1;

/** A prior as a smooth map from a standard normal z to the natural scale: centre + slope z + bend (√(1 + z²) − 1). */
export interface Stretch {
  natural: Natural;
  centre: number;
  slope: number;
  bend: number;
}

export const toNatural = (scale: Natural, value: number): number =>
  scale === 'log' ? Math.log(value) : scale === 'logit' ? Math.log(value / (1 - value)) : value;

export const fromNatural = (scale: Natural, x: number): number =>
  scale === 'log' ? Math.exp(x) : scale === 'logit' ? 1 / (1 + Math.exp(-x)) : x;

/**
 * The map that has the prior's median at z = 0 and its 5 and 95 % at z = ∓1.645, also where these lie at unequal distances. It
 * rises everywhere as long as one distance is not more than about 3.5 times the other.
 */
export function stretchOf(prior: Prior): Stretch {
  const centre = toNatural(prior.natural, prior.median);
  const below = toNatural(prior.natural, prior.low) - centre;
  const above = toNatural(prior.natural, prior.high) - centre;
  const slope = (above - below) / (2 * Z95);
  const bend = (above + below) / (2 * BEND95);
  if (!(Math.abs(bend) < slope)) throw new Error(`stretchOf: the prior of ${prior.median} is too lopsided`);
  return { natural: prior.natural, centre, slope, bend };
}

/** Natural value at a standard deviate. */
export const naturalAt = (s: Stretch, z: number): number =>
  s.centre + s.slope * z + s.bend * (Math.sqrt(1 + z * z) - 1);

const ofRange = ({ value, low, high }: Parameter, natural: Natural, source: string): Prior => ({
  natural,
  median: value,
  low,
  high,
  source,
});

/** Constants that `heat_loss` moves together. */
export const HEAT_LOSSES = [
  'wallContact',
  'wallOutside',
  'surfaceFactor',
  'streamLoss',
  'serverLoss',
] as const satisfies readonly (keyof typeof PARAMETERS)[];

/** Root mean square of the distances, in logarithms, from the defaults of the heat losses to one end of their ranges. */
function meanReach(end: 'low' | 'high'): number {
  const squares = HEAT_LOSSES.map((name) => Math.log(PARAMETERS[name][end] / PARAMETERS[name].value) ** 2);
  return Math.sqrt(squares.reduce((sum, x) => sum + x, 0) / squares.length);
}

const RANGE = 'the range of the default in the table of constants, taken as 5 and 95 %';

/**
 * Priors of what is learned. The ranges of the engine's constants are taken as 90 % of what is plausible, with the default as
 * the median. `extractable` is a share of the dose, `retained` the share of the space between grains that stays full; the others
 * are factors on the defaults, `ageing` a change of ln(diffusion) per day.
 */
export const LEARNED_PRIORS: Readonly<Record<LearnedName, Prior>> = {
  extractable: ofRange(PARAMETERS.extractable, 'log', RANGE),
  diffusion: relative(PARAMETERS.diffusionFactor),
  ageing: {
    natural: 'plain',
    median: 0,
    low: -0.03,
    high: 0.03,
    source: 'assumed: no published value; 3 % a day at most either way',
  },
  permeability: relative(PARAMETERS.permeabilityFactor),
  retained: ofRange(PARAMETERS.residualSaturation, 'logit', RANGE),
  heat_loss: {
    natural: 'log',
    median: 1,
    low: Math.exp(-meanReach('low')),
    high: Math.exp(meanReach('high')),
    source: 'ranges of the five constants of heat loss, root mean square of their logarithms',
  },
  grind: {
    natural: 'log',
    median: 1,
    low: 1 / 1.13,
    high: 1.13,
    source: 'assumed: sizes of a setting as measured are good to some 13 %',
  },
};

function relative({ value, low, high }: Parameter): Prior {
  return { natural: 'log', median: 1, low: low / value, high: high / value, source: RANGE };
}

const logNormal = (median: number, factor: number, source: string): Prior => ({
  natural: 'log',
  median,
  low: median / factor,
  high: median * factor,
  source,
});

/**
 * Brew-to-brew noise of each channel: relative for strength and drawdown, g per g of dose for the beverage, K for the level of a
 * temperature.
 */
export const NOISE_PRIORS: Readonly<Record<ChannelName, Prior>> = {
  strength: logNormal(
    0.018,
    2.3,
    'common practice: yields of repeated brews spread by about 0.35 points of 20',
  ),
  beverage: logNormal(0.08, 2.3, 'assumed: about a gram of a cup for one'),
  drawdown: logNormal(0.06, 2.3, 'assumed: some ten seconds of three minutes'),
  temperature: logNormal(1.5, 2.3, 'assumed: where in the bed the tip of a thermometer comes to lie'),
};

/** What differs from setup to setup. */
export const BETWEEN_NAMES = ['permeability', 'retained', 'heat_loss'] as const;
export type BetweenName = (typeof BETWEEN_NAMES)[number];

/** Spread of a parameter between setups, on its natural scale. */
export const BETWEEN_PRIORS: Readonly<Record<BetweenName, Prior>> = {
  permeability: logNormal(0.2, 2.7, 'assumed: drippers and papers differ by some 20 %'),
  retained: logNormal(0.2, 2.7, 'assumed'),
  heat_loss: logNormal(0.2, 2.7, 'assumed'),
};
