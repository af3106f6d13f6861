import {
  compositionOf,
  type Mix,
  quantityOf,
  SALT_NAMES,
  SALTS,
  type SaltForm,
  type Water,
} from '@pourline/core';
import type { NewDocument } from '../../../replica/index.ts';

/** What an order can be made from. */
export interface OrderParts {
  waters: readonly Water[];
  salts: readonly { id: string }[];
  concentrates: readonly { id: string }[];
}

type Wanted = Mix['waters'][number];
type Target = Wanted['targets'][number];

/** A target as a new row starts: no figure yet. */
export const emptyTarget = (of: Target['of']): Target => ({
  of,
  aim: null,
  low: null,
  high: null,
  weight: 1,
  hard: false,
});

/** A water as a new one starts: a litre, with the two figures that most recipes name. To be replaced. */
export const newWanted = (id: string, name: string, batch_g = 1000): Wanted => ({
  id,
  name,
  batch_g,
  poured_g: null,
  targets: [
    { ...emptyTarget('hardness'), aim: 60 },
    { ...emptyTarget('alkalinity'), aim: 40 },
  ],
});

/** Most ions that a water may hold to be taken as one to start from [mg/L]; purified waters hold less. */
const PURE_MG_L = 30;

/** Waters pure enough to start from, the purest first. */
export function pureWaters(waters: readonly Water[]): Water[] {
  const sum = (water: Water): number => quantityOf('ion_sum', compositionOf(water));
  return waters.filter((water) => sum(water) <= PURE_MG_L).sort((a, b) => sum(a) - sum(b));
}

/** A first order: one water, from the purest water on the shelf and everything that can be dosed. */
export function firstOrder(name: string, waterName: string, parts: OrderParts): NewDocument<'mix'> {
  return {
    name,
    waters: [newWanted('water-1', waterName)],
    bases: pureWaters(parts.waters)
      .slice(0, 1)
      .map(({ id }) => ({ water_id: id })),
    salt_ids: parts.salts.slice(0, 24).map(({ id }) => id),
    concentrate_ids: parts.concentrates.slice(0, 24).map(({ id }) => id),
  };
}

/** Every salt that is known, with the forms it is sold in, in the order of the table. */
export const knownForms = (): SaltForm[] =>
  SALT_NAMES.flatMap((salt) => SALTS[salt].hydrates.map((hydrate) => ({ salt, hydrate })));
