import { PARAMETERS } from '../brew/parameters.ts';
import { MICROMETRE } from '../units/index.ts';
import { type Binned, type Bounds, binnedMeans, binnedQuantile, binnedUndersize } from './binned.ts';
import type { SizeTable } from './classes.ts';
import { meanDiameter, type SizeModel, sizeQuantile, undersize } from './model.ts';

/** What is said of a distribution by mass. Null where it cannot be known from what was measured. */
export interface SizeFigures {
  /** A tenth, half and nine tenths of the mass are finer. */
  d10_um: number | null;
  d50_um: number | null;
  d90_um: number | null;
  /** (D90 − D10)/D50. */
  span: number | null;
  /** Mean by mass. */
  d43_um: number | null;
  /** Sauter's mean: a powder of this one size has the same surface. */
  d32_um: number | null;
  /** Mass below the limit of fines, %. */
  fines_pct: number | null;
  /** Outer surface of spheres per mass of grounds. */
  surface_m2_kg: number | null;
  /** Mass in cells that grinding broke open, %. */
  broken_pct: number | null;
}
export type FigureName = keyof SizeFigures;
export const FIGURE_NAMES: readonly FigureName[] = [
  'd10_um',
  'd50_um',
  'd90_um',
  'span',
  'd43_um',
  'd32_um',
  'fines_pct',
  'surface_m2_kg',
  'broken_pct',
];

/** Constants of coffee that figures need; the engine's own unless others are given. */
export interface GrainConstants {
  /** Density of a dry grain, pores included [kg/m³]. */
  density: number;
  /** Thickness of the layer of broken cells [m]: half a cell. */
  brokenLayer: number;
}

/** The engine's constants. */
export const grainConstants = (): GrainConstants => ({
  density: PARAMETERS.skeletalDensity.value * (1 - PARAMETERS.grainPorosity.value),
  brokenLayer: PARAMETERS.cellSize.value / 2,
});

/** Finest grains that an open class is taken to hold [m]: fragments of one cell. */
export const FINEST = 10 * MICROMETRE;
/** How far above the coarsest limit an open class is taken to reach, as a factor. */
export const COARSEST_FACTOR = 1.5;

/** Share of a sphere's mass within `layer` [m] of its surface, 1 − (1 − 2δ/d)³; all of it when d ≤ 2δ. */
export const brokenOf = (diameter: number, layer: number): number =>
  diameter <= 2 * layer ? 1 : 1 - (1 - (2 * layer) / diameter) ** 3;

/** Mass share in broken cells of a table. */
export const brokenShare = (table: SizeTable, layer: number): number =>
  table.share.reduce((sum, x, k) => sum + x * brokenOf(table.diameter[k]!, layer), 0);

/** Rows of {@link modelTable}. */
const ROWS = 240;

/** A model as a table: exact masses of even steps of ln d between its 10⁻⁶ and 1 − 10⁻⁶ quantiles. */
export function modelTable(model: SizeModel): SizeTable {
  const low = Math.log(sizeQuantile(model, 1e-6));
  const high = Math.log(sizeQuantile(model, 1 - 1e-6));
  const diameter = new Float64Array(ROWS);
  const share = new Float64Array(ROWS);
  let below = undersize(model, Math.exp(low));
  const first = below;
  for (let k = 0; k < ROWS; k++) {
    const next = undersize(model, Math.exp(low + ((high - low) * (k + 1)) / ROWS));
    diameter[k] = Math.exp(low + ((high - low) * (k + 0.5)) / ROWS);
    share[k] = next - below;
    below = next;
  }
  return { diameter, share: share.map((x) => x / (below - first)) };
}

/** Figures of a model, in closed form but for percentiles of mixtures and the broken share. */
export function modelFigures(
  model: SizeModel,
  finesLimit: number,
  constants: GrainConstants = grainConstants(),
): SizeFigures {
  const at = (share: number) => sizeQuantile(model, share) / MICROMETRE;
  const [d10, d50, d90] = [at(0.1), at(0.5), at(0.9)];
  const d32 = meanDiameter(model, 3, 2);
  const known = d32 > 0;
  return {
    d10_um: d10,
    d50_um: d50,
    d90_um: d90,
    span: (d90 - d10) / d50,
    d43_um: meanDiameter(model, 4, 3) / MICROMETRE,
    d32_um: known ? d32 / MICROMETRE : null,
    fines_pct: 100 * undersize(model, finesLimit),
    surface_m2_kg: known ? 6 / (constants.density * d32) : null,
    broken_pct: 100 * brokenShare(modelTable(model), constants.brokenLayer),
  };
}

