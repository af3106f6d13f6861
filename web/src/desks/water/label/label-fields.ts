import {
  convertHardness,
  convertIon,
  HARDNESS_UNITS,
  type HardnessUnit,
  ION_FIELDS,
  ION_UNITS,
  type IonField,
  type Ions,
  type IonUnit,
} from '@pourline/core';

/** A label as it is typed: any figure may be missing, or no number yet; each in the unit that is printed. */
export interface LabelFields {
  name: string;
  ion_unit: string;
  ions: Readonly<Record<string, unknown>>;
  pH: unknown;
  hardness: unknown;
  hardness_unit: string;
  alkalinity: unknown;
  alkalinity_unit: string;
  residue: unknown;
  conductivity: unknown;
}

export const EMPTY_LABEL: LabelFields = {
  name: '',
  ion_unit: 'mg_L',
  ions: {},
  pH: null,
  hardness: null,
  hardness_unit: 'mg_L_CaCO3',
  alkalinity: null,
  alkalinity_unit: 'mg_L_CaCO3',
  residue: null,
  conductivity: null,
};

export const ionUnitOf = (text: string): IonUnit => ION_UNITS.find((unit) => unit === text) ?? 'mg_L';
export const hardnessUnitOf = (text: string): HardnessUnit =>
  Object.hasOwn(HARDNESS_UNITS, text) ? (text as HardnessUnit) : 'mg_L_CaCO3';

/** Digits that outlast a conversion without its dust. */
const steady = (value: number): number => Number(value.toPrecision(10));

/** The label as core reads one: what is empty is left out, figures converted, anything else passed on to be refused. */
export function plainOf(of: LabelFields): Record<string, unknown> {
  const plain: Record<string, unknown> = {};
  const put = (field: string, value: unknown, convert: (x: number) => number): void => {
    if (value === null || value === undefined || value === '') return;
    plain[field] = typeof value === 'number' ? steady(convert(value)) : value;
  };
  if (of.name.trim() !== '') plain.name = of.name;
  const unit = ionUnitOf(of.ion_unit);
  for (const field of ION_FIELDS) put(field, of.ions[field], (x) => convertIon(x, field, unit, 'mg_L'));
  const same = (x: number): number => x;
  put('pH', of.pH, same);
  put('hardness_mg_L_CaCO3', of.hardness, (x) =>
    convertHardness(x, hardnessUnitOf(of.hardness_unit), 'mg_L_CaCO3'),
  );
  put('alkalinity_mg_L_CaCO3', of.alkalinity, (x) =>
    convertHardness(x, hardnessUnitOf(of.alkalinity_unit), 'mg_L_CaCO3'),
  );
  put('residue_mg_per_L', of.residue, same);
  put('conductivity_uS_cm', of.conductivity, same);
  return plain;
}

/** The same without what cannot be read, so that the rest still can be. */
export function readable(
  plain: Record<string, unknown>,
  problems: readonly { path: readonly (string | number)[] }[],
): Record<string, unknown> {
  const bad = new Set(problems.map(({ path }) => path[0]));
  return Object.fromEntries(Object.entries(plain).filter(([field]) => !bad.has(field)));
}

/** The fields with a proposal taken: those ions as it reads them, in the unit of the label. */
export function takeProposal(of: LabelFields, fields: readonly IonField[], ions: Ions): LabelFields {
  const unit = ionUnitOf(of.ion_unit);
  const taken = Object.fromEntries(
    fields.map((field) => [field, Number(convertIon(ions[field], field, 'mg_L', unit).toPrecision(4))]),
  );
  return { ...of, ions: { ...of.ions, ...taken } };
}
