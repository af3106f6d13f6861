import { type WaterTerm, waterTerms } from './terms.ts';

const STATED_HARDNESS =
  '{name}: calcium and magnesium make a hardness of {sum} mg/L as CaCO3, the label says {stated}.';
const STATED_ALKALINITY =
  '{name}: bicarbonate {bicarbonate} mg/L makes an alkalinity of {sum} mg/L as CaCO3, the label says {stated}.';
const STATED_RESIDUE =
  '{name}: the ions leave a dry residue of {sum} mg/L at 180 °C, the label says {stated}.';
const STATED_CONDUCTIVITY = '{name}: these ions conduct {sum} µS/cm at 25 °C, the label says {stated}.';
const NO_HINT = 'One of them is wrong or in another unit.';
const CHARGES_APART =
  '{water}: the targets fix {positive} meq/L of positive charge and {negative} of negative. No water is like that: for each positive ion it holds a negative one.';
const FEW_STEPS =
  '{water}: {amount} of {source} is only {steps} steps of {step}: it may be off by {percent} %.';

/** What each mistake at the table does to a water. */
const MISTAKES = {
  wrong_hydrate:
    '{water}: if the packet of {salt} is really {packet} and not {meant}, {times} times as much of it is dosed: {quantity} {value}{unit} instead of {right}.',
  swapped_bottles:
    '{water}: with {first} and {second} exchanged, hardness is {hardness} and alkalinity {alkalinity} mg/L as CaCO3.',
  forgotten_dose:
    '{water}: without {source}, hardness is {hardness} and alkalinity {alkalinity} mg/L as CaCO3.',
  ten_times:
    '{water}: with ten times the {source}, hardness is {hardness} and alkalinity {alkalinity} mg/L as CaCO3.',
} as const;
export type MistakeKind = keyof typeof MISTAKES;

/** Each mistake as the meter finds it and as it does not: `wrong_hydrate_seen`, `wrong_hydrate_unseen`. */
const mistakeSentences = Object.fromEntries(
  Object.entries(MISTAKES).flatMap(([kind, what]) => [
    [
      `${kind}_seen`,
      `${what} The meter would read {reading} instead of {expected} {meterUnit} and so find it.`,
    ],
    [
      `${kind}_unseen`,
      `${what} The meter would read {reading} {meterUnit}, as it should: it cannot find this mistake.`,
    ],
  ]),
) as Readonly<Record<`${MistakeKind}_seen` | `${MistakeKind}_unseen`, string>>;

/**
 * English sentences of everything the water room has to say, by code. Other languages translate by code, values and terms.
 */
