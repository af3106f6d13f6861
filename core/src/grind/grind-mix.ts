import { MICROMETRE } from '../units/index.ts';
import { mixTables, type SizeTable } from './classes.ts';
import { type SizeFigures, tableFigures } from './figures.ts';
import { figureOf, type GrindRemark, grindRemark } from './remarks.ts';
import { normalCdf } from './special.ts';

/** Keeps only grains between two sieves. Null leaves that side open. */
export interface SieveCut {
  /** What is finer than this is thrown away [µm]. */
  above_um: number | null;
  /** What is coarser than this is thrown away [µm]. */
  below_um: number | null;
  /** How unsharply sieves cut, as the geometric standard deviation of where a grain goes; 1 is a clean cut. */
  blur_gsd: number;
}

/** One grind that goes into a mix. */
export interface GrindMixPart {
  name: string;
  /** Share of the mixed grounds, by mass; shares are taken relative to their sum. */
  share: number;
  table: SizeTable;
  cut: SieveCut | null;
  /** What the grinder keeps of every grinding [g]. */
  retention_g: number;
  /** What else is lost of the ground mass: dust, clinging grains [0–1]. */
  loss: number;
}

/** What is to be made. */
export interface GrindMixOrder {
  parts: readonly GrindMixPart[];
  /** Grounds in one cup [g]. */
  dose_g: number;
  cups: number;
  /** Step of the scale [g]. */
  step_g: number;
  /** Each cup is ground and weighed by itself, or one batch of every part for all cups. */
  grinding: 'each_cup' | 'one_batch';
  /** Grains below this are fines [µm]. */
  fines_limit_um: number;
}

/** What one part asks of hands and scale. */
export interface GrindMixPartSheet {
  name: string;
  /** Share by mass after rounding to the scale. */
  share: number;
  /** Share of what is ground that the sieves keep. */
  kept: number;
  /** Grounds of this part to weigh into each cup [g], a whole number of steps. */
  per_cup_g: number;
  /** Beans to weigh for one grinding [g], a whole number of steps, and how many grindings. */
  beans_g: number;
  grindings: number;
  /** All beans of this part [g], and where they go that is not the cup. */
  all_beans_g: number;
  sieved_out_g: number;
  lost_g: number;
  /** The part alone, after its sieves. */
  table: SizeTable;
  figures: SizeFigures;
}

/** A mix worked out. */
export interface GrindMixSheet {
  parts: readonly GrindMixPartSheet[];
  /** Grounds in each cup after rounding [g]. */
  dose_g: number;
  /** The mix as it will be, and its figures. */
  table: SizeTable;
  figures: SizeFigures;
  /** All beans [g]. */
  beans_g: number;
  /** 2 standard uncertainties of each part's share from reading the scale, in % points. */
  share_doubt_pct: number;
  remarks: GrindRemark[];
}

/** Share of a grain of this size that stays between the sieves of a cut. */
export function keptOf(diameter: number, cut: SieveCut): number {
  const passes = (opening_um: number) => {
    const distance = Math.log((opening_um * MICROMETRE) / diameter);
    if (!(cut.blur_gsd > 1)) return distance > 0 ? 1 : 0;
    return normalCdf(distance / Math.log(cut.blur_gsd));
  };
  const stays = cut.above_um === null ? 1 : 1 - passes(cut.above_um);
  return stays * (cut.below_um === null ? 1 : passes(cut.below_um));
}

/** Sieves a table: what is kept, as a table of its own, and its share of the whole. Null when nothing is. */
export function sieveTable(table: SizeTable, cut: SieveCut): { table: SizeTable; kept: number } | null {
  const diameter: number[] = [];
  const share: number[] = [];
  table.diameter.forEach((d, k) => {
    const rest = table.share[k]! * keptOf(d, cut);
    if (!(rest > 1e-12)) return;
    diameter.push(d);
    share.push(rest);
  });
  const kept = share.reduce((sum, x) => sum + x, 0);
  if (!(kept > 1e-9)) return null;
  return {
    table: { diameter: Float64Array.from(diameter), share: Float64Array.from(share, (x) => x / kept) },
    kept: Math.min(1, kept),
  };
}

/** Retention that is worth a word, as a share of one grinding. */
const MUCH_RETAINED = 0.05;
/** How far a share may be off its wish before it is said. */
const SHARE_OFF = 0.01;

/**
 * Works out a mix: what to grind and to weigh for so many cups with a scale of so many grams a step, and what comes of it.
 * Grounds per cup are rounded so that the dose still comes out to the nearest step; beans are rounded up. Null when the sieves
 * leave nothing of every part.
 */
