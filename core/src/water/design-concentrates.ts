import {
  type ConcentrateRecipe,
  checkConcentrate,
  concentrateDensity,
  concentrateFrom,
  solubilityAt,
} from './concentrates.ts';
import type { Concentrate, Instruments, SaltJar, WaterOrder } from './order.ts';
import { dosingStep } from './problem-rows.ts';
import { figure, type WaterRemark, waterRemark } from './remarks.ts';
import { anhydrousMass, formMass, formulaOf } from './salts.ts';
import { type SolvedWaters, type SolveOptions, solveWaters } from './solve-waters.ts';
import { GOOD_DOSE, ofReading, ofWeighing } from './uncertainty.ts';

export interface DesignOptions {
  /** How concentrates will be given. */
  given_by: Concentrate['given_by'];
  /** How many times each water will be made of one bottle. */
  batches: number;
  /** Largest container that may be taken along [mL]; null when nothing limits it. Airports often allow 100 mL. */
  container_mL: number | null;
}

/** A bottle that was designed: how to make it, and what each water takes of it. */
export interface DesignedConcentrate {
  concentrate: Concentrate;
  recipe: ConcentrateRecipe;
  /** Volume made [mL] and how many containers it fills. */
  volume_mL: number;
  bottles: number;
  doses: { water_id: string; grams: number; mL: number }[];
  remarks: WaterRemark[];
}

/** Salt of one jar that each water needs, grams per batch. */
interface Need {
  jar: SaltJar;
  grams: number[];
}

/** Waters for which one ratio of salts differs by less than this share can have them from one bottle. */
const SAME_RATIO = 0.02;
/** Share of what dissolves in the fridge that a bottle may hold. */
const OF_SOLUBILITY = 0.5;
/** Relative standard uncertainty of the salt in a bottle that is small enough. */
const GOOD_BOTTLE = 0.005;
/** Most of a batch that may come from one bottle. */
const MOST_OF_BATCH = 0.1;

/**
 * Designs bottles for waters that were solved with salts: each salt its own bottle, except salts that all waters take in one
 * ratio and that stay dissolved together. As strong as lets the smallest dose be given to 2 % (4 % at two standard
 * uncertainties), never beyond half of what dissolves in the fridge; as large as lets its salt be weighed to 0.5 %.
 */
export function designConcentrates(
  order: WaterOrder,
  solved: SolvedWaters,
  options: DesignOptions,
): DesignedConcentrate[] {
  const needs: Need[] = order.jars.flatMap((jar) => {
    const grams = solved.sheets.map(
      (sheet) => sheet.doses.find(({ item_id }) => item_id === jar.id)?.exact_g ?? 0,
    );
    return grams.some((g) => g > 0) ? [{ jar, grams }] : [];
  });
  return bottlesOf(needs).flatMap((bottle) => {
    const made = designBottle(bottle, order, options);
    // What stays dissolved in a usual bottle may not in one this strong.
    if (bottle.length === 1 || staysClear(made.remarks)) return [made];
    return bottle.map((need) => designBottle([need], order, options));
  });
}

const staysClear = (remarks: readonly WaterRemark[]): boolean =>
  remarks.every(({ code }) => !['will_precipitate', 'may_precipitate', 'over_solubility'].includes(code));

/** Puts salts together that may share a bottle. */
function bottlesOf(needs: readonly Need[]): Need[][] {
  const bottles: Need[][] = [];
  for (const need of needs) {
    const home = bottles.find((bottle) => sameRatio(bottle[0]!, need) && together([...bottle, need]));
    if (home) home.push(need);
    else bottles.push([need]);
  }
  return bottles;
}

function sameRatio(a: Need, b: Need): boolean {
  if (a.grams.some((g, w) => g > 0 !== b.grams[w]! > 0)) return false;
  const ratios = a.grams.flatMap((g, w) => (g > 0 ? [b.grams[w]! / g] : []));
  return Math.max(...ratios) <= (1 + SAME_RATIO) * Math.min(...ratios);
}

/** Whether salts stay dissolved together at ten grams of the first per kilogram, the usual order of a bottle. */
const together = (needs: readonly Need[]): boolean => staysClear(checkConcentrate(recipeOf('', needs, 10)));

/** A kilogram of water with `strength` grams of the first salt and the others in their ratio. */
function recipeOf(name: string, needs: readonly Need[], strength: number, water_g = 1000): ConcentrateRecipe {
  const largest = needs[0]!.grams.reduce((at, g, w, all) => (g > all[at]! ? w : at), 0);
  const first = needs[0]!.grams[largest]!;
  return {
    name,
    parts: needs.map(({ jar, grams }) => ({
      form: jar.form,
      grams: ((strength * grams[largest]!) / first) * (water_g / 1000),
    })),
    water_g,
  };
}

/** The largest of 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8 × 10ⁿ that is not above x. */
function roundDown(x: number): number {
  const power = 10 ** Math.floor(Math.log10(x));
  const steps = [8, 6, 5, 4, 3, 2.5, 2, 1.5, 1];
  return (steps.find((s) => s * power <= x * (1 + 1e-9)) ?? 1) * power;
}

