import type { Distribution, Sizing, SizingData } from '../documents/index.ts';
import { MICROMETRE } from '../units/index.ts';
import { type Binned, binnedUndersize, undersizes } from './binned.ts';
import {
  type BootstrapOptions,
  bootstrap,
  type FigureBands,
  type GrindProgress,
  sortedQuantile,
} from './bootstrap.ts';
import { type RankedFit, rankModels, takenFit } from './choose-model.ts';
import {
  binnedFigures,
  FINEST,
  modelFigures,
  type OpenBounds,
  openBounds,
  type SizeFigures,
} from './figures.ts';
import type { ModelName } from './fit.ts';
import {
  distributionOf,
  logDensity,
  type SizeModel,
  sizeQuantile,
  undersize,
  withSharesOfOne,
} from './model.ts';
import { figureOf, type GrindRemark, grindRemark } from './remarks.ts';
import { readSizes, type SizeData } from './size-data.ts';

/** A model's parameters as people read them. */
export type ModelParameters =
  | { family: 'log_normal'; modes: readonly { share: number; median_um: number; gsd: number }[] }
  | { family: 'weibull'; scale_um: number; shape: number };

/** One fitted model among those tried. */
export interface FitSummary {
  name: ModelName;
  parameters: ModelParameters;
  model: SizeModel;
  aicc: number;
  bic: number;
  /** Akaike weight, 0–1. */
  weight: number;
  /** Largest miss of the cumulative curve at a measured size, in % of the mass, and where. */
  miss_pct: number;
  miss_um: number;
  converged: boolean;
  figures: SizeFigures;
}

/** A curve on sizes that rise evenly in ln d, for drawing. All arrays have one length. */
export interface SizeCurve {
  size_um: Float64Array;
  /** Mass that is finer, %. */
  undersize_pct: Float64Array;
  /** 5 % and 95 % of it over the bootstrap. */
  low_pct: Float64Array;
  high_pct: Float64Array;
  /** Mass per decade of size, %. */
  density_pct: Float64Array;
}

/** All that follows from one measurement. */
export interface SizeAnalysis {
  by: SizingData['by'];
  /** As measured: the limits of the classes and the mass below each; mass below the first and above the last is open. */
  measured: {
    size_um: Float64Array;
    undersize_pct: Float64Array;
    figures: SizeFigures;
    bands: FigureBands;
    /** What the means can be when a class is open; null when none is. */
    open: OpenBounds | null;
    /** As a setting of a grinder keeps it. */
    distribution: Distribution;
  };
  /** Best first. */
  fits: readonly FitSummary[];
  /** The fit that is taken; null when nothing could be fitted. */
  fitted: {
    name: ModelName;
    parameters: ModelParameters;
    model: SizeModel;
    figures: SizeFigures;
    bands: FigureBands;
    curve: SizeCurve;
    distribution: Distribution;
  } | null;
  fines_limit_um: number;
  /** Independent grains the measurement is worth. */
  effective_grains: number;
  draws: number;
}

export interface AnalyseOptions {
  model?: ModelName | 'best';
  fines_limit_um?: number;
  /** Draws of the bootstrap; 200 by default. */
  draws?: number;
  seed?: number;
  /** Return false to stop. */
  progress?: GrindProgress;
}

/** What {@link analyseSizes} gives: `analysis` is null when nothing can be made of the data, or when it was stopped. */
export interface Analysed {
  analysis: SizeAnalysis | null;
  remarks: GrindRemark[];
}

/** Analyses a measurement with the model and the limit of fines that its document asks for. */
export const analyseSizing = (sizing: Sizing, options: AnalyseOptions = {}): Analysed =>
  analyseSizes(sizing.data, { model: sizing.model, fines_limit_um: sizing.fines_limit_um, ...options });

