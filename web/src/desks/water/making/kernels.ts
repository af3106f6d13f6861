import {
  type Batch,
  DENSITY_25,
  type Dose,
  type ExpectedReading,
  type Ions,
  ionsOf,
  type MakingStep,
  type SaltForm,
  type WaterOrder,
  type WeighSheet,
} from '@pourline/core';

/** Days that a made water is kept closed and cold, and a concentrate (common practice; no source). */
export const WATER_KEEPS_DAYS = 7;

/** What stands for a step in the list of those that are done. */
export const stepKey = ({ code, item_id }: Pick<MakingStep, 'code' | 'item_id'>): string =>
  item_id === null ? code : `${code} ${item_id}`;

/** The list of done steps with one put in or taken out. */
export const toggled = (done: readonly string[], key: string): string[] =>
  done.includes(key) ? done.filter((entry) => entry !== key) : [...done, key];

/** How a dose is read off its instrument: the unit, and the grams that one of it is. */
export interface DoseUnit {
  unit: 'g' | 'mL' | 'drops';
  /** Grams in one of the unit. */
  grams: number;
  /** Decimals that the instrument shows. */
  digits: number;
}

export function unitOfDose({ step_words, step_g, mL, grams }: Dose): DoseUnit {
  if (step_words === 'a drop') return { unit: 'drops', grams: step_g, digits: 0 };
  const unit = mL === null || mL === 0 ? 1 : grams / mL;
  const step = step_g / unit;
  const digits = Math.max(0, Math.min(5, -Math.floor(Math.log10(step) + 1e-9)));
  return { unit: unit === 1 ? 'g' : 'mL', grams: unit, digits };
}

/** Grams that were given instead of those asked for, by item; amounts that are no numbers are left out. */
export const givenOf = (given: Batch['given']): Record<string, number> =>
  Object.fromEntries(
    given
      .filter(({ given_g }) => Number.isFinite(given_g) && given_g >= 0)
      .map(({ item_id, given_g }) => [item_id, given_g]),
  );

/** The list of given doses with one set; null takes it out, and it counts as asked again. */
export function withGiven(given: Batch['given'], item_id: string, grams: unknown): unknown[] {
  const others = given.filter((entry) => entry.item_id !== item_id);
  return grams === null ? others : [...others, { item_id, given_g: grams }];
}

/** Share by which a dose may be over before the batch is worth making larger: a step or two of a balance. */
const OVER = 0.02;

/**
 * The dose that ran over most, and the batch that it would be right for: with all other doses larger by the same share it is the
 * same water, only more of it.
 */
export function overrun(
  sheet: Pick<WeighSheet, 'doses' | 'batch_g'>,
  given: Readonly<Record<string, number>>,
): { name: string; percent: number; batch_g: number } | null {
  let worst: { name: string; percent: number; batch_g: number } | null = null;
  for (const { item_id, name, grams } of sheet.doses) {
    const share = (given[item_id] ?? grams) / grams;
    if (share > 1 + OVER && share > 1 + (worst?.percent ?? 0) / 100)
      worst = { name, percent: 100 * (share - 1), batch_g: share * sheet.batch_g };
  }
  return worst;
}

/** Litres at 25 °C of a mass of water [g], to the millilitre. */
export const litresOf = (grams: number): number => Math.round((1e3 * grams) / DENSITY_25) / 1e3;

/** Grams of some litres at 25 °C, to the tenth. */
export const gramsOf = (litres: number): number => Math.round(10 * litres * DENSITY_25) / 10;

/** Where figures of a reading stand on a scale drawn from 0 to 1. */
export interface BandPlaces {
  low: number;
  high: number;
  /** Spread of what is expected (about 95 %). */
  spread: readonly [number, number];
  expected: number;
  /** Null before anything was read; held at the ends when it is off the scale. */
  shown: number | null;
  ends: readonly [number, number];
}

/** Lays out what the meter should show: the band that is taken in the middle third, what was read wherever it falls. */
export function bandPlaces({ reading, accept }: ExpectedReading, shown: number | null): BandPlaces | null {
  if (!reading || !accept) return null;
  const width = accept.high - accept.low;
  const from = Math.max(0, accept.low - width);
  const to = accept.high + width;
  const at = (x: number): number => Math.min(1, Math.max(0, (x - from) / (to - from)));
  return {
    low: at(accept.low),
    high: at(accept.high),
    spread: [at(reading.low), at(reading.high)],
    expected: at(reading.value),
    shown: shown === null ? null : at(shown),
    ends: [from, to],
  };
}

/** The calendar day of a moment where the person is, and days after it: `2026-11-25`. */
export function dayAfter(moment: Date, days: number): string {
  const day = new Date(moment.getFullYear(), moment.getMonth(), moment.getDate() + days);
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}`;
}

/** {@link dayAfter} for a calendar day. */
export const daysAfter = (day: string, days: number): string => {
  const [year, month, date] = day.split('-').map(Number);
  return dayAfter(new Date(year!, month! - 1, date!), days);
};

/** Ions of a composition that are worth printing [mg/L], the largest first. */
export function printedIons(of: WeighSheet['composition']): { field: keyof Ions; mg_L: number }[] {
  const ions = ionsOf(of);
  return (Object.keys(ions) as (keyof Ions)[])
    .map((field) => ({ field, mg_L: ions[field] }))
    .filter(({ mg_L }) => mg_L >= 0.05)
    .sort((a, b) => b.mg_L - a.mg_L);
}

/** Every salt that goes into a water, by way of jars and bottles, each once. */
export function saltsIn(order: WaterOrder, sheet: WeighSheet): SaltForm[] {
  const forms = sheet.doses.flatMap(({ item_id }) => {
    const jar = order.jars.find(({ id }) => id === item_id);
    if (jar) return [jar.form];
    return order.concentrates.find(({ id }) => id === item_id)?.made_of.map(({ form }) => form) ?? [];
  });
  return [...new Map(forms.map((form) => [`${form.salt} ${form.hydrate}`, form])).values()];
}
