import { GAS_CONSTANT } from '../units/index.ts';
import { type Speciation, speciate } from './speciate.ts';
import { CHARGES, DIFFUSION_25, SPECIES_NAMES, WARMING } from './species.ts';

/** Charge of a mole of electrons [C/mol], exact since the SI of 2019. */
const FARADAY = 96485.33212;

/** S/m in µS/cm. */
export const MICROSIEMENS_PER_CM = 1e4;

/**
 * How far the conductivity of a brewing water may be off [relative, standard uncertainty]: 3 %. This equation agrees with
 * PHREEQC to 1 % and with the conductivity of pure salts to 1.5 %; published models meet waters to about 2 %.
 */
export const CONDUCTIVITY_DOUBT = 0.03;

/**
 * Electrical conductivity [S/m] of a water at its own temperature: κ = Σ z² F² D c γ^α / (R T). D(T) = D25 exp(w/T − w/298.15)
 * (T/298.15)(η25/η), D25 and w of phreeqc.dat (PHREEQC 3.7.3); α = 0.6/√|z| for I < 0.36 |z|, else √I/|z|: the exponent rule
 * of earlier PHREEQC versions. γ above one counts as one.
 */
export function conductivity(of: Speciation): number {
  const { T, density, mobility } = of.medium;
  const factor = ((FARADAY * FARADAY) / (GAS_CONSTANT * T)) * mobility * density;
  const root = Math.sqrt(of.ionicStrength);
  const cooler = 1 / T - 1 / 298.15;
  let sum = 0;
  for (let i = 0; i < SPECIES_NAMES.length; i++) {
    const z = Math.abs(CHARGES[i]!);
    const D = DIFFUSION_25[i]!;
    if (z === 0 || D === 0) continue;
    const alpha = of.ionicStrength < 0.36 * z ? 0.6 / Math.sqrt(z) : root / z;
    const lnMobility = WARMING[i]! * cooler + alpha * Math.min(0, of.lnGamma[i]!);
    sum += z * z * D * of.molality[i]! * Math.exp(lnMobility);
  }
  return factor * sum;
}

/** Conductivity that a water has after cooling to 25 °C without losing or gaining CO2 [µS/cm]. */
export const conductivity25 = (of: Speciation): number =>
  MICROSIEMENS_PER_CM *
  conductivity(
    of.temperature_C === 25
      ? of
      : speciate(of.composition, { temperature_C: 25, carbon: { by: 'total', carbon: of.carbon } }),
  );
