import { COMPONENTS, type Composition, combine } from './composition.ts';
import { type Gram, gramOf, type Row } from './least-squares.ts';
import type {
  BaseWater,
  Concentrate,
  Instruments,
  SaltJar,
  Target,
  WantedWater,
  WaterOrder,
} from './order.ts';
import { assumedBase } from './order.ts';
import { apply, LINEAR, type Quantity, quantityOf, RATIOS, tangent } from './quantities.ts';
import { perGram } from './salts.ts';

/** Something that can be put into a water, by the gram. */
export interface Item {
  id: string;
  name: string;
  from:
    | { kind: 'jar'; jar: SaltJar }
    | { kind: 'concentrate'; concentrate: Concentrate }
    | { kind: 'base'; base: BaseWater };
  /** What a gram of it changes in a kilogram of the water made [mol/kg]. Liquids displace the main water. */
  perGram: Composition;
  /** What a gram of it brings by itself [mol]. */
  brings: Composition;
  /** Smallest step it can be given in [g], and how that step is called. */
  step_g: number;
  step_words: string;
  /** What is there [g]; null when it is not known. */
  stock_g: number | null;
  /** Price per gram; null when it is not known. */
  price_per_g: number | null;
}

/** The waters that are mostly water: the main one fills up to the batch, the others are items. */
export interface Table {
  main: BaseWater;
  items: Item[];
}

const ionSum = (of: Composition): number => quantityOf('ion_sum', of);

/**
 * What the shelf offers. The purest base is the main water: nothing on a shelf takes ions out. Without any, it is purified
 * water with nothing in it.
 */
export function tableOf(order: WaterOrder): Table {
  const [first = assumedBase(), ...others] = order.bases;
  const main = others.reduce((purest, base) => (ionSum(base.of) < ionSum(purest.of) ? base : purest), first);
  const { instruments } = order;
  const items: Item[] = order.jars.map((jar) => {
    const brings = perGram(jar.form);
    const price = jar.price_per_kg === null ? null : jar.price_per_kg / 1000;
    return {
      id: jar.id,
      name: jar.name,
      from: { kind: 'jar', jar },
      perGram: brings,
      brings,
      step_g: instruments.balance.step_g,
      step_words: `${instruments.balance.step_g} g`,
      stock_g: jar.amount_g,
      price_per_g: price,
    };
  });
  for (const concentrate of order.concentrates) items.push(fromConcentrate(concentrate, main, instruments));
  for (const base of order.bases) {
    if (base === main) continue;
    items.push({
      id: base.id,
      name: base.name,
      from: { kind: 'base', base },
      perGram: inPlaceOf(base.of, main),
      brings: scaled(base.of, 1e-3),
      step_g: instruments.water_balance.step_g,
      step_words: `${instruments.water_balance.step_g} g`,
      stock_g: null,
      price_per_g: base.price_per_L === null ? null : base.price_per_L / 1000,
    });
  }
  return { main, items };
}

function fromConcentrate(concentrate: Concentrate, main: BaseWater, instruments: Instruments): Item {
  const { step_g, words } = dosingStep(concentrate, instruments);
  return {
    id: concentrate.id,
    name: concentrate.name,
    from: { kind: 'concentrate', concentrate },
    perGram: inPlaceOf(concentrate.per_kg, main),
    brings: scaled(concentrate.per_kg, 1e-3),
    step_g,
    step_words: words,
    stock_g: concentrate.amount_g,
    price_per_g: null,
  };
}

/** Smallest dose of a concentrate with the instrument it is given with; the balance when that one is not at hand. */
export function dosingStep(
  { given_by, density }: Pick<Concentrate, 'given_by' | 'density'>,
  { balance, syringe, drop }: Instruments,
): { step_g: number; words: string; by: 'balance' | 'syringe' | 'drops' } {
  if (given_by === 'syringe' && syringe)
    return { step_g: syringe.step_mL * density, words: `${syringe.step_mL} mL`, by: 'syringe' };
  if (given_by === 'drops' && drop) return { step_g: drop.mass_g, words: 'a drop', by: 'drops' };
  return { step_g: balance.step_g, words: `${balance.step_g} g`, by: 'balance' };
}

const scaled = (of: Composition, factor: number): Composition => combine([{ of, share: factor }]);

const inPlaceOf = (of: Composition, main: BaseWater): Composition =>
  combine([
    { of, share: 1e-3 },
    { of: main.of, share: -1e-3 },
  ]);

/** The water that some grams of each item per kilogram make [mol/kg]. */
export const madeOf = (table: Table, x: ArrayLike<number>): Composition =>
  combine([
    { of: table.main.of, share: 1 },
    ...table.items.map(({ perGram: of }, i) => ({ of, share: x[i]! })),
  ]);

