import { unitWords } from './check-order.ts';
import { type Composition, combine } from './composition.ts';
import { expectedReading, judgeReading, type Verdict } from './meter.ts';
import type { WaterOrder } from './order.ts';
import { type Item, tableOf } from './problem-rows.ts';
import { quantityOf } from './quantities.ts';
import { figure, type MistakeKind, type WaterRemark, waterRemark } from './remarks.ts';
import { formulaOf, hydrateFactor, perGram, SALTS, type SaltForm } from './salts.ts';
import { speciate } from './speciate.ts';
import type { WaterTerm } from './terms.ts';
import type { WeighSheet } from './weigh-sheet.ts';

/** A mistake that is easily made, what water it makes, and whether the meter would tell. */
export interface Mistake {
  water_id: string;
  kind: MistakeKind;
  remark: WaterRemark;
  composition: Composition;
  hardness: number;
  alkalinity: number;
  /** What the meter would show, and how it would be judged. */
  reading: number;
  verdict: Verdict;
}

/**
 * The mistakes that a weigh sheet invites: another hydrate in the packet, two bottles exchanged, a dose left out, a dose ten
 * times too large. Each with the water it makes and whether a conductivity meter would find it; the unseen come first.
 */
export function mistakesOf(order: WaterOrder, sheet: WeighSheet): Mistake[] {
  const table = tableOf(order);
  const find = (id: string): Item => table.items.find((item) => item.id === id)!;
  const doses = sheet.doses
    .filter(({ kind }) => kind !== 'base')
    .map((dose) => ({ dose, item: find(dose.item_id) }));
  const list: Mistake[] = [];
  const put = (
    change: Composition,
    kind: MistakeKind,
    values: Record<string, string | number>,
    terms: Record<string, WaterTerm[]> = {},
  ) => list.push(mistake(order, sheet, change, kind, values, terms));
  for (const { dose, item } of doses) {
    for (const { form, grams } of saltsIn(item, dose.grams))
      for (const hydrate of SALTS[form.salt].hydrates) {
        const packet: SaltForm = { salt: form.salt, hydrate };
        const times = hydrateFactor(form, packet);
        if (Math.abs(times - 1) < 0.02) continue;
        const change = scaledBy(perGram(form), (times - 1) * grams, sheet);
        const forms = { meant: formulaOf(form), packet: formulaOf(packet), times: figure(times) };
        put(change, 'wrong_hydrate', forms, { salt: [form.salt] });
      }
    put(scaledBy(item.perGram, -dose.grams, sheet), 'forgotten_dose', { source: dose.name });
    put(scaledBy(item.perGram, 9 * dose.grams, sheet), 'ten_times', { source: dose.name });
  }
  for (const [i, a] of doses.entries())
    for (const b of doses.slice(i + 1)) {
      if (a.dose.kind !== 'concentrate' || b.dose.kind !== 'concentrate') continue;
      const change = combine([
        { of: scaledBy(a.item.perGram, b.dose.grams - a.dose.grams, sheet), share: 1 },
        { of: scaledBy(b.item.perGram, a.dose.grams - b.dose.grams, sheet), share: 1 },
      ]);
      put(change, 'swapped_bottles', { first: a.dose.name, second: b.dose.name });
    }
  return list.sort((a, b) => Number(a.verdict !== 'as expected') - Number(b.verdict !== 'as expected'));
}

function saltsIn({ from }: Item, grams: number): { form: SaltForm; grams: number }[] {
  if (from.kind === 'jar') return [{ form: from.jar.form, grams }];
  if (from.kind === 'base') return [];
  return from.concentrate.made_of.map(({ form, g_per_kg }) => ({ form, grams: (grams * g_per_kg) / 1000 }));
}

const scaledBy = (of: Composition, grams: number, { batch_g }: WeighSheet): Composition =>
  combine([{ of, share: (1000 * grams) / batch_g }]);

function mistake(
  order: WaterOrder,
  sheet: WeighSheet,
  change: Composition,
  kind: MistakeKind,
  values: Record<string, string | number>,
  terms: Record<string, WaterTerm[]>,
): Mistake {
  const composition = combine([
    { of: sheet.composition, share: 1 },
    { of: change, share: 1 },
  ]);
  const hardness = quantityOf('hardness', composition);
  const alkalinity = quantityOf('alkalinity', composition);
  const { meter } = order.instruments;
  const shown = expectedReading(speciate(composition, { temperature_C: 25, carbon: 'air' }), meter);
  const reading = shown.reading?.value ?? Number.NaN;
  const verdict = judgeReading(sheet.reading, reading);
  const unseen = verdict === 'as expected';
  const changed = Math.abs(hardness - quantityOf('hardness', sheet.composition)) > 0.5;
  const of = changed ? 'hardness' : Math.abs(change.alkalinity) > 1e-6 ? 'alkalinity' : 'ion_sum';
  const remark = waterRemark(
    unseen ? 'caution' : 'note',
    `${kind}_${unseen ? 'unseen' : 'seen'}`,
    sheet.water_id,
    {
      water: sheet.name,
      hardness: figure(hardness),
      alkalinity: figure(alkalinity),
      unit: unitWords(of),
      value: figure(quantityOf(of, composition)),
      right: figure(quantityOf(of, sheet.composition)),
      reading: figure(reading),
      expected: figure(sheet.reading.reading?.value ?? Number.NaN),
      meterUnit: shown.unit,
      ...values,
    },
    { quantity: [of], ...terms },
  );
  return { water_id: sheet.water_id, kind, remark, composition, hardness, alkalinity, reading, verdict };
}
