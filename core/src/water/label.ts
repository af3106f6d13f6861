import { CACO3 } from './atoms.ts';
import {
  alkalinity,
  amountOf,
  chargeImbalance,
  chargeSums,
  hardness,
  ION_FIELDS,
  IONS,
  type IonField,
  type Ions,
  ionSum,
} from './basics.ts';
import { type Composition, compositionOf } from './composition.ts';
import { RESIDUE_LOSS } from './figures.ts';
import { conductivityOf, quantityOf } from './quantities.ts';
import { figure, type WaterRemark, waterRemark } from './remarks.ts';
import { speciate } from './speciate.ts';
import { type WaterTerm, waterTerms } from './terms.ts';

/** What a label or an analysis says; what it does not say is absent. */
export interface WaterLabel {
  name: string;
  /** Ions as printed [mg/L]. */
  ions: Partial<Ions>;
  pH?: number;
  /** Stated elsewhere on it [mg/L as CaCO3]. */
  hardness?: number;
  alkalinity?: number;
  /** Dry residue at 180 °C [mg/L]. */
  residue?: number;
  /** At 25 °C [µS/cm]. */
  conductivity?: number;
}

/** A way to read a label under which its charges balance. */
export interface LabelProposal {
  /** `missing`: an ion that is not on it; `as_CaCO3`: figures that count as calcium carbonate. */
  by: 'missing' | 'as_CaCO3';
  fields: IonField[];
  /** The ions if this is right [mg/L]. */
  ions: Ions;
  /** Charge that is then still apart [%]. */
  imbalance_pct: number;
}

export interface CheckedLabel {
  ions: Ions;
  composition: Composition;
  imbalance_pct: number;
  proposals: LabelProposal[];
  remarks: WaterRemark[];
}

/** Charge apart beyond which an analysis is called incomplete [%] (usual limit in laboratories, from memory) and [meq/L]. */
const LIMIT_PCT = 5;
const LIMIT_MEQ_L = 0.02;
/** Share by which figures on one label may differ through rounding. */
const SAME = 0.08;

/** What a milligram as CaCO3 is in milligrams of the ion. */
const IN_CACO3: Partial<Record<IonField, number>> = {
  calcium_mg_L: IONS.calcium_mg_L.molarMass / CACO3,
  magnesium_mg_L: IONS.magnesium_mg_L.molarMass / CACO3,
  bicarbonate_mg_L: (2 * IONS.bicarbonate_mg_L.molarMass) / CACO3,
};

/** The ion that a field holds: `calcium_mg_L` is `calcium`. */
export const ionTerm = (field: IonField): IonName => field.slice(0, -'_mg_L'.length) as IonName;
/** What the ion of a field is called. */
export const ionWords = (field: IonField): string => waterTerms[ionTerm(field)];
type IonName = IonField extends `${infer Name}_mg_L` ? Name : never;

/**
 * Holds a typed label against itself: charges, hardness, alkalinity, dry residue, conductivity. Where charges do not balance it
 * proposes the ion that is missing, or the figures that count as CaCO3. Nothing is changed; the proposals are for a person.
 */
export function checkLabel(label: WaterLabel): CheckedLabel {
  const ions = Object.fromEntries(ION_FIELDS.map((f) => [f, label.ions[f] ?? 0])) as unknown as Ions;
  const remarks: WaterRemark[] = [];
  const { name } = label;
  const add: Add = (level, code, values, terms = {}) =>
    remarks.push(waterRemark(level, code, '', { name, ...values }, terms));
  const imbalance_pct = chargeImbalance(ions);
  const { positive, negative } = chargeSums(ions);
  const apart = Math.abs(imbalance_pct) > LIMIT_PCT && Math.abs(positive - negative) > LIMIT_MEQ_L;
  const proposals = apart ? [...countedAsCaCO3(ions), ...missingIons(label, ions)] : [];
  if (apart) {
    add('caution', 'label_imbalance', {
      positive: figure(positive),
      negative: figure(negative),
      percent: figure(Math.abs(imbalance_pct), 2),
    });
    for (const proposal of proposals) sayProposal(proposal, ions, add);
  }
  const composition = compositionOf(ions);
  sayOtherFigures(label, ions, composition, add);
  if (ionSum(ions) > 5000) add('problem', 'label_chemistry', { value: figure(ionSum(ions)) });
  if (label.pH !== undefined) sayImpossiblePH(label.pH, composition, add);
  return { ions, composition, imbalance_pct, proposals, remarks };
}

type Add = (
  level: WaterRemark['level'],
  code: string,
  values: Record<string, string | number>,
  terms?: Record<string, WaterTerm[]>,
) => void;

