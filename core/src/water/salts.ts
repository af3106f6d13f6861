import { ATOMIC_WEIGHT, type Formula, molarMass } from './atoms.ts';
import { COMPONENTS, type Composition, pureWater } from './composition.ts';

/** What is known of a salt, apart from its water of crystallisation. */
export interface Salt {
  /** Formula without water of crystallisation, as printed and as atoms. */
  formula: string;
  atoms: Formula;
  /** What one mole brings [mol, alkalinity eq]; nothing else. */
  brings: Partial<Composition>;
  /** Water molecules per formula of the usual forms; the first is the commonest in shops. */
  hydrates: readonly number[];
  /** International number as a food additive; null for table salt. */
  ins: string | null;
  /** Allowed assay [% of the formula by mass] of the commonest form in food grade: what a sealed jar may hold. */
  assay_pct: readonly [low: number, high: number];
  /** What it may hold at most once it has lost water in an open jar [% of the formula], where that is known. */
  dried_pct: number | null;
  /** Solubility in pure water [g of the anhydrous salt per 100 g of water] by temperature [°C]. */
  solubility: readonly (readonly [celsius: number, grams: number])[];
  /** What happens to it in an opened jar. */
  keeps: 'stable' | 'draws water' | 'dries out' | 'draws water and CO2' | 'loses CO2 in solution';
  /** Strongly alkaline: gloves and eye protection. */
  caustic: boolean;
  /** Needs CO2 to dissolve at any useful strength. */
  needsCO2: boolean;
}

const salt = (
  of: Pick<Salt, 'formula' | 'atoms' | 'brings' | 'hydrates' | 'ins' | 'assay_pct' | 'solubility' | 'keeps'> &
    Partial<Salt>,
): Salt => ({ caustic: false, needsCO2: false, dried_pct: null, ...of });

/**
 * Salts for brewing water. Assays: JECFA monographs where read (CaCl2, CaCO3, and how far MgSO4 may have dried),
 * else as is usual for food grade (from memory). Solubilities: a table of grams anhydrous per 100 g water (reference/salt-solubility); those of MgSO4, MgCl2,
 * CaSO4 and KCl at 20 °C as computed with PHREEQC's pitzer.dat; KHCO3, the carbonates, KCl at 0 °C and NaCl at 0 °C from memory. INS numbers: Codex.
 */