/** Mass in open classes that leaves a mean undefined. */
const OPEN = 1e-6;

/** Figures of classes as they were measured: interpolated over ln d; means only where no class is open. */
export function binnedFigures(
  binned: Binned,
  finesLimit: number,
  constants: GrainConstants = grainConstants(),
): SizeFigures {
  const at = (share: number) => {
    const found = binnedQuantile(binned, share);
    return found === null ? null : found / MICROMETRE;
  };
  const [d10, d50, d90] = [at(0.1), at(0.5), at(0.9)];
  const { limits, share } = binned;
  const J = limits.length;
  const closed = share[0]! <= OPEN && share[J]! <= OPEN;
  const { d43, d32 } = binnedMeans(binned, FINEST, COARSEST_FACTOR * limits[J - 1]!);
  const fines = binnedUndersize(binned, finesLimit);
  let broken = 0;
  for (let j = 1; j < J; j++)
    broken += share[j]! * brokenOf(Math.sqrt(limits[j - 1]! * limits[j]!), constants.brokenLayer);
  return {
    d10_um: d10,
    d50_um: d50,
    d90_um: d90,
    span: d10 !== null && d50 !== null && d90 !== null ? (d90 - d10) / d50 : null,
    d43_um: closed ? d43.high / MICROMETRE : null,
    d32_um: closed ? d32.high / MICROMETRE : null,
    fines_pct: fines === null ? null : 100 * fines,
    surface_m2_kg: closed ? 6 / (constants.density * d32.high) : null,
    broken_pct: closed ? 100 * broken : null,
  };
}

/** Bounds of the means when a class is open, with what is assumed of it [µm]. */
export interface OpenBounds {
  d43_um: Bounds;
  d32_um: Bounds;
  finest_um: number;
  coarsest_um: number;
}

/** Lowest and highest D[4,3] and D[3,2] that the classes allow. */
export function openBounds(binned: Binned): OpenBounds {
  const coarsest = COARSEST_FACTOR * binned.limits[binned.limits.length - 1]!;
  const { d43, d32 } = binnedMeans(binned, FINEST, coarsest);
  const um = ({ low, high }: Bounds): Bounds => ({ low: low / MICROMETRE, high: high / MICROMETRE });
  return {
    d43_um: um(d43),
    d32_um: um(d32),
    finest_um: FINEST / MICROMETRE,
    coarsest_um: coarsest / MICROMETRE,
  };
}

/** Figures of a table of sizes, as a mix has them: percentiles interpolated over ln d between its rows. */
export function tableFigures(
  table: SizeTable,
  finesLimit: number,
  constants: GrainConstants = grainConstants(),
): SizeFigures {
  const at = (share: number) => tableQuantile(table, share) / MICROMETRE;
  const [d10, d50, d90] = [at(0.1), at(0.5), at(0.9)];
  const sum = (of: (d: number) => number) =>
    table.share.reduce((total, x, k) => total + x * of(table.diameter[k]!), 0);
  const d32 = 1 / sum((d) => 1 / d);
  return {
    d10_um: d10,
    d50_um: d50,
    d90_um: d90,
    span: (d90 - d10) / d50,
    d43_um: sum((d) => d) / MICROMETRE,
    d32_um: d32 / MICROMETRE,
    fines_pct: 100 * sum((d) => (d < finesLimit ? 1 : 0)),
    surface_m2_kg: 6 / (constants.density * d32),
    broken_pct: 100 * brokenShare(table, constants.brokenLayer),
  };
}

/** Diameter [m] that a share of a table is smaller than; each row's mass is taken to straddle its size. */
export function tableQuantile({ diameter, share }: SizeTable, at: number): number {
  let below = 0;
  let place = 0.5 * share[0]!;
  if (at <= place) return diameter[0]!;
  for (let k = 1; k < diameter.length; k++) {
    below += share[k - 1]!;
    const next = below + 0.5 * share[k]!;
    if (at <= next) {
      const part = (at - place) / (next - place);
      return diameter[k - 1]! * (diameter[k]! / diameter[k - 1]!) ** part;
    }
    place = next;
  }
  return diameter[diameter.length - 1]!;
}
