import type { Parameter } from './parameters.ts';

/**
 * The solute groups of the engine. Lipids and aroma are not among them: paper holds nearly all lipids back, and aroma
 * follows other laws.
 */
export interface Solute {
  key: string;
  /** Share of everything extractable. The shares sum to 1. */
  share: number;
  /** Effective diffusivity inside a grain at 90 °C [m²/s]: free diffusivity in water times hindrance. */
  diffusivity: number;
  /** Activation energy of diffusion and of surface release [J/mol]. */
  activation: number;
  /** Share of the stock that grains keep from liquid that is not dilute [-]; see {@link heldBack}. */
  held: number;
}

export const SOLUTE_CONSTANT_NAMES = ['share', 'diffusivity', 'activation', 'held'] as const;
export type SoluteConstantName = (typeof SOLUTE_CONSTANT_NAMES)[number];
/** The constants of one solute group, each with its range and source; the words in `source` as in `parameters.ts`. */
export type SoluteConstants = { readonly key: string } & Readonly<Record<SoluteConstantName, Parameter>>;

/** One figure: value, low, high. */
type Range = readonly [number, number, number];

const constant = ([value, low, high]: Range, unit: string, meaning: string, source: string): Parameter => ({
  value,
  low,
  high,
  unit,
  meaning,
  source,
});

/**
 * Hindrance by the grain, on free diffusivities. Chosen so that small molecules come to 2–4·10⁻¹⁰ m²/s at 90 °C,
 * within the 1–6·10⁻¹⁰ of fitted values (from memory). Its doubt is the parameter `diffusionFactor`, one for all groups.
 */
const HINDRANCE = 0.14;
/** Of the dose, g per 100 g: what the shares of the composition are counted from. */
const EXTRACTABLE = 30;

interface Row {
  key: string;
  /** Grams per 100 g of dose. */
  content: Range;
  contentSource: string;
  /** Free diffusivity in water at 90 °C [m²/s]. */
  free: Range;
  freeSource: string;
  /** [kJ/mol] */
  activation: Range;
  /** Of its stock, kept by the grains from liquid that is not dilute. */
  held: Range;
}

const COMPOSITION = 'Farah 2012, from memory';
const WILKE_CHANG =
  'Wilke–Chang with Le Bas volumes; range: it is known to come out high at 65 °C and above, so more room below';

const ROWS: readonly Row[] = [
  {
    key: 'acids',
    content: [2.4, 1.8, 3],
    contentSource: `${COMPOSITION}: aliphatic 1.6 and quinic 0.8; range assumed`,
    free: [2.5e-9, 1.9e-9, 2.8e-9],
    freeSource: `citric and quinic acid; ${WILKE_CHANG}`,
    activation: [20, 15, 30],
    held: [0.16, 0.128, 0.2],
  },
  {
    key: 'caffeine',
    content: [1.2, 1.1, 1.3],
    contentSource: `${COMPOSITION}: 1.1–1.3`,
    free: [2.5e-9, 2e-9, 2.8e-9],
    freeSource: `${WILKE_CHANG}; at 25 °C it agrees with measurement, from memory`,
    activation: [25, 16, 40],
    held: [0.18, 0.144, 0.225],
  },
  {
    key: 'trigonelline',
    content: [0.8, 0.2, 1.2],
    contentSource: `${COMPOSITION}: 0.2–1.2`,
    free: [2.94e-9, 2.2e-9, 3.3e-9],
    freeSource: WILKE_CHANG,
    activation: [20, 15, 30],
    held: [0.15, 0.12, 0.188],
  },
  {
    key: 'chlorogenic',
    content: [2.5, 1.9, 4.5],
    contentSource: `${COMPOSITION}: 1.9–2.5, light roasts to about 4–5`,
    free: [1.73e-9, 1.3e-9, 2e-9],
    freeSource: `5-caffeoylquinic acid; ${WILKE_CHANG}`,
    activation: [25, 16, 40],
    held: [0.225, 0.18, 0.281],
  },
  {
    key: 'minerals',
    content: [4, 3.5, 4.5],
    contentSource: `${COMPOSITION}: 4.5, most of it soluble; range assumed`,
    free: [3e-9, 2.4e-9, 4e-9],
    freeSource: 'potassium and its partners as salts, scaled with T/µ from 25 °C, from memory',
    activation: [18, 15, 25],
    held: [0.15, 0.12, 0.188],
  },
  {
    key: 'sugars',
    content: [5.5, 3.5, 8],
    contentSource: `sucrose trace–4.2 (${COMPOSITION}) with small Maillard products; a modelling proposal, range assumed`,
    free: [1.8e-9, 1.3e-9, 2.2e-9],
    freeSource: 'sucrose measured at 25 °C, scaled with T/µ, from memory',
    activation: [22, 16, 35],
    held: [0.2, 0.16, 0.25],
  },
  {
    key: 'polymers',
    content: [13.6, 10, 17],
    contentSource:
      'high-molecular melanoidins, soluble polysaccharides and colloids: what is left of 30; a modelling proposal',
    free: [1.4e-9, 4e-10, 2.2e-9],
    freeSource:
      'assumed: the group runs from 5–20 kDa (about 3.5·10⁻¹⁰, from memory) down to small fragments as quick as sugars',
    activation: [30, 17, 40],
    held: [0.46, 0.368, 0.575],
  },
];