export const waterSentences: Readonly<Record<string, string>> = {
  // Targets that cannot be meant.
  target_negative:
    '{water}: {quantity} is asked at {value}{unit}; no water holds less than 0. It is taken as 0 here.',
  target_not_a_number: '{water}: {quantity} is asked at {value}; it must be a number. It is left out here.',
  target_beyond:
    '{water}: {quantity} is asked at {value}{unit}; this computes brewing waters up to {limit}{unit}. {limit} is taken here.',
  target_range_crossed:
    '{water}: the lowest {quantity}, {low}{unit}, is above the highest, {high}{unit}. The middle of both is taken here.',
  target_aim_outside:
    '{water}: {quantity} is asked at {value}{unit}, outside its own range of {low} to {high}. The nearest end is taken here.',
  target_twice: '{water}: {quantity} is asked twice. Only the first counts.',
  target_empty: '{water}: {quantity} is asked without any figure. It is left out here.',
  weight_bad: '{water}: the weight of {quantity} is {value}; it must be more than 0. 1 is taken here.',
  batch_bad: '{water}: {value} g are to be made; it must be from 1 to 100000 g. 1000 g are taken here.',
  no_waters_wanted: 'No water is asked for. Add one with at least one target.',
  charges_apart_metals: `${CHARGES_APART} Raise chloride, sulfate or alkalinity, or ask for less of the metals.`,
  charges_apart_anions: `${CHARGES_APART} Leave sodium or potassium free, or ask for less of the anions.`,
  hardness_apart:
    '{water}: calcium {calcium} and magnesium {magnesium} mg/L make a hardness of {sum} mg/L as CaCO3, not {asked}. They cannot all be met.',
  // The shelf.
  no_base: 'There is no water on the shelf. Purified water with nothing in it is assumed.',
  no_salts:
    'There is neither a salt nor a concentrate on the shelf, so nothing can be added. The nearest is {water} as it is.',
  base_unbalanced:
    '{water}: its ions do not balance: {positive} meq/L positive, {negative} negative. What is made of it carries the same doubt; check the label.',
  jar_useless: '{jar} dissolves only with CO2 under pressure; it is not used here.',
  jar_caustic: '{jar} is strongly alkaline: gloves and eye protection, and never in a bag for the stage.',
  // What could not be met and why.
  nothing_brings:
    '{water}: {quantity} stays at {reached}{unit} instead of {asked}. Nothing on the shelf brings any.',
  nothing_takes:
    '{water}: {quantity} stays at {reached}{unit} instead of {asked}. {base} brings it already and nothing on the shelf takes ions out; a purer water would.',
  tied: '{water}: {quantity} comes to {reached}{unit} instead of {asked}. {source} would bring more, but also brings {other}, which is to stay near {limit}.',
  held_by_limit:
    '{water}: {quantity} comes to {reached}{unit} instead of {asked}, because {other} must stay {side} {limit}{otherUnit}.',
  limit_broken:
    '{water}: {quantity} cannot be kept {side} {asked}{unit}; the nearest is {reached}. The limits together leave no room.',
  stock_short:
    '{water}: {quantity} comes to {reached}{unit} instead of {asked}, because there is not enough of {source}.',
  weighed_off:
    '{water}: {quantity} comes to {reached}{unit} instead of {asked}; it is weighed against the other targets.',
  step_coarse:
    '{water}: with steps of {step} {source} can give {quantity} {reached}{unit} or the next step, {next}; {asked} lies between. A concentrate, a larger batch or a finer balance does it.',
  dose_vanishes:
    '{water}: {amount} of {source} is less than half a step of {step}, so none is given. Make a concentrate or a larger batch.',
  few_steps_of_salt: `${FEW_STEPS} Make a concentrate, or a batch of {batch} kg.`,
  few_steps_of_liquid: `${FEW_STEPS} Make the concentrate weaker, use a finer syringe (1 mL in steps of 0.01) or weigh the dose.`,
  // The water made.
  scale_likely:
    '{water}: at {celsius} °C in open air the index of calcite is {index} ± {doubt}; up to {scale} mg of scale per kg can form in the kettle.',
  above_guideline: '{water}: {quantity} is {value}{unit}; {source} gives {limit}{unit} for drinking water.',
  ionic_strength:
    '{water} is stronger than the model is meant for (ionic strength {value} mol/kg; up to 0.1).',
  magnesium_serving:
    '{water}: {value} mg of magnesium come with {serving} mL. The upper level for magnesium added to food is 250 mg a day (EFSA).',
  impossible_pH:
    '{name}: a pH of {pH} cannot go with an alkalinity of {alkalinity} mg/L as CaCO3 at {celsius} °C. Check both; the pH is left out.',
  // Concentrates.
  over_solubility:
    '{name}: {amount} g of {salt} per kg of water is more than dissolves at {celsius} °C ({limit} g). Make it weaker.',
  near_solubility:
    '{name}: {amount} g of {salt} per kg of water is close to what dissolves at {celsius} °C ({limit} g). Crystals may form in the fridge.',
  solubility_unknown:
    '{name}: how much {salt} dissolves at {celsius} °C is not in the table; the figure at {nearest} °C is used.',
  will_precipitate:
    '{name}: {mineral} precipitates at {celsius} °C (index {index}). Keep {first} and {second} in separate bottles.',
  may_precipitate:
    '{name}: {mineral} is in balance or near it at {celsius} °C (index {index}). Make it weaker or keep {first} and {second} apart.',
  strong_model:
    '{name} is stronger (ionic strength {value} mol/kg) than the activity model is meant for; the index is a guide only.',
  not_for_drinking:
    '{name} is a concentrate: never drunk, kept from children, labelled with its date and dose. A mouthful (50 mL) holds {amount} mg of {ion}.',
  loses_CO2:
    '{name}: in an open bottle it slowly loses CO2 (it is in balance with {pressure} atm). Its alkalinity stays, its pH rises. Fill the bottle and close it tight.',
  keep_cold:
    '{name}: keep in the fridge and throw away after {days} days, or at once when hazy (common practice).',
  bottle_too_large:
    '{name}: {volume} mL do not fit the container limit of {limit} mL. Take {bottles} bottles.',
  // Labels.
  label_imbalance:
    '{name}: {positive} meq/L of positive charge stand against {negative} of negative, {percent} % apart (usual limit 5 %).',
  label_missing_ion: '{name}: {amount} mg/L of {ion} would close the balance; it is not on the label.',
  label_as_caco3:
    '{name}: read as mg/L as CaCO3 instead of as the ion, {ion} {value} closes the balance to {percent} %. The label probably counts it that way.',
  label_hardness: `${STATED_HARDNESS} ${NO_HINT}`,
  label_hardness_ions_as_caco3: `${STATED_HARDNESS} Its calcium and magnesium seem to count as CaCO3.`,
  label_hardness_in_dH: `${STATED_HARDNESS} What is stated seems to be in °dH.`,
  label_hardness_in_fH: `${STATED_HARDNESS} What is stated seems to be in °fH.`,
  label_hardness_calcium_alone: `${STATED_HARDNESS} What is stated seems to be calcium hardness alone.`,
  label_alkalinity: `${STATED_ALKALINITY} ${NO_HINT}`,
  label_alkalinity_bicarbonate: `${STATED_ALKALINITY} What is stated seems to be the bicarbonate itself.`,
  label_alkalinity_in_dH: `${STATED_ALKALINITY} What is stated seems to be in °dH.`,
  label_residue_above: `${STATED_RESIDUE} Silica is not counted here and may be the rest; or an ion is missing.`,
  label_residue_below: `${STATED_RESIDUE} An ion is probably counted in another unit.`,
  label_conductivity_above: `${STATED_CONDUCTIVITY} An ion is probably missing.`,
  label_conductivity_below: `${STATED_CONDUCTIVITY} The label may give it at 20 °C (a tenth lower), or an ion is in another unit.`,
  label_chemistry: '{name}: this is a concentrate or brine, not a drinking water ({value} mg/L of ions).',
  ...mistakeSentences,
};

