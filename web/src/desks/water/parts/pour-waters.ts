import {
  type Composition,
  combine,
  compositionOf,
  type Deviation,
  mixWaters,
  type Plan,
  type Water,
} from '@pourline/core';

/** A water a pour may be made with: one of the order, or one on the shelf. */
export type PourWater = { by: 'order'; id: string } | { by: 'shelf'; id: string };

export const pourWaterKey = ({ by, id }: PourWater): string => `${by} ${id}`;

export function readPourWater(key: string): PourWater {
  const [by, ...id] = key.split(' ');
  return { by: by === 'order' ? 'order' : 'shelf', id: id.join(' ') };
}

/** A water of the order as it is known by name. */
export interface NamedWater {
  id: string;
  name: string;
}

/**
 * The water on the shelf that a water of an order was saved as: the one of the same name, unless the order is made from it
 * (saving over a source would change what it is made of).
 */
export function savedAs(
  name: string,
  shelf: readonly Water[],
  baseIds: readonly string[],
): Water | undefined {
  return shelf.find((water) => water.name === name.trim() && !baseIds.includes(water.id));
}

/** What each pour is made with before anybody chose: the order's water that its own was saved from, else its own. */
export function firstWaters(
  plan: Plan,
  ordered: readonly NamedWater[],
  shelf: readonly Water[],
  baseIds: readonly string[],
): Record<string, PourWater> {
  const own = new Map(
    ordered.flatMap(({ id, name }) => {
      const saved = savedAs(name, shelf, baseIds);
      return saved ? [[saved.id, id] as const] : [];
    }),
  );
  return Object.fromEntries(
    plan.pours.map((pour) => {
      const id = own.get(pour.water_id);
      return [pour.id, id === undefined ? { by: 'shelf', id: pour.water_id } : { by: 'order', id }];
    }),
  );
}

/** A water of a brew: what it is, how far it may be off, and how much of it all pours take [g]. */
export interface BrewPart {
  composition: Composition;
  deviations: readonly Deviation[];
  mass: number;
}

/** Waters of a brew, each once with all that is poured of it; null while one of them is not known. */
export function brewParts(
  plan: Plan,
  chosen: Readonly<Record<string, PourWater>>,
  made: (id: string) => Pick<BrewPart, 'composition' | 'deviations'> | undefined,
  shelf: readonly Water[],
): BrewPart[] | null {
  const parts = new Map<string, BrewPart>();
  for (const pour of plan.pours) {
    const water = chosen[pour.id];
    if (!water) return null;
    const key = pourWaterKey(water);
    const known = parts.get(key);
    if (known) {
      known.mass += pour.water_g;
      continue;
    }
    const found = shelf.find(({ id }) => id === water.id);
    const of =
      water.by === 'order' ? made(water.id) : found && { composition: compositionOf(found), deviations: [] };
    if (!of) return null;
    parts.set(key, { composition: of.composition, deviations: of.deviations, mass: pour.water_g });
  }
  return [...parts.values()];
}

/** What the waters of a brew make together, and how far that may be off; null while nothing is poured. */
export function brewWater(parts: readonly BrewPart[]): Omit<BrewPart, 'mass'> | null {
  const total = parts.reduce((sum, { mass }) => sum + mass, 0);
  if (!(total > 0)) return null;
  const share = (mass: number, of: Composition): Composition => combine([{ of, share: mass / total }]);
  return {
    composition: mixWaters(parts.map(({ composition, mass }) => ({ of: composition, mass }))),
    deviations: parts.flatMap(({ deviations, mass }) =>
      deviations.map((deviation) => ({ ...deviation, by: share(mass, deviation.by) })),
    ),
  };
}

/** Grams of each water of the order that one brew takes. */
export function pouredOf(
  plan: Plan,
  chosen: Readonly<Record<string, PourWater>>,
): ReadonlyMap<string, number> {
  const poured = new Map<string, number>();
  for (const pour of plan.pours) {
    const water = chosen[pour.id];
    if (water?.by === 'order') poured.set(water.id, (poured.get(water.id) ?? 0) + pour.water_g);
  }
  return poured;
}
