import { type DesignedConcentrate, type SolvedWaters, type WeighOrDose, weighOrDose } from '@pourline/core';

/** Whether one salt of one water is better weighed straight in or given from its bottle. */
export interface Verdict {
  water: string;
  salt: string;
  of: WeighOrDose;
}

/** Compares both ways for every salt that a water takes, with the bottle that was designed for it. */
export function verdictsOf(
  straight: SolvedWaters,
  bottles: readonly DesignedConcentrate[],
  jarForms: ReadonlyMap<string, { salt: string; hydrate: number }>,
  balanceStep_g: number,
): Verdict[] {
  return straight.sheets.flatMap((sheet) =>
    sheet.doses.flatMap((dose) => {
      const form = jarForms.get(dose.item_id);
      if (dose.kind !== 'jar' || !form || !(dose.exact_g > 0)) return [];
      const bottle = bottles.find(({ recipe }) => recipe.parts.some((part) => sameForm(part.form, form)));
      const part = bottle?.recipe.parts.find((entry) => sameForm(entry.form, form));
      if (!bottle || !part) return [];
      const total_g = bottle.recipe.water_g + bottle.recipe.parts.reduce((sum, { grams }) => sum + grams, 0);
      const of = weighOrDose(dose.exact_g, sheet.batch_g, balanceStep_g, { salt_g: part.grams, total_g });
      return [{ water: sheet.name, salt: dose.name, of }];
    }),
  );
}

const sameForm = (a: { salt: string; hydrate: number }, b: { salt: string; hydrate: number }): boolean =>
  a.salt === b.salt && a.hydrate === b.hydrate;
