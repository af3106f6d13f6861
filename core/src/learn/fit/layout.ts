import { RESTED_DAYS } from '../../brew/compile.ts';
import type { LearnedValues } from './apply.ts';
import {
  BETWEEN_PRIORS,
  type BetweenName,
  fromNatural,
  LEARNED_PRIORS,
  NOISE_PRIORS,
  naturalAt,
  type Prior,
  type Stretch,
  stretchOf,
} from './prior.ts';
import { CHANNEL_NAMES, type ChannelName, type LearnedName } from './types.ts';

/** Something with a name that a parameter can belong to. */
export interface Named {
  id: string;
  name: string;
}

/** What decides which unknowns there are. */
export interface LayoutShape {
  /** Middle of the prior of `extractable`, as a share. */
  extractable: number;
  setups: readonly Named[];
  grinders: readonly Named[];
  channels: readonly ChannelName[];
  /** Age at which `diffusion` holds [d]. */
  reference_age_d: number;
}

/** One unknown: a standard normal before any trial. */
export interface Unknown {
  id: string;
  kind: 'coffee' | 'setup' | 'grinder' | 'noise' | 'between';
  name: LearnedName | ChannelName;
  of: Named | null;
  /** Its natural value as a function of the standard one; for a setup the standard one is an offset in units of `between`. */
  stretch: Stretch;
}

/** Unknowns in their order, and the places of those that brews are computed from. */
export interface Layout extends LayoutShape {
  unknowns: readonly Unknown[];
  /** Setups differ by offsets of their own; with one setup there is nothing to tell them from the common value. */
  pooled: boolean;
  at: Readonly<Record<Exclude<LearnedName, 'grind'>, number>>;
  grindAt: readonly number[];
  /** By name of what differs: place of the spread, and of each setup's offset. */
  betweenAt: Readonly<Record<BetweenName, { spread: number; offsets: readonly number[] }>> | null;
  /** Place of the noise of each of `CHANNEL_NAMES`; −1 without measurements. */
  noiseAt: readonly number[];
}

export const DEFAULT_AGE_D = RESTED_DAYS;
const PLAIN: Stretch = { natural: 'plain', centre: 0, slope: 1, bend: 0 };
const OF_COFFEE = ['extractable', 'diffusion', 'ageing', 'permeability', 'retained', 'heat_loss'] as const;

/** Lays out the unknowns of a fit. */
export function layoutOf(shape: LayoutShape): Layout {
  const unknowns: Unknown[] = [];
  const add = (u: Unknown): number => unknowns.push(u) - 1;
  const at = {} as Record<(typeof OF_COFFEE)[number], number>;
  for (const name of OF_COFFEE)
    at[name] = add({ id: name, kind: 'coffee', name, of: null, stretch: stretchOf(priorOf(name, shape)) });
  const grindAt = shape.grinders.map((of) =>
    add({
      id: `grind@${of.id}`,
      kind: 'grinder',
      name: 'grind',
      of,
      stretch: stretchOf(LEARNED_PRIORS.grind),
    }),
  );
  const pooled = shape.setups.length > 1;
  const apart = (name: BetweenName) => {
    const offsets = shape.setups.map((of) =>
      add({ id: `${name}@${of.id}`, kind: 'setup', name, of, stretch: PLAIN }),
    );
    const stretch = stretchOf(BETWEEN_PRIORS[name]);
    return { offsets, spread: add({ id: `between.${name}`, kind: 'between', name, of: null, stretch }) };
  };
  const betweenAt = pooled
    ? {
        permeability: apart('permeability'),
        retained: apart('retained'),
        heat_loss: apart('heat_loss'),
      }
    : null;
  const noiseAt = CHANNEL_NAMES.map((name) =>
    shape.channels.includes(name)
      ? add({ id: `noise.${name}`, kind: 'noise', name, of: null, stretch: stretchOf(NOISE_PRIORS[name]) })
      : -1,
  );
  return { ...shape, unknowns, pooled, at, grindAt, betweenAt, noiseAt };
}

/** Prior of a common parameter; that of the extractable share keeps its relative width round the coffee's own figure. */
export function priorOf(name: LearnedName, { extractable }: Pick<LayoutShape, 'extractable'>): Prior {
  const prior = LEARNED_PRIORS[name];
  if (name !== 'extractable') return prior;
  const factor = extractable / prior.median;
  return { ...prior, median: extractable, low: prior.low * factor, high: prior.high * factor };
}

/** Where a brew stands among setups, grinders and days. */
export interface BrewPlace {
  /** Place in `setups`. */
  setup: number;
  /** Places in `grinders`. */
  grinders: readonly number[];
  /** Days from the reference age. */
  days: number;
}

/** Coordinates that a brew depends on besides its grinders: ln extractable, ln diffusion, ln permeability, logit retained, ln heat loss. */
export const COMMON_COORDINATES = 5;

/** Natural value of every unknown at a point in standard units. */
export function naturalsAt(layout: Layout, z: ArrayLike<number>, out: Float64Array): Float64Array {
  for (let k = 0; k < layout.unknowns.length; k++) out[k] = naturalAt(layout.unknowns[k]!.stretch, z[k]!);
  return out;
}

/** Natural offset of a setup from what setups have in common; 0 when they are not told apart. */
export function offsetOf(
  layout: Layout,
  natural: Float64Array,
  z: ArrayLike<number>,
  name: BetweenName,
  setup: number,
): number {
  const between = layout.betweenAt?.[name];
  return between ? Math.exp(natural[between.spread]!) * z[between.offsets[setup]!]! : 0;
}

/** The coordinates of one brew `[5 + grinders]` at a point in standard units, whose naturals are given too. */
export function coordinatesOf(
  layout: Layout,
  natural: Float64Array,
  z: ArrayLike<number>,
  place: BrewPlace,
  out: Float64Array,
): Float64Array {
  const { at } = layout;
  out[0] = natural[at.extractable]!;
  out[1] = natural[at.diffusion]! + natural[at.ageing]! * place.days;
  out[2] = natural[at.permeability]! + offsetOf(layout, natural, z, 'permeability', place.setup);
  out[3] = natural[at.retained]! + offsetOf(layout, natural, z, 'retained', place.setup);
  out[4] = natural[at.heat_loss]! + offsetOf(layout, natural, z, 'heat_loss', place.setup);
  for (let g = 0; g < place.grinders.length; g++)
    out[COMMON_COORDINATES + g] = natural[layout.grindAt[place.grinders[g]!]!]!;
  return out;
}

/** Limits beyond which the engine cannot compute. */
const MOST_EXTRACTABLE = 0.58;
const RETAINED = [0.05, 0.985] as const;

/** Coordinates of a brew as values for the engine. */
export function valuesAt(coordinates: ArrayLike<number>, grinderIds: readonly string[]): LearnedValues {
  return {
    extractable: Math.min(MOST_EXTRACTABLE, Math.exp(coordinates[0]!)),
    diffusion: Math.exp(coordinates[1]!),
    permeability: Math.exp(coordinates[2]!),
    retained: Math.min(RETAINED[1], Math.max(RETAINED[0], fromNatural('logit', coordinates[3]!))),
    heat_loss: Math.exp(coordinates[4]!),
    grind: Object.fromEntries(
      grinderIds.map((id, g) => [id, Math.exp(coordinates[COMMON_COORDINATES + g]!)]),
    ),
  };
}
