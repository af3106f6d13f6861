import type { Distribution, Sizing, SizingData } from '../documents/index.ts';
import { MICROMETRE } from '../units/index.ts';
import { undersizes } from './binned.ts';
import {
  type BootstrapOptions,
  bootstrap,
  type FigureBands,
  type GrindProgress,
  sortedQuantile,
} from './bootstrap.ts';
import { type RankedFit, rankModels, takenFit } from './choose-model.ts';
import { binnedFigures, modelFigures, type OpenBounds, openBounds, type SizeFigures } from './figures.ts';
import type { ModelName } from './fit.ts';
import { fitRemarks } from './fit-remarks.ts';
import { measuredDistribution } from './measured-distribution.ts';
import { distributionOf, logDensity, type SizeModel, sizeQuantile, undersize } from './model.ts';
import type { GrindRemark } from './remarks.ts';
import { readSizes } from './size-data.ts';

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