/** How close counts as met, in the unit of the quantity: 5 % of what is asked, but not below what anybody can measure. */
export function toleranceOf(of: Quantity, asked: number): number {
  if (RATIOS[of]) return Math.max(0.05 * asked, 0.02);
  return Math.max(0.05 * Math.abs(asked), of === 'conductivity' ? 3 : of === 'ion_sum' ? 2 : 1);
}

/** Weight of a hard limit beside an aim, in residuals. */
const HARD = 1000;
/** Weight of a soft range beside an aim. */
const SOFT = 3;

/** The least-squares problem of one water over items (first) and slacks (after), near a composition. */
export interface WaterProblem {
  gram: Gram;
  slacks: number;
}

interface Line {
  /** By item. */
  slope: Float64Array;
  at0: number;
  scale: number;
}

/**
 * Builds the problem of one water. Each aim is a row; each end of a range a row with a slack that is free on the good side;
 * stocks and the size of the batch are such rows too. Quantities that are not sums are taken straight near `near`.
 */
export function waterProblem(table: Table, water: WantedWater, near: Composition): WaterProblem {
  const n = table.items.length;
  const rows: { slope: Float64Array; b: number; slack: -1 | 0 | 1 }[] = [];
  const put = (line: Line, value: number, factor: number, slack: -1 | 0 | 1) => {
    const w = factor / line.scale;
    rows.push({ slope: line.slope.map((s) => s * w), b: (value - line.at0) * w, slack });
  };
  for (const target of water.targets) {
    const root = Math.sqrt(target.weight);
    for (const [value, slack] of ends(target)) {
      const line = lineOf(table, target.of, value, near);
      const atRatio = RATIOS[target.of] ? 0 : value;
      put(line, atRatio, slack === 0 ? root : target.hard ? HARD : SOFT * root, slack);
    }
  }
  for (const side of ratioSides(water))
    put(lineOf(table, side, LEAST_SIDE_MG_L, near), LEAST_SIDE_MG_L, SOFT, -1);
  const liquids = table.items.map(({ from }) => (from.kind === 'jar' ? 0 : 1));
  if (liquids.some((l) => l > 0)) put({ slope: Float64Array.from(liquids), at0: 0, scale: 1 }, 1000, HARD, 1);
  table.items.forEach(({ stock_g }, i) => {
    if (stock_g === null) return;
    const slope = new Float64Array(n);
    slope[i] = 1;
    const most = (1000 * stock_g) / water.batch_g;
    put({ slope, at0: 0, scale: Math.max(0.01 * most, 1e-6) }, most, HARD, 1);
  });
  const slacks = rows.filter(({ slack }) => slack !== 0).length;
  let next = n;
  const full: Row[] = rows.map(({ slope, b, slack }) => {
    const a = new Float64Array(n + slacks);
    a.set(slope);
    if (slack !== 0) a[next++] = slack;
    return { a, b };
  });
  return { gram: gramOf(n + slacks, full, n), slacks };
}

/** Nothing to nothing is no ratio: each side of one is asked to be at least this [mg/L]. */
const LEAST_SIDE_MG_L = 2;

const ratioSides = (water: WantedWater): Quantity[] =>
  water.targets.flatMap(({ of, aim, low }) => ((aim ?? low ?? 0) > 0 ? [...(RATIOS[of] ?? [])] : []));

/** What a target asks for: its aim (0), its low end (a slack above it, −1) and its high end (below it, +1). */
function ends({ aim, low, high }: Target): [value: number, slack: -1 | 0 | 1][] {
  const list: [number, -1 | 0 | 1][] = [];
  if (aim !== null) list.push([aim, 0]);
  if (low !== null) list.push([low, -1]);
  if (high !== null) list.push([high, 1]);
  return list;
}

/** A quantity by grams of items. For a ratio r: over − r · under, scaled so that 1 is the tolerance of the ratio. */
function lineOf(table: Table, of: Quantity, asked: number, near: Composition): Line {
  const ratio = RATIOS[of];
  if (ratio) {
    const [over, under] = ratio.map((side) => lineOf(table, side, 0, near)) as [Line, Line];
    const below = Math.max(1, quantityOf(ratio[1], near));
    return {
      slope: over.slope.map((s, i) => s - asked * under.slope[i]!),
      at0: over.at0 - asked * under.at0,
      scale: toleranceOf(of, asked) * below,
    };
  }
  const { slope, at0 } = tangent(of, near);
  return {
    slope: Float64Array.from(table.items, (item) => apply(slope, item.perGram)),
    at0: at0 + apply(slope, table.main.of),
    scale: toleranceOf(of, asked),
  };
}

/** Whether a water's problem changes with where it is looked at from. */
export const isCurved = (water: WantedWater): boolean =>
  water.targets.some(({ of }) => LINEAR[of] === undefined);

/** Largest difference between two compositions [mol/kg]. */
export const distance = (a: Composition, b: Composition): number =>
  COMPONENTS.reduce((most, name) => Math.max(most, Math.abs(a[name] - b[name])), 0);