/** Something to know about a water, its making or its bottle. */
export interface WaterRemark {
  /** `problem`: what was asked cannot be had, or must not be made; `caution`; `note`. */
  level: 'problem' | 'caution' | 'note';
  code: string;
  /** Id of the water, jar, base or concentrate it is about; empty for the order as a whole. */
  about: string;
  /** What the sentence is filled with: figures, units, formulas, names people gave, and the English of every term. */
  values: Readonly<Record<string, string | number>>;
  /** Those of the values that are words, by code; several make a list ("calcium and magnesium"). Absent when none is. */
  terms?: Readonly<Record<string, readonly WaterTerm[]>>;
  /** The English sentence. */
  sentence: string;
}

/**
 * Makes a remark and fills its sentence. Words go into `terms`, everything else into `values`.
 * @throws Error when there is no sentence for the code.
 */
export function waterRemark(
  level: WaterRemark['level'],
  code: string,
  about: string,
  given: Readonly<Record<string, string | number>>,
  terms: Readonly<Record<string, readonly WaterTerm[]>> = {},
): WaterRemark {
  const template = waterSentences[code];
  if (template === undefined) throw new Error(`waterRemark: there is no sentence for ${code}`);
  const words = Object.entries(terms).map(([name, list]) => [
    name,
    list.map((term) => waterTerms[term]).join(' and '),
  ]);
  const values: Record<string, string | number> = { ...given, ...Object.fromEntries(words) };
  const text = template.replaceAll(/\{(\w+)\}/g, (whole, name: string) =>
    name in values ? String(values[name]) : whole,
  );
  return {
    level,
    code,
    about,
    values,
    ...(words.length > 0 ? { terms } : {}),
    sentence: (text.charAt(0).toUpperCase() + text.slice(1)).trim(),
  };
}

/** A figure as people read it: four significant digits at most, no exponent. */
export function figure(x: number, digits = 3): string {
  if (!Number.isFinite(x)) return String(x);
  if (x === 0 || Math.abs(x) < 1e-9) return '0';
  const places = Math.max(0, Math.min(9, digits - 1 - Math.floor(Math.log10(Math.abs(x)))));
  const fixed = x.toFixed(places);
  return fixed.includes('.') ? fixed.replace(/\.?0+$/, '') : fixed;
}