const constantsOf = (row: Row): SoluteConstants => ({
  key: row.key,
  share: constant(
    row.content.map((grams) => grams / EXTRACTABLE) as [number, number, number],
    '-',
    'share of everything extractable',
    row.contentSource,
  ),
  diffusivity: constant(
    row.free.map((free) => free * HINDRANCE) as [number, number, number],
    'm²/s',
    'effective diffusivity in a grain at 90 °C, hindrance included',
    row.freeSource,
  ),
  activation: constant(
    row.activation.map((kJ) => kJ * 1e3) as [number, number, number],
    'J/mol',
    'activation energy of diffusion and of release from the surface',
    'assumed within 15–40 kJ/mol: viscosity alone (computed) to tea leaves (Jaganyi & Price 1999)',
  ),
  held: constant(
    row.held,
    '-',
    'share of the stock that grains keep from liquid that is not dilute',
    'assumed, rising with size and hydrophobicity; level chosen so that a long immersion at 15 : 1 yields 21 % (Liang et al. 2021)',
  ),
});

/**
 * Composition: of about 30 g extractable per 100 g, a modelling proposal from handbook composition. The level of what
 * grains hold is chosen by one published figure, so that figure is no check of the engine; that the yield does not depend
 * on the ratio is one.
 */
export const SOLUTE_CONSTANTS: readonly SoluteConstants[] = ROWS.map(constantsOf);

/** The default constants of every solute group. */
export const SOLUTES: readonly Solute[] = SOLUTE_CONSTANTS.map(
  ({ key, share, diffusivity, activation, held }) => ({
    key,
    share: share.value,
    diffusivity: diffusivity.value,
    activation: activation.value,
    held: held.value,
  }),
);

/**
 * Doubt that what grains hold shares among all solutes, as a factor: their common level rests on one figure. It is no
 * constant of the engine but of its spread.
 */
export const HELD_LEVEL: Parameter = constant(
  [1, 0.8, 1.25],
  '-',
  'factor on what the grains hold of every solute',
  'assumed: a yield of 21 % known to about one point (Liang et al. 2021) leaves the level open by a fifth',
);

/**
 * The law by which grains hold a solute back, as the engine takes it: content at equilibrium is
 * `partition`·volume·ratio/(1 + ratio/`halfRatio`). From dilute liquid the grains give everything; once the liquid has a
 * few times `halfRatio`, they keep the share `held` of the stock whatever its strength. That is a saturable (Langmuir)
 * hold: it makes the yield of a long immersion independent of the ratio, as found (Liang et al. 2021), and lets fresh water
 * wash out the rest, as found (Moroney et al. 2015).
 *
 * @param stock extractable mass over dry mass [kg/kg]
 * @param half ratio of all solids to water at which half is held [kg/kg]; a solute has its share of it
 * @param perVolume liquid mass in the outer volume of a kilogram of grains [kg/kg]
 */
export function heldBack(
  solute: Pick<Solute, 'share' | 'held'>,
  stock: number,
  half: number,
  perVolume: number,
): { partition: number; halfRatio: number } {
  const halfRatio = half * solute.share;
  return { partition: (solute.held * stock) / (perVolume * halfRatio), halfRatio };
}
