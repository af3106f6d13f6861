import { LOG_K } from './medium.ts';

/**
 * Share of bicarbonate that a drink of some pH turns into CO2 at 25 °C: 1/(1 + 10^(pH − pK1)). 0.97 at pH 4.8. Carbonate, a
 * hundredth of the alkalinity at most, is counted as bicarbonate.
 */
export const protonatedShare = (drinkPH: number): number => 1 / (1 + 10 ** (drinkPH + LOG_K.K1(298.15)));

/** Acid that a water takes up when a drink is made with it. Chemistry, not taste. */
export interface AcidNeutralised {
  /** Per kilogram of water [mmol of acid]. */
  per_kg_mmol: number;
  /** By the water of one cup [mmol of acid]. */
  per_cup_mmol: number;
  /** Share of the drink's own titratable acid [%], when that was measured; else null. */
  of_titratable_pct: number | null;
}

/**
 * Acid neutralised by the alkalinity [eq/kg] of the water poured for one cup [g], in a drink of `drinkPH`.
 * `titratable_mmol_kg`: acid found by titrating the drink, per kilogram of it, with the mass of drink [g].
 */
export function acidNeutralised(
  alkalinity: number,
  water_g: number,
  drinkPH: number,
  titration?: { titratable_mmol_kg: number; drink_g: number },
): AcidNeutralised {
  const per_kg_mmol = 1e3 * alkalinity * protonatedShare(drinkPH);
  const per_cup_mmol = (per_kg_mmol * water_g) / 1000;
  const left = titration ? (titration.titratable_mmol_kg * titration.drink_g) / 1000 : 0;
  return {
    per_kg_mmol,
    per_cup_mmol,
    // What was titrated is what the water had left over.
    of_titratable_pct: titration ? (100 * per_cup_mmol) / (per_cup_mmol + left) : null,
  };
}