/** Reads, fits and bootstraps raw data that have passed their schema. Same data, same seed: same bits. Never throws for them. */
export function analyseSizes(raw: SizingData, options: AnalyseOptions = {}): Analysed {
  const { data, remarks } = readSizes(raw);
  if (!data) return { analysis: null, remarks };
  const { model = 'best', fines_limit_um = 100 } = options;
  const finesLimit = fines_limit_um * MICROMETRE;
  const ranked = rankModels(data);
  const taken = takenFit(ranked, model);
  remarks.push(...fitRemarks(data, ranked, taken, model));
  const drawn = bootstrap(data, taken ?? null, bootstrapOptions(options, finesLimit));
  if (!drawn) return { analysis: null, remarks };
  const { binned } = data;
  const J = binned.limits.length;
  const open = binned.share[0]! > 1e-6 || binned.share[J]! > 1e-6;
  const analysis: SizeAnalysis = {
    by: data.by,
    measured: {
      size_um: binned.limits.map((x) => x / MICROMETRE),
      undersize_pct: undersizes(binned).map((x) => 100 * x),
      figures: binnedFigures(binned, finesLimit),
      bands: drawn.measured,
      open: open ? openBounds(binned) : null,
      distribution: measuredDistribution(binned, taken?.model ?? null),
    },
    fits: ranked.map((fit) => summaryOf(fit, finesLimit)),
    fitted: taken
      ? {
          name: taken.name,
          parameters: parametersShown(taken.model),
          model: taken.model,
          figures: modelFigures(taken.model, finesLimit),
          bands: drawn.fitted!,
          curve: curveOf(
            taken.model,
            drawn.models.map((fit) => fit.model),
          ),
          distribution: distributionOf(taken.model),
        }
      : null,
    fines_limit_um,
    effective_grains: data.effective,
    draws: drawn.draws,
  };
  return { analysis, remarks };
}

function bootstrapOptions({ draws, seed, progress }: AnalyseOptions, finesLimit: number): BootstrapOptions {
  return {
    finesLimit,
    ...(draws === undefined ? {} : { draws }),
    ...(seed === undefined ? {} : { seed }),
    ...(progress === undefined ? {} : { progress }),
  };
}

/** Parameters of a model in the units people read. */
export function parametersShown(model: SizeModel): ModelParameters {
  if (model.family === 'weibull')
    return { family: 'weibull', scale_um: model.scale / MICROMETRE, shape: model.shape };
  return {
    family: 'log_normal',
    modes: model.modes.map(({ share, median, gsd }) => ({ share, median_um: median / MICROMETRE, gsd })),
  };
}

const summaryOf = (fit: RankedFit, finesLimit: number): FitSummary => ({
  name: fit.name,
  parameters: parametersShown(fit.model),
  model: fit.model,
  aicc: fit.aicc,
  bic: fit.bic,
  weight: fit.weight,
  miss_pct: 100 * fit.miss,
  miss_um: fit.missAt / MICROMETRE,
  converged: fit.converged,
  figures: modelFigures(fit.model, finesLimit),
});

/** Miss of the cumulative curve that is worth a caution [share]. */
const POOR = 0.02;

function fitRemarks(
  data: SizeData,
  ranked: readonly RankedFit[],
  taken: RankedFit | undefined,
  asked: ModelName | 'best',
): GrindRemark[] {
  if (!taken) return [grindRemark('caution', 'no_fit')];
  const remarks: GrindRemark[] = [];
  const finest = data.binned.limits[0]! / MICROMETRE;
  if (asked !== 'best' && taken.name !== asked)
    remarks.push(grindRemark('caution', 'model_too_rich', {}, { model: asked, taken: taken.name }));
  if (!taken.converged) remarks.push(grindRemark('note', 'model_not_settled', {}, { model: taken.name }));
  if (taken.miss > POOR)
    remarks.push(
      grindRemark('caution', 'poor_fit', {
        miss: figureOf(100 * taken.miss, 2),
        size: figureOf(taken.missAt / MICROMETRE),
      }),
    );
  const [first, second] = ranked;
  if (first && second && second.weight > 0.2)
    remarks.push(
      grindRemark(
        'note',
        'models_alike',
        { weight: Math.round(100 * first.weight), other: Math.round(100 * second.weight) },
        { first: first.name, second: second.name },
      ),
    );
  const { model } = taken;
  if (model.family === 'weibull') {
    if (model.shape <= 1)
      remarks.push(grindRemark('caution', 'surface_unbounded', { shape: figureOf(model.shape) }));
  } else if (data.binned.share[0]! > 1e-3 && model.modes[0]!.median / MICROMETRE < finest)
    remarks.push(grindRemark('caution', 'fines_guessed', { size: figureOf(finest) }));
  return remarks;
}

