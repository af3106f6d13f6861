import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { type Binned, type Bounds, binnedQuantile, undersizes } from './binned.ts';
import type { RankedFit } from './choose-model.ts';
import { binnedFigures, FIGURE_NAMES, type FigureName, modelFigures, type SizeFigures } from './figures.ts';
import { type Fitted, fitModel } from './fit.ts';
import { binGrains } from './grains.ts';
import { type SizeModel, undersize } from './model.ts';
import type { SizeData } from './size-data.ts';
import { normalQuantile } from './special.ts';

/** Progress of long work: called with 0–1; return false to stop. */
export type GrindProgress = (done: number) => boolean;

export interface BootstrapOptions {
  /** How often the measurement is made again; 200 by default. */
  draws?: number;
  seed?: number;
  finesLimit: number;
  progress?: GrindProgress;
}

/** 5 % and 95 % of every figure over the draws; null where too few draws had it. */
export type FigureBands = Record<FigureName, Bounds | null>;

export interface Bootstrap {
  draws: number;
  measured: FigureBands;
  fitted: FigureBands | null;
  /** Fitted models of all draws, for bands of a curve. */
  models: readonly Fitted[];
}

const SEED = 20_260_401;

/** A source of standard normal and uniform numbers that gives the same ones for the same seed. */
export interface Random {
  uniform: () => number;
  normal: () => number;
}

export function randomOf(seed: number): Random {
  const generator = xoroshiro128plus(seed);
  const uniform = () => Math.min(1 - 1e-16, Math.max(1e-16, uniformFloat64(generator)));
  return { uniform, normal: () => normalQuantile(uniform()) };
}

/**
 * Makes the measurement again and again as its own errors would have it, and fits each: grains of a photograph are drawn anew with
 * replacement; shares in classes scatter like counts of `effective` grains; sieve openings and the scale stray by their
 * uncertainties. A model that misses more than that gets wider bands, and every band of a model holds that of what was measured; doubt about its kind beyond the measured sizes is not in them. Returns null when `progress` said stop.
 */
export function bootstrap(
  data: SizeData,
  fitted: RankedFit | null,
  { draws = 200, seed = SEED, finesLimit, progress }: BootstrapOptions,
): Bootstrap | null {
  const random = randomOf(seed);
  const measured: SizeFigures[] = [];
  const models: Fitted[] = [];
  const figures: SizeFigures[] = [];
  // What the model misses beyond the scatter of the data is taken as scatter too: its bands must not be narrower than it is wrong.
  const loose =
    fitted && !data.grains && fitted.excess > 1
      ? { ...data, effective: data.effective / fitted.excess }
      : null;
  for (let k = 0; k < draws; k++) {
    const again = measureAgain(data, random);
    measured.push(binnedFigures(again, finesLimit));
    const strayed = loose ? measureAgain(loose, random) : null;
    const fit = fitted && fitModel(strayed ?? again, fitted.name, { start: fitted.model });
    if (fit) {
      models.push(fit);
      figures.push(modelFigures(fit.model, finesLimit));
    }
    if (progress && !progress((k + 1) / draws)) return null;
  }
  const plain = bandsOf(measured);
  const measuredBands = fitted ? withInterpolation(plain, data.binned, fitted.model) : plain;
  return {
    draws,
    measured: measuredBands,
    fitted: fitted && joined(bandsOf(figures), measuredBands),
    models,
  };
}

/** One more measurement of the same sample. */
export function measureAgain(data: SizeData, random: Random): Binned {
  const scale = Math.exp(data.scaleDoubt * random.normal());
  if (data.grains) {
    const { diameter, weight } = data.grains;
    const drawn = Array.from(diameter, () => Math.floor(random.uniform() * diameter.length));
    return binGrains({
      diameter: Float64Array.from(drawn, (i) => scale * diameter[i]!),
      weight: Float64Array.from(drawn, (i) => weight[i]!),
    });
  }
  const { limits, share } = data.binned;
  const strayed = limits.map((x, j) => scale * x * Math.exp(data.limitDoubt[j]! * random.normal()));
  // Openings that overtake each other would be a measurement nobody keeps.
  for (let j = 1; j < strayed.length; j++) strayed[j] = Math.max(strayed[j]!, 1.0001 * strayed[j - 1]!);
  const scattered = share.map((w) => scatter(w, data.effective, random));
  const total = scattered.reduce((sum, x) => sum + x, 0);
  return { limits: strayed, share: scattered.map((x) => x / total) };
}

