import { unitWords } from './check-order.ts';
import { type Composition, DENSITY_25 } from './composition.ts';
import { judgeTarget } from './explain.ts';
import type { WaterFigures } from './figures.ts';
import { heatWater } from './heat.ts';
import type { Instruments, WantedWater } from './order.ts';
import { madeOf, type Table } from './problem-rows.ts';
import { type Quantity, quantityOf } from './quantities.ts';
import { figure, type WaterRemark, waterRemark } from './remarks.ts';
import { MODEL_RANGE } from './speciate.ts';
import type { WaterTerm } from './terms.ts';
import { doseUncertainty, GOOD_DOSE } from './uncertainty.ts';

/** Figures for drinking water that a brewing water should not pass, with their sources. */
export const GUIDELINES: readonly { of: Quantity; limit: number; source: WaterTerm }[] = [
  { of: 'nitrate', limit: 50, source: 'who' },
  { of: 'sulfate', limit: 250, source: 'eu_indicator' },
  { of: 'chloride', limit: 250, source: 'eu_indicator' },
  { of: 'sodium', limit: 200, source: 'eu_indicator' },
];

/** Scale that is worth a word [mg/kg]. */
const SCALE_WORTH = 2;

/** What rounding to steps did: doses that vanished, doses of few steps, targets lost by it. */
export function roundingRemarks(
  table: Table,
  water: WantedWater,
  exact: Float64Array,
  rounded: Float64Array,
  instruments: Instruments,
): WaterRemark[] {
  const remarks: WaterRemark[] = [];
  const batch = water.batch_g / 1000;
  table.items.forEach((item, i) => {
    const wanted = exact[i]! * batch;
    const given = rounded[i]! * batch;
    if (!(wanted > 0)) return;
    const values = { water: water.name, source: item.name, step: item.step_words };
    const step = stepTerm(item);
    if (given === 0) {
      const amount = `${figure(wanted)} g`;
      remarks.push(waterRemark('problem', 'dose_vanishes', water.id, { ...values, amount }, step));
      return;
    }
    const giving = doseUncertainty(item, given, instruments).giving_g / given;
    if (giving <= GOOD_DOSE) return;
    const code = item.from.kind === 'jar' ? 'few_steps_of_salt' : 'few_steps_of_liquid';
    const more = {
      amount: amountWords(item, given),
      steps: Math.round(given / item.step_g),
      percent: figure(200 * giving, 2),
      batch: figure((water.batch_g * giving) / GOOD_DOSE / 1000, 2),
    };
    remarks.push(waterRemark('caution', code, water.id, { ...values, ...more }, step));
  });
  const [before, after] = [madeOf(table, exact), madeOf(table, rounded)];
  const coarsest = table.items.reduce(
    (worst, item, i) => {
      if (!(exact[i]! > 0)) return worst;
      const off = item.step_g / (exact[i]! * batch);
      return off > worst.off ? { off, item, i } : worst;
    },
    { off: 0, item: table.items[0], i: 0 },
  );
  for (const target of water.targets) {
    if (!judgeTarget(target, before).met || judgeTarget(target, after).met || !coarsest.item) continue;
    const next = rounded.slice();
    const sign = rounded[coarsest.i]! < exact[coarsest.i]! ? 1 : -1;
    next[coarsest.i]! += (sign * coarsest.item.step_g) / batch;
    remarks.push(
      waterRemark(
        'problem',
        'step_coarse',
        water.id,
        {
          water: water.name,
          step: coarsest.item.step_words,
          source: coarsest.item.name,
          unit: unitWords(target.of),
          reached: figure(quantityOf(target.of, after)),
          next: figure(quantityOf(target.of, madeOf(table, next))),
          asked: figure(target.aim ?? target.low ?? target.high ?? 0),
        },
        { quantity: [target.of], ...stepTerm(coarsest.item) },
      ),
    );
  }
  return remarks;
}

const stepTerm = ({ step_words }: Table['items'][number]): Record<string, WaterTerm[]> =>
  step_words === 'a drop' ? { step: ['a_drop'] } : {};

function amountWords(item: Table['items'][number], grams: number): string {
  if (item.from.kind === 'concentrate' && item.step_words.endsWith('mL'))
    return `${figure(grams / item.from.concentrate.density)} mL`;
  return `${figure(grams)} g`;
}

/** What is worth knowing of a finished water: scale, drinking-water figures, magnesium, the limits of the model. */
export function waterRemarks(water: WantedWater, c: Composition, figures: WaterFigures): WaterRemark[] {
  const remarks: WaterRemark[] = [];
  const add = (
    level: WaterRemark['level'],
    code: string,
    values: Record<string, string | number>,
    terms: Record<string, WaterTerm[]> = {},
  ) => remarks.push(waterRemark(level, code, water.id, { water: water.name, ...values }, terms));
  const index = figures.calcite_hot;
  if (index.high > 0.3) {
    const heated = heatWater(c, {
      to_C: figures.hot_C,
      steam: 0,
      co2: 'lost',
      scale: { by: 'share', share: 1 },
    });
    if (heated.scale_mg_kg > SCALE_WORTH)
      add('caution', 'scale_likely', {
        celsius: figures.hot_C,
        index: figure(index.value, 2),
        doubt: figure((index.high - index.low) / 2, 2),
        scale: figure(heated.scale_mg_kg, 2),
      });
  }
  for (const { of, limit, source } of GUIDELINES) {
    const value = quantityOf(of, c);
    if (value > limit)
      add(
        'caution',
        'above_guideline',
        { value: figure(value), unit: unitWords(of), limit },
        { quantity: [of], source: [source] },
      );
  }
  const magnesium = 200 * c.magnesium * 24.305 * (DENSITY_25 / 1000);
  if (magnesium > 25) add('caution', 'magnesium_serving', { value: figure(magnesium, 2), serving: 200 });
  if (figures.ionicStrength > MODEL_RANGE.ionicStrength)
    add('problem', 'ionic_strength', { value: figure(figures.ionicStrength, 2) });
  return remarks;
}