/** Points of a drawn curve. */
const POINTS = 161;

/** Cumulative and density curve of a model, with the spread of the models of a bootstrap. */
export function curveOf(model: SizeModel, drawn: readonly SizeModel[] = []): SizeCurve {
  const low = Math.log(Math.max(sizeQuantile(model, 5e-4), MICROMETRE));
  const high = Math.log(sizeQuantile(model, 1 - 5e-4));
  const sizes = Float64Array.from({ length: POINTS }, (_, k) =>
    Math.exp(low + ((high - low) * k) / (POINTS - 1)),
  );
  const spread = Array.from(sizes, (d) => Float64Array.from(drawn, (one) => 100 * undersize(one, d)).sort());
  const below = sizes.map((d) => 100 * undersize(model, d));
  const band = (at: number) => below.map((x, k) => (drawn.length > 0 ? sortedQuantile(spread[k]!, at) : x));
  return {
    size_um: sizes.map((d) => d / MICROMETRE),
    undersize_pct: below,
    low_pct: band(0.05),
    high_pct: band(0.95),
    density_pct: sizes.map((d) => 100 * Math.LN10 * logDensity(model, d)),
  };
}

/** Most rows of {@link measuredDistribution}. */
const ROWS = 120;

/**
 * Classes as a setting of a grinder keeps them. An open class is given the size that its surface would have by the model, or the
 * middle between its limit and what is assumed beyond it.
 */
export function measuredDistribution(binned: Binned, model: SizeModel | null): Distribution {
  const { limits, share } = merged(binned);
  const J = limits.length;
  const middle = (low: number, high: number) => {
    if (model === null) return Math.sqrt(low * high);
    const mass = undersize(model, high) - undersize(model, low);
    if (!(mass > 1e-9)) return Math.sqrt(low * high);
    let surface = 0;
    const steps = 40;
    for (let k = 0; k < steps; k++) {
      const a = low * (high / low) ** (k / steps);
      const b = low * (high / low) ** ((k + 1) / steps);
      surface += (undersize(model, b) - undersize(model, a)) / Math.sqrt(a * b);
    }
    return mass / surface;
  };
  const rows = Array.from({ length: J + 1 }, (_, j) => ({
    diameter_um: Number(
      (
        (j === 0
          ? middle(Math.min(FINEST, limits[0]! / 2), limits[0]!)
          : j === J
            ? middle(limits[J - 1]!, 2 * limits[J - 1]!)
            : Math.sqrt(limits[j - 1]! * limits[j]!)) / MICROMETRE
      ).toPrecision(6),
    ),
    share: share[j]!,
  })).filter((row) => row.share > 0);
  return { by: 'classes', classes: withSharesOfOne(rows) };
}

/** Classes joined until there are few enough for a document. */
function merged(binned: Binned): Binned {
  const J = binned.limits.length;
  if (J < ROWS) return binned;
  const every = Math.ceil(J / (ROWS - 1));
  const kept = Array.from(binned.limits.keys()).filter((j) => j % every === 0 || j === J - 1);
  const below = undersizes(binned);
  const share = kept.map((j, i) => below[j]! - (i === 0 ? 0 : below[kept[i - 1]!]!));
  return {
    limits: Float64Array.from(kept, (j) => binned.limits[j]!),
    share: Float64Array.from([...share, binned.share[J]!]),
  };
}

/** Share of the mass of a measurement below a size [µm], %; null inside an open class. */
export function measuredUndersize(binned: Binned, size_um: number): number | null {
  const found = binnedUndersize(binned, size_um * MICROMETRE);
  return found === null ? null : 100 * found;
}