/** Smallest dose that is given well enough [g]. */
function leastDose(given_by: Concentrate['given_by'], instruments: Instruments): number {
  const { by, step_g } = dosingStep({ given_by, density: 1 }, instruments);
  if (by === 'syringe') {
    const { accuracy_mL, step_mL } = instruments.syringe!;
    return Math.hypot(accuracy_mL / Math.sqrt(3), ofReading(step_mL)) / GOOD_DOSE;
  }
  return by === 'drops' ? 25 * step_g : Math.max(1, ofWeighing(step_g) / GOOD_DOSE);
}

function designBottle(needs: Need[], order: WaterOrder, options: DesignOptions): DesignedConcentrate {
  const { instruments, waters } = order;
  const name = `concentrate of ${needs.map(({ jar }) => formulaOf(jar.form)).join(' + ')}`;
  const id = `concentrate-of-${needs.map(({ jar }) => jar.id).join('-')}`;
  const first = needs[0]!;
  const needed = first.grams.filter((g) => g > 0);
  // Grams of the first salt per kilogram of bottle: by the smallest dose, and by what stays dissolved.
  const byDose = (1000 * Math.min(...needed)) / leastDose(options.given_by, instruments);
  const bySolubility = Math.min(
    ...needs.map(({ jar, grams }) => {
      const bare = anhydrousMass(jar.form.salt) / formMass(jar.form);
      const limit = (OF_SOLUBILITY * solubilityAt(jar.form.salt, 5).g_per_kg) / bare;
      return (limit * Math.max(...first.grams)) / Math.max(...grams);
    }),
  );
  let strength = roundDown(Math.min(byDose, bySolubility));
  // Not so weak that a dose drowns the batch.
  const weakest = Math.max(...first.grams.map((g, w) => (1000 * g) / (MOST_OF_BATCH * waters[w]!.batch_g)));
  strength = Math.max(strength, Math.min(weakest, bySolubility));
  const used = (needed.reduce((sum, g) => sum + g, 0) * options.batches * 1100) / strength;
  const forWeighing =
    (1000 * ofWeighing(instruments.balance.step_g)) / GOOD_BOTTLE / smallestPart(needs, strength);
  const water_g = 50 * Math.ceil(Math.max(used, forWeighing) / 50);
  const rough = recipeOf(name, needs, strength, water_g);
  const step = instruments.balance.step_g;
  const recipe: ConcentrateRecipe = {
    ...rough,
    parts: rough.parts.map(({ form, grams }) => ({ form, grams: Math.round(grams / step) * step })),
  };
  const weighing = Math.max(...recipe.parts.map(({ grams }) => ofWeighing(step) / grams));
  const assay = Math.max(
    ...needs.map(({ jar }) => (jar.assay_pct[1] - jar.assay_pct[0]) / 200 / Math.sqrt(3)),
  );
  const concentrate = concentrateFrom(recipe, {
    id,
    given_by: options.given_by,
    uncertainty_pct: 100 * Math.hypot(weighing, assay),
  });
  const density = concentrateDensity(recipe);
  const volume_mL = concentrate.amount_g! / density;
  const bottles = options.container_mL === null ? 1 : Math.ceil(volume_mL / options.container_mL);
  const remarks = checkConcentrate(recipe, id);
  if (bottles > 1)
    remarks.push(
      waterRemark('note', 'bottle_too_large', id, {
        name,
        volume: figure(volume_mL),
        limit: options.container_mL!,
        bottles,
      }),
    );
  const per_kg = concentrate.made_of[0]!.g_per_kg;
  const doses = first.grams.map((g, w) => {
    const grams = (1000 * g) / per_kg;
    return { water_id: waters[w]!.id, grams, mL: grams / density };
  });
  return { concentrate, recipe, volume_mL, bottles, doses, remarks };
}

const smallestPart = (needs: readonly Need[], strength: number): number =>
  Math.min(...recipeOf('', needs, strength).parts.map(({ grams }) => grams));

/** Waters made by way of concentrates that were designed for them. */
export interface SolvedWithConcentrates {
  concentrates: DesignedConcentrate[];
  solved: SolvedWaters;
  /** The same waters with salts weighed straight in, to compare. */
  straight: SolvedWaters;
}

/** Solves waters with salts, designs the bottles, and solves again with these in whole steps of the syringe or balance. */
export function solveWithConcentrates(
  order: WaterOrder,
  design: DesignOptions,
  options: SolveOptions = {},
): SolvedWithConcentrates {
  const straight = solveWaters(order, options);
  const concentrates = designConcentrates(order, solveWaters(order, { ...options, exact: true }), design);
  const bottled: WaterOrder = {
    ...order,
    jars: [],
    concentrates: [
      ...order.concentrates,
      ...concentrates.map(({ concentrate }) => ({ ...concentrate, amount_g: null })),
    ],
  };
  // The bottles are chosen already; every one of them is to be used.
  return { concentrates, straight, solved: solveWaters(bottled, { ...options, perItem: 0 }) };
}
