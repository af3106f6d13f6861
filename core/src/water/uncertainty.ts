import { type Composition, combine } from './composition.ts';
import type { Deviation } from './figures.ts';
import type { Instruments, SaltJar } from './order.ts';
import { dosingStep, type Item, type Table } from './problem-rows.ts';

/** Standard uncertainty of one reading of a display with steps of d: d/√12, all places in a step alike (GUM 4.3.7). */
export const ofReading = (step: number): number => step / Math.sqrt(12);

/** Standard uncertainty of a tared weighing, two readings of a balance: d/√6. */
export const ofWeighing = (step: number): number => ofReading(step) * Math.SQRT2;

/** Relative standard uncertainty of what a jar holds: anything within its assay alike. */
export const ofAssay = ([low, high]: SaltJar['assay_pct']): number => (high - low) / 2 / 100 / Math.sqrt(3);

/** One dose: grams, and the standard uncertainty of those grams, and of what a gram holds. */
export interface DoseUncertainty {
  /** Of giving it [g]. */
  giving_g: number;
  /** Of its strength or purity, relative. */
  strength: number;
  /** Both together, relative to the dose; Infinity for no dose. */
  relative: number;
}

/** How sure a dose of some grams is. */
export function doseUncertainty(item: Item, grams: number, instruments: Instruments): DoseUncertainty {
  const giving_g = givingUncertainty(item, grams, instruments);
  const strength = strengthUncertainty(item);
  return { giving_g, strength, relative: grams > 0 ? Math.hypot(giving_g / grams, strength) : Infinity };
}

function strengthUncertainty({ from }: Item): number {
  if (from.kind === 'jar') return ofAssay(from.jar.assay_pct);
  return (from.kind === 'base' ? from.base : from.concentrate).uncertainty_pct / 100;
}

function givingUncertainty({ from }: Item, grams: number, instruments: Instruments): number {
  if (from.kind === 'jar') return ofWeighing(instruments.balance.step_g);
  if (from.kind === 'base') return ofWeighing(instruments.water_balance.step_g);
  const { density } = from.concentrate;
  const { by } = dosingStep(from.concentrate, instruments);
  const { syringe, drop } = instruments;
  if (by === 'syringe' && syringe) {
    const fillings = Math.max(1, Math.ceil(grams / density / syringe.capacity_mL));
    const each = Math.hypot(syringe.accuracy_mL / Math.sqrt(3), ofReading(syringe.step_mL));
    return each * density * Math.sqrt(fillings);
  }
  if (by === 'drops' && drop) {
    const drops = Math.max(1, grams / drop.mass_g);
    return (drop.scatter_pct / 100) * drop.mass_g * Math.sqrt(drops);
  }
  return ofWeighing(instruments.balance.step_g);
}

/** Everything that may be off in a water made of grams of each item [g per batch]. */
export function deviationsOf(
  table: Table,
  grams: ArrayLike<number>,
  batch_g: number,
  instruments: Instruments,
): Deviation[] {
  const list: Deviation[] = [];
  const put = (cause: Deviation['cause'], source: string, of: Composition, share: number): void => {
    if (share > 0) list.push({ cause, source, by: combine([{ of, share }]) });
  };
  let liquid = 0;
  table.items.forEach((item, i) => {
    const g = grams[i]!;
    if (!(g > 0)) return;
    if (item.from.kind !== 'jar') liquid += g;
    const u = doseUncertainty(item, g, instruments);
    put('giving', item.name, item.perGram, (1000 * u.giving_g) / batch_g);
    put('holding', item.name, item.brings, (1000 * u.strength * g) / batch_g);
  });
  const main = table.main;
  put('analysis', main.name, main.of, (main.uncertainty_pct / 100) * (1 - liquid / batch_g));
  // A batch weighed too large dilutes all that was dosed.
  const dosed = table.items.map(({ perGram: of }, i) => ({ of, share: (1000 * grams[i]!) / batch_g }));
  put('batch', '', combine(dosed), ofWeighing(instruments.water_balance.step_g) / batch_g);
  return list;
}

/** Whether to weigh a salt straight into the batch or to make a concentrate of it first. */
export interface WeighOrDose {
  /** Grams that the batch needs. */
  grams: number;
  /** Relative standard uncertainty when weighed straight in. */
  straight: number;
  /** The same through a concentrate: its own weighing, and a dose of it. */
  through: number;
  concentrate: { salt_g: number; total_g: number; dose_g: number };
  advice: 'weigh' | 'concentrate';
  /** Smallest batch in which weighing straight in is sure to `good` [g]. */
  batch_for_straight_g: number;
}

/** Sure enough: 2 % of the dose. */
export const GOOD_DOSE = 0.02;

/**
 * Compares weighing `grams` of a salt into a batch with dosing it from a concentrate of `total_g` that holds `salt_g`. Balance
 * reading only; purity is the same either way. u² = (u/m)² for one weighing; three weighings through a concentrate.
 */
export function weighOrDose(
  grams: number,
  batch_g: number,
  balanceStep_g: number,
  concentrate: { salt_g: number; total_g: number },
  good = GOOD_DOSE,
): WeighOrDose {
  const u = ofWeighing(balanceStep_g);
  const straight = u / grams;
  const dose_g = (grams * concentrate.total_g) / concentrate.salt_g;
  const through = Math.hypot(u / concentrate.salt_g, u / concentrate.total_g, u / dose_g);
  return {
    grams,
    straight,
    through,
    concentrate: { ...concentrate, dose_g },
    advice: straight <= good || straight <= through ? 'weigh' : 'concentrate',
    batch_for_straight_g: (batch_g * u) / good / grams,
  };
}
