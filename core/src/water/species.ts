/**
 * The dissolved species of the model. Debye–Hückel sizes and ion pairs are those of the database phreeqc.dat of USGS
 * PHREEQC 3.7.3 (Parkhurst & Appelo 2013, USGS Techniques and Methods 6-A43), with its diffusion coefficients.
 */
interface SpeciesEntry {
  /** Charge number. */
  charge: number;
  /**
   * Ion size å [Å] and slope b [kg/mol] of the extended Debye–Hückel equation (Truesdell & Jones 1974, "WATEQ"); null takes
   * the equation of Davies.
   */
  size: number | null;
  slope?: number;
  /** Diffusion coefficient in water at 25 °C [1e-9 m²/s]; 0 where none is known: it then carries no current. */
  diffusion: number;
  /** w [K] of D(T) = D25 exp(w/T − w/298.15) (T/298.15)(η25/η). */
  warming?: number;
}

export const SPECIES = {
  H: { charge: 1, size: 9, diffusion: 9.31, warming: 1000 },
  OH: { charge: -1, size: 3.5, diffusion: 5.27, warming: 548 },
  CO2: { charge: 0, size: null, diffusion: 0 },
  HCO3: { charge: -1, size: 5.4, diffusion: 1.18 },
  CO3: { charge: -2, size: 5.4, diffusion: 0.955 },
  SO4: { charge: -2, size: 5, slope: -0.04, diffusion: 1.07, warming: 34 },
  HSO4: { charge: -1, size: null, diffusion: 1.33 },
  Cl: { charge: -1, size: 3.63, slope: 0.017, diffusion: 2.03, warming: 194 },
  NO3: { charge: -1, size: 3, diffusion: 1.9, warming: 184 },
  Ca: { charge: 2, size: 5, slope: 0.165, diffusion: 0.793, warming: 97 },
  CaHCO3: { charge: 1, size: 6, diffusion: 0.506 },
  CaCO3: { charge: 0, size: null, diffusion: 0 },
  CaSO4: { charge: 0, size: null, diffusion: 0 },
  CaOH: { charge: 1, size: null, diffusion: 0 },
  Mg: { charge: 2, size: 5.5, slope: 0.2, diffusion: 0.705, warming: 111 },
  MgHCO3: { charge: 1, size: 4, diffusion: 0.478 },
  MgCO3: { charge: 0, size: null, diffusion: 0 },
  MgSO4: { charge: 0, size: null, diffusion: 0 },
  MgOH: { charge: 1, size: 6.5, diffusion: 0 },
  Na: { charge: 1, size: 4.08, slope: 0.082, diffusion: 1.33, warming: 122 },
  NaHCO3: { charge: 0, size: null, diffusion: 0 },
  NaCO3: { charge: -1, size: null, diffusion: 1.2 },
  NaSO4: { charge: -1, size: 5.4, diffusion: 1.33 },
  K: { charge: 1, size: 3.5, slope: 0.015, diffusion: 1.96, warming: 395 },
  KSO4: { charge: -1, size: 5.4, diffusion: 1.5 },
} as const satisfies Record<string, SpeciesEntry>;

export type SpeciesName = keyof typeof SPECIES;

/** Every species, in the order of the arrays that hold molalities. */
export const SPECIES_NAMES = Object.keys(SPECIES) as SpeciesName[];

const entries: readonly SpeciesEntry[] = Object.values(SPECIES);

/** Charge numbers, in the order of {@link SPECIES_NAMES}. */
export const CHARGES = Int8Array.from(entries, ({ charge }) => charge);
/** Ion sizes [Å]; NaN where the equation of Davies holds. */
export const SIZES = Float64Array.from(entries, ({ size }) => size ?? Number.NaN);
/** Slopes b [kg/mol]. */
export const SLOPES = Float64Array.from(entries, ({ slope }) => slope ?? 0);
/** Diffusion coefficients at 25 °C [m²/s]. */
export const DIFFUSION_25 = Float64Array.from(entries, ({ diffusion }) => diffusion * 1e-9);

/** w of the temperature law [K]. */
export const WARMING = Float64Array.from(entries, ({ warming }) => warming ?? 0);

/** Place of a species in those arrays. */
export const SPECIES_INDEX = Object.fromEntries(SPECIES_NAMES.map((name, i) => [name, i])) as Readonly<
  Record<SpeciesName, number>
>;