export function workOutGrindMix(order: GrindMixOrder): GrindMixSheet | null {
  const remarks: GrindRemark[] = [];
  const usable = order.parts.flatMap((part) => {
    if (!(part.share > 0)) return [];
    const sieved = part.cut ? sieveTable(part.table, part.cut) : { table: part.table, kept: 1 };
    if (sieved) return [{ part, ...sieved }];
    remarks.push(grindRemark('problem', 'part_all_cut', { part: part.name }));
    return [];
  });
  if (usable.length === 0) return null;
  const total = usable.reduce((sum, { part }) => sum + part.share, 0);
  const asked = usable.map(({ part }) => part.share / total);
  const steps = roundedTo(
    asked.map((share) => (share * order.dose_g) / order.step_g),
    Math.round(order.dose_g / order.step_g),
  );
  const dose = steps.reduce((sum, n) => sum + n, 0) * order.step_g;
  const parts = usable.map(({ part, table, kept }, i): GrindMixPartSheet => {
    const perCup = steps[i]! * order.step_g;
    const masses = beansOf(part, kept, perCup, order);
    sayPart(part, asked[i]!, perCup, dose, masses, order, remarks);
    return {
      name: part.name,
      share: dose > 0 ? perCup / dose : 0,
      kept,
      per_cup_g: tidy(perCup),
      ...masses,
      table,
      figures: tableFigures(table, order.fines_limit_um * MICROMETRE),
    };
  });
  if (usable.some(({ part }) => part.cut && part.cut.blur_gsd <= 1))
    remarks.push(grindRemark('note', 'ideal_sieve'));
  const given = parts.filter((part) => part.share > 0);
  const table = mixTables(given.map(({ share, table: own }) => ({ share, table: own })));
  return {
    parts,
    dose_g: tidy(dose),
    table,
    figures: tableFigures(table, order.fines_limit_um * MICROMETRE),
    beans_g: tidy(parts.reduce((sum, part) => sum + part.all_beans_g, 0)),
    share_doubt_pct: (100 * 2 * order.step_g) / Math.sqrt(6) / Math.max(dose, order.step_g),
    remarks,
  };
}

/** Whole numbers near the wishes that add up to `sum`: the largest remainders are rounded up. */
function roundedTo(wishes: readonly number[], sum: number): number[] {
  const floors = wishes.map((x) => Math.floor(x + 1e-9));
  let left = sum - floors.reduce((total, n) => total + n, 0);
  const byRemainder = wishes.map((x, i) => ({ i, rest: x - floors[i]! })).sort((a, b) => b.rest - a.rest);
  for (const { i } of byRemainder) {
    if (left <= 0) break;
    floors[i] = floors[i]! + 1;
    left--;
  }
  return floors;
}

type Masses = Pick<GrindMixPartSheet, 'beans_g' | 'grindings' | 'all_beans_g' | 'sieved_out_g' | 'lost_g'>;

function beansOf(part: GrindMixPart, kept: number, perCup: number, order: GrindMixOrder): Masses {
  if (perCup === 0) return { beans_g: 0, grindings: 0, all_beans_g: 0, sieved_out_g: 0, lost_g: 0 };
  const grindings = order.grinding === 'each_cup' ? order.cups : 1;
  const wanted = order.grinding === 'each_cup' ? perCup : perCup * order.cups;
  const needed = wanted / kept / (1 - part.loss) + part.retention_g;
  const beans = Math.ceil(needed / order.step_g - 1e-9) * order.step_g;
  const out = (beans - part.retention_g) * (1 - part.loss);
  return {
    beans_g: tidy(beans),
    grindings,
    all_beans_g: tidy(beans * grindings),
    sieved_out_g: out * (1 - kept) * grindings,
    lost_g: (beans - out) * grindings,
  };
}

function sayPart(
  part: GrindMixPart,
  asked: number,
  perCup: number,
  dose: number,
  { beans_g, all_beans_g, sieved_out_g }: Masses,
  { step_g, dose_g }: GrindMixOrder,
  remarks: GrindRemark[],
): void {
  const values = { part: part.name, step: step_g };
  if (perCup === 0) {
    remarks.push(
      grindRemark('problem', 'part_rounds_away', { ...values, mass: figureOf(asked * dose_g, 2) }),
    );
    return;
  }
  if (Math.abs(perCup / dose - asked) > SHARE_OFF)
    remarks.push(
      grindRemark('caution', 'share_off', {
        ...values,
        share: figureOf((100 * perCup) / dose),
        asked: figureOf(100 * asked),
      }),
    );
  if (part.retention_g > MUCH_RETAINED * beans_g)
    remarks.push(
      grindRemark('note', 'retention_high', {
        part: part.name,
        retention: part.retention_g,
        percent: figureOf((100 * part.retention_g) / beans_g, 2),
      }),
    );
  if (sieved_out_g > 0)
    remarks.push(
      grindRemark('note', 'sieved_out', {
        part: part.name,
        ground: figureOf(all_beans_g),
        kept: figureOf(all_beans_g - sieved_out_g),
        thrown: figureOf(sieved_out_g),
      }),
    );
}

/** Takes the crumbs of binary arithmetic off a sum of decimal steps. */
const tidy = (grams: number): number => Math.round(1e6 * grams) / 1e6;