/** A share that scatters like a count of n·w, kept positive: a gamma variable by Wilson and Hilferty's cube (from memory). */
function scatter(w: number, n: number, random: Random): number {
  const z = random.normal();
  if (!(w > 0)) return 0;
  const k = n * w;
  const cube = Math.max(0, 1 - 1 / (9 * k) + z / (3 * Math.sqrt(k)));
  return (k * cube ** 3) / n;
}

/**
 * Between two limits nobody knows how the curve runs. Bands of percentiles also hold what the fitted model says inside the class, its
 * mass kept as measured: the wider the classes, the farther that is from a straight line.
 */
function withInterpolation(bands: FigureBands, binned: Binned, model: SizeModel): FigureBands {
  const percentile = (name: 'd10_um' | 'd50_um' | 'd90_um', at: number): Bounds | null => {
    const band = bands[name];
    const straight = binnedQuantile(binned, at);
    const bent = quantileInside(binned, at, model);
    if (!band || straight === null || bent === null) return band;
    const ratio = bent / straight;
    return { low: band.low * Math.min(1, ratio), high: band.high * Math.max(1, ratio) };
  };
  return {
    ...bands,
    d10_um: percentile('d10_um', 0.1),
    d50_um: percentile('d50_um', 0.5),
    d90_um: percentile('d90_um', 0.9),
  };
}

/** Diameter [m] that a share is smaller than, with the class masses as measured and the model's shape inside the class. */
function quantileInside(binned: Binned, at: number, model: SizeModel): number | null {
  const { limits, share } = binned;
  const below = undersizes(binned);
  const j = below.findIndex((q) => q >= at);
  if (j < 1) return null;
  let [low, high] = [limits[j - 1]!, limits[j]!];
  const start = undersize(model, low);
  const mass = undersize(model, high) - start;
  if (!(mass > 1e-9)) return null;
  const wanted = start + (mass * (at - below[j - 1]!)) / share[j]!;
  for (let i = 0; i < 50; i++) {
    const middle = Math.sqrt(low * high);
    if (undersize(model, middle) < wanted) low = middle;
    else high = middle;
  }
  return Math.sqrt(low * high);
}

/** Bands of a model that left out those of what was measured would be narrower than the model is wrong: they hold both. */
function joined(fitted: FigureBands, measured: FigureBands): FigureBands {
  const both = (name: FigureName): Bounds | null => {
    const [a, b] = [fitted[name], measured[name]];
    return a && b ? { low: Math.min(a.low, b.low), high: Math.max(a.high, b.high) } : a;
  };
  return Object.fromEntries(FIGURE_NAMES.map((name) => [name, both(name)])) as FigureBands;
}

function bandsOf(all: readonly SizeFigures[]): FigureBands {
  const band = (name: FigureName): Bounds | null => {
    const values = all
      .map((figures) => figures[name])
      .filter((x) => x !== null)
      .sort((a, b) => a - b);
    if (values.length < 0.9 * all.length || values.length < 10) return null;
    return { low: sortedQuantile(values, 0.05), high: sortedQuantile(values, 0.95) };
  };
  return Object.fromEntries(FIGURE_NAMES.map((name) => [name, band(name)])) as FigureBands;
}

/** Quantile by linear interpolation of order statistics (type 7). */
export function sortedQuantile(sorted: ArrayLike<number>, at: number): number {
  if (sorted.length === 0) return Number.NaN;
  const x = at * (sorted.length - 1);
  const k = Math.floor(x);
  const next = sorted[Math.min(k + 1, sorted.length - 1)]!;
  return sorted[k]! + (x - k) * (next - sorted[k]!);
}