/** Every set of figures that closes the balance when it is read as CaCO3. */
function countedAsCaCO3(ions: Ions): LabelProposal[] {
  const fields = (Object.keys(IN_CACO3) as IonField[]).filter((f) => ions[f] > 0);
  const found: LabelProposal[] = [];
  for (let set = 1; set < 1 << fields.length; set++) {
    const chosen = fields.filter((_, i) => (set >> i) & 1);
    const read = { ...ions };
    for (const f of chosen) read[f] *= IN_CACO3[f]!;
    const imbalance_pct = chargeImbalance(read);
    if (Math.abs(imbalance_pct) < 3)
      found.push({ by: 'as_CaCO3', fields: chosen, ions: read, imbalance_pct });
  }
  return found.sort((a, b) => Math.abs(a.imbalance_pct) - Math.abs(b.imbalance_pct));
}

/** Each ion that is not on the label and would close the balance alone. */
function missingIons(label: WaterLabel, ions: Ions): LabelProposal[] {
  const { positive, negative } = chargeSums(ions);
  const gap = positive - negative;
  return ION_FIELDS.filter((f) => label.ions[f] === undefined && IONS[f].charge * gap < 0).map((field) => {
    const mg = (Math.abs(gap) / Math.abs(IONS[field].charge)) * IONS[field].molarMass;
    const closed = { ...ions, [field]: mg };
    return { by: 'missing', fields: [field], ions: closed, imbalance_pct: chargeImbalance(closed) };
  });
}

function sayProposal({ by, fields, ions: read, imbalance_pct }: LabelProposal, ions: Ions, add: Add): void {
  const percent = figure(Math.abs(imbalance_pct), 2);
  if (by === 'missing')
    add('note', 'label_missing_ion', { amount: figure(read[fields[0]!]) }, { ion: fields.map(ionTerm) });
  else
    add(
      'note',
      'label_as_caco3',
      { value: fields.map((f) => figure(ions[f])).join(' + '), percent },
      { ion: fields.map(ionTerm) },
    );
}

function sayOtherFigures(label: WaterLabel, ions: Ions, c: Composition, add: Add): void {
  const compare = (
    sum: number,
    stated: number | undefined,
    codeOf: (ratio: number) => string,
    more: Record<string, string | number> = {},
  ) => {
    if (stated === undefined || !(stated > 0) || !(sum > 0)) return;
    if (Math.abs(sum / stated - 1) <= SAME || Math.abs(sum - stated) < 2) return;
    add('caution', codeOf(sum / stated), { sum: figure(sum), stated: figure(stated), ...more });
  };
  const calciumAlone = hardness(ions) / (CACO3 * amountOf(ions, 'calcium_mg_L'));
  compare(hardness(ions), label.hardness, (r) =>
    firstNear(r, 'label_hardness', [
      [CACO3 / IONS.calcium_mg_L.molarMass, 'ions_as_caco3'],
      [DH, 'in_dH'],
      [10, 'in_fH'],
      [calciumAlone, 'calcium_alone'],
    ]),
  );
  compare(
    alkalinity(ions),
    label.alkalinity,
    (r) =>
      firstNear(r, 'label_alkalinity', [
        [CACO3 / 2 / IONS.bicarbonate_mg_L.molarMass, 'bicarbonate'],
        [DH, 'in_dH'],
      ]),
    { bicarbonate: figure(ions.bicarbonate_mg_L) },
  );
  const residue = ionSum(ions) - RESIDUE_LOSS * ions.bicarbonate_mg_L;
  compare(residue, label.residue, (r) => (r < 1 ? 'label_residue_above' : 'label_residue_below'));
  compare(conductivityOf(c), label.conductivity, (r) =>
    r < 1 ? 'label_conductivity_above' : 'label_conductivity_below',
  );
}

/** What a degree of German hardness is [mg/L as CaCO3]. */
const DH = 17.848;

/** The code with the hint whose ratio is within 5 %, the first that is; the bare code when none is. */
function firstNear(ratio: number, code: string, hints: readonly (readonly [number, string])[]): string {
  const found = hints.find(([at]) => Math.abs(ratio / at - 1) < 0.05);
  return found ? `${code}_${found[1]}` : code;
}

function sayImpossiblePH(pH: number, c: Composition, add: Add): void {
  const s = speciate(c, { temperature_C: 25, carbon: { by: 'pH', pH } });
  if (s.stats.converged) return;
  add('caution', 'impossible_pH', { pH, alkalinity: figure(quantityOf('alkalinity', c)), celsius: 25 });
}