export const SALTS = {
  magnesium_sulfate: salt({
    formula: 'MgSO4',
    atoms: { Mg: 1, S: 1, O: 4 },
    brings: { magnesium: 1, sulfate: 1 },
    hydrates: [7, 0, 1, 2.5],
    ins: '518',
    assay_pct: [98, 102],
    dried_pct: 123,
    solubility: [
      [5, 27.9],
      [20, 33.8],
    ],
    keeps: 'dries out',
  }),
  magnesium_chloride: salt({
    formula: 'MgCl2',
    atoms: { Mg: 1, Cl: 2 },
    brings: { magnesium: 1, chloride: 2 },
    hydrates: [6, 0],
    ins: '511',
    assay_pct: [99, 105],
    solubility: [[20, 55]],
    keeps: 'draws water',
  }),
  calcium_chloride: salt({
    formula: 'CaCl2',
    atoms: { Ca: 1, Cl: 2 },
    brings: { calcium: 1, chloride: 2 },
    hydrates: [2, 0, 6],
    ins: '509',
    assay_pct: [99, 107],
    solubility: [
      [0, 59.5],
      [20, 74.5],
    ],
    keeps: 'draws water',
  }),
  calcium_sulfate: salt({
    formula: 'CaSO4',
    atoms: { Ca: 1, S: 1, O: 4 },
    brings: { calcium: 1, sulfate: 1 },
    hydrates: [2, 0, 0.5],
    ins: '516',
    assay_pct: [98, 101],
    solubility: [
      [5, 0.1824],
      [20, 0.2015],
    ],
    keeps: 'stable',
  }),
  sodium_bicarbonate: salt({
    formula: 'NaHCO3',
    atoms: { Na: 1, H: 1, C: 1, O: 3 },
    brings: { sodium: 1, alkalinity: 1, carbon: 1 },
    hydrates: [0],
    ins: '500(ii)',
    assay_pct: [99, 101],
    solubility: [
      [0, 6.9],
      [20, 9.6],
      [40, 12.7],
    ],
    keeps: 'loses CO2 in solution',
  }),
  potassium_bicarbonate: salt({
    formula: 'KHCO3',
    atoms: { K: 1, H: 1, C: 1, O: 3 },
    brings: { potassium: 1, alkalinity: 1, carbon: 1 },
    hydrates: [0],
    ins: '501(ii)',
    assay_pct: [99, 101],
    solubility: [
      [0, 22.5],
      [20, 33],
    ],
    keeps: 'loses CO2 in solution',
  }),
  sodium_carbonate: salt({
    formula: 'Na2CO3',
    atoms: { Na: 2, C: 1, O: 3 },
    brings: { sodium: 2, alkalinity: 2, carbon: 1 },
    hydrates: [0, 1, 10],
    ins: '500(i)',
    assay_pct: [99, 101],
    solubility: [
      [0, 7],
      [20, 21.5],
    ],
    keeps: 'draws water and CO2',
    caustic: true,
  }),
  potassium_carbonate: salt({
    formula: 'K2CO3',
    atoms: { K: 2, C: 1, O: 3 },
    brings: { potassium: 2, alkalinity: 2, carbon: 1 },
    hydrates: [0, 1.5],
    ins: '501(i)',
    assay_pct: [98, 101],
    solubility: [[20, 112]],
    keeps: 'draws water and CO2',
    caustic: true,
  }),
  sodium_chloride: salt({
    formula: 'NaCl',
    atoms: { Na: 1, Cl: 1 },
    brings: { sodium: 1, chloride: 1 },
    hydrates: [0],
    ins: null,
    assay_pct: [99, 100.5],
    solubility: [
      [0, 35.7],
      [20, 36],
    ],
    keeps: 'stable',
  }),
  potassium_chloride: salt({
    formula: 'KCl',
    atoms: { K: 1, Cl: 1 },
    brings: { potassium: 1, chloride: 1 },
    hydrates: [0],
    ins: '508',
    assay_pct: [99, 101],
    solubility: [
      [0, 28],
      [20, 34.1],
    ],
    keeps: 'stable',
  }),
  calcium_hydroxide: salt({
    formula: 'Ca(OH)2',
    atoms: { Ca: 1, O: 2, H: 2 },
    brings: { calcium: 1, alkalinity: 2 },
    hydrates: [0],
    ins: '526',
    assay_pct: [95, 101],
    solubility: [
      [20, 0.165],
      [100, 0.077],
    ],
    keeps: 'draws water and CO2',
    caustic: true,
  }),
  calcium_carbonate: salt({
    formula: 'CaCO3',
    atoms: { Ca: 1, C: 1, O: 3 },
    brings: { calcium: 1, alkalinity: 2, carbon: 1 },
    hydrates: [0],
    ins: '170(i)',
    assay_pct: [98, 100.5],
    solubility: [[20, 0.0014]],
    keeps: 'stable',
    needsCO2: true,
  }),
} as const satisfies Record<string, Salt>;

export type SaltName = keyof typeof SALTS;
export const SALT_NAMES = Object.keys(SALTS) as SaltName[];

/** A salt with the water it is sold with. */
export interface SaltForm {
  salt: SaltName;
  /** Molecules of water of crystallisation per formula; 2.5 for a dried form between two and three. */
  hydrate: number;
}

/** Molar mass of water [g/mol]. */
const WATER = 2 * ATOMIC_WEIGHT.H + ATOMIC_WEIGHT.O;

/** Molar mass of a salt without its water [g/mol]. */
export const anhydrousMass = (name: SaltName): number => molarMass(SALTS[name].atoms);

/** Molar mass of a salt with its water of crystallisation [g/mol]. */
export const formMass = ({ salt: name, hydrate }: SaltForm): number => anhydrousMass(name) + hydrate * WATER;

/** A formula as it is printed: MgSO4·7H2O. */
export function formulaOf({ salt: name, hydrate }: SaltForm): string {
  const { formula } = SALTS[name];
  if (hydrate === 0) return formula;
  return `${formula}·${hydrate === 1 ? '' : hydrate}H2O`;
}

/** Name in plain words: "magnesium sulfate, 7 H2O". */
export const saltWords = ({ salt: name, hydrate }: SaltForm): string =>
  `${name.replaceAll('_', ' ')}${hydrate === 0 ? ', anhydrous' : `, ${hydrate} H2O`}`;

/** What a gram of a salt brings [mol, alkalinity eq], by its purity (1 = exactly its formula). */
export function perGram(form: SaltForm, purity = 1): Composition {
  const sum = pureWater();
  const brings: Partial<Composition> = SALTS[form.salt].brings;
  for (const name of COMPONENTS) sum[name] = ((brings[name] ?? 0) * purity) / formMass(form);
  return sum;
}

/**
 * Mass ratio between two forms of one salt: how many times too much is dosed when `packet` is weighed out by the recipe for
 * `meant`. 2.05 for anhydrous magnesium sulfate in place of the heptahydrate.
 */
export const hydrateFactor = (meant: SaltForm, packet: SaltForm): number =>
  formMass(meant) / formMass(packet);
