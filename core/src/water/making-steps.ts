import type { WaterOrder } from './order.ts';
import { figure } from './remarks.ts';
import { perGram } from './salts.ts';
import type { Dose, WeighSheet } from './weigh-sheet.ts';

/** English words of the steps, by code. */
export const stepSentences: Readonly<Record<string, string>> = {
  check: 'Check each packet and bottle against its name on this sheet: {names}.',
  most_of_main: 'Weigh {grams} g of {name} into a clean bottle; keep the last tenth back.',
  add_base: 'Add {grams} g of {name}.',
  add_hardness: 'Add {amount} of {name} and mix.',
  add_hardness_drops: 'Add {drops} drops of {name} and mix.',
  add_buffer: 'Add {amount} of {name} last, and mix.',
  add_buffer_drops: 'Add {drops} drops of {name} last, and mix.',
  fill: 'Fill up to {grams} g with {name}, close and shake.',
  measure: 'At {celsius} °C the meter should show {low} to {high} {unit}. Outside that, do not use it.',
  label: 'Write on the bottle: {name}, {hardness} hardness, {alkalinity} alkalinity (mg/L as CaCO3), date.',
};

/** One step at the table, to be ticked off. */
export interface MakingStep {
  code: string;
  values: Readonly<Record<string, string | number>>;
  sentence: string;
  /** The dose that is given in this step; null in all others. */
  item_id: string | null;
}

/**
 * The steps that make a water, in the order that keeps it clear: most of the water, what brings hardness, mix, what brings
 * alkalinity, mix, the rest of the water, the meter, the label. Strong doses never meet undiluted.
 */
export function makingSteps(order: WaterOrder, sheet: WeighSheet): MakingStep[] {
  const steps: MakingStep[] = [];
  const add = (code: string, values: Record<string, string | number>, item_id: string | null = null) => {
    const sentence = stepSentences[code]!.replaceAll(/\{(\w+)\}/g, (_, key: string) => String(values[key]));
    steps.push({ code, values, sentence, item_id });
  };
  const { main, doses } = sheet;
  const { step_g } = order.instruments.water_balance;
  const ofWater = (grams: number): string => figure(Math.round(grams / step_g) * step_g, 7);
  const alkaline = ({ item_id }: Dose): boolean => {
    const jar = order.jars.find(({ id }) => id === item_id);
    if (jar) return perGram(jar.form).alkalinity > 0;
    return (order.concentrates.find(({ id }) => id === item_id)?.per_kg.alkalinity ?? 0) > 0;
  };
  const given = doses.filter(({ kind }) => kind !== 'base');
  if (given.length > 0) add('check', { names: given.map(({ name }) => name).join('; ') });
  add('most_of_main', { grams: ofWater(0.9 * main.grams), name: main.name });
  for (const { name, grams, item_id } of doses.filter(({ kind }) => kind === 'base'))
    add('add_base', { grams: ofWater(grams), name }, item_id);
  for (const last of [false, true])
    for (const dose of given.filter((d) => alkaline(d) === last)) {
      const code = last ? 'add_buffer' : 'add_hardness';
      const { name, item_id, steps: drops } = dose;
      if (dose.step_words === 'a drop') add(`${code}_drops`, { drops, name }, item_id);
      else add(code, { amount: amountWords(dose), name }, item_id);
    }
  add('fill', { grams: ofWater(sheet.batch_g), name: main.name });
  const { accept, unit, sample_C } = sheet.reading;
  if (accept) add('measure', { low: figure(accept.low), high: figure(accept.high), unit, celsius: sample_C });
  const { hardness, alkalinity } = sheet.figures.quantities;
  add('label', {
    name: sheet.name,
    hardness: figure(hardness?.value ?? 0),
    alkalinity: figure(alkalinity?.value ?? 0),
  });
  return steps;
}

/** A dose as it is measured out: drops, millilitres or grams. */
export function amountWords({ mL, grams, steps, step_words, step_g }: Dose): string {
  if (step_words === 'a drop') return `${steps} drops`;
  if (mL !== null) return `${figure(mL, 4)} mL`;
  const places = Math.max(0, Math.min(5, -Math.floor(Math.log10(step_g) + 1e-9)));
  return `${grams.toFixed(places)} g`;
}
