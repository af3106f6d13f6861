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
  /** Content of the grain over that of the liquid at equilibrium, both per volume [-]. */
  partition: number;
}

/**
 * Hindrance by the grain, on free diffusivities. Chosen so that small molecules come to 2–4·10⁻¹⁰ m²/s at 90 °C,
 * within the 1–6·10⁻¹⁰ of fitted values (from memory).
 */
const HINDRANCE = 0.14;

/**
 * Composition: of about 30 g extractable per 100 g, a modelling proposal from handbook composition (Farah 2012, from
 * memory). Free diffusivities at 90 °C: Wilke–Chang with Le Bas volumes; polymers from memory. Activation energies:
 * 15–40 kJ/mol is the plausible band (viscosity alone – tea proxy). Partition: assumed, rising with size and
 * hydrophobicity; their level is chosen so that a long immersion at 15 : 1 yields 21 % (Liang et al. 2021), so that one
 * figure is no check of the engine.
 */
export const SOLUTES: readonly Solute[] = [
  { key: 'acids', share: 2.4 / 30, diffusivity: 2.5e-9 * HINDRANCE, activation: 20e3, partition: 1.8 },
  { key: 'caffeine', share: 1.2 / 30, diffusivity: 2.5e-9 * HINDRANCE, activation: 25e3, partition: 2.1 },
  {
    key: 'trigonelline',
    share: 0.8 / 30,
    diffusivity: 2.94e-9 * HINDRANCE,
    activation: 20e3,
    partition: 1.7,
  },
  { key: 'chlorogenic', share: 2.5 / 30, diffusivity: 1.73e-9 * HINDRANCE, activation: 25e3, partition: 2.6 },
  { key: 'minerals', share: 4 / 30, diffusivity: 3e-9 * HINDRANCE, activation: 18e3, partition: 1.7 },
  { key: 'sugars', share: 5.5 / 30, diffusivity: 1.8e-9 * HINDRANCE, activation: 22e3, partition: 2.3 },
  { key: 'polymers', share: 13.6 / 30, diffusivity: 7e-10 * HINDRANCE * 2, activation: 30e3, partition: 5.2 },
];
