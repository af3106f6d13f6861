import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { USUAL_VOLUME, type VolumeModel } from './options.ts';
import { remark } from './remarks.ts';
import type { PhotoBand, PhotoGrain, PhotoMeasurement, PhotoRemark, PhotoSummary } from './result.ts';
import { fitTail, type SizedGrains, tailedQuantile, tailMoment } from './tail.ts';

/** One photograph of the grounds, and the grains of it that a person took out, by id. */
export interface SummarisedPhoto {
  measurement: PhotoMeasurement;
  erased?: ReadonlySet<number>;
}

/** How a summary is made. */
export interface SummaryOptions {
  volume?: VolumeModel;
  /** Resamplings; 300 when left out. */
  runs?: number;
  seed?: number;
}

const RUNS = 300;
const SEED = 20_250_101;
/**
 * Share of resamplings beyond each end of a band of 90 %: percentiles of so skewed figures cover one to three points less than
 * they say. Figures that hang on the tail have their upper end at a share of its own, because resamplings of a sample that lacks
 * large grains lack them too. Both are measured on drawn samples of 200 to 1500 grains: with them some 4 % of samples lie
 * beyond each end of each figure, and at 200 grains no end is missed by more than 9 % (see bands.slow.test.ts).
 */
const BEYOND = 0.045;
const BEYOND_TAIL = 0.005;
/** Fewer grains give no figures. */
const LEAST_GRAINS = 5;
/**
 * Doubt of where an edge lies: a part of a pixel, and of the blur. Measured as the root mean square by which D10 of drawn
 * photographs with known grains comes out wrong; edges of real grains on real paper may lie worse.
 */
const EDGE_DOUBT_px = 0.05;
const EDGE_DOUBT_BLUR = 0.05;
/** Steps of classes in a decade of size. */
const CLASSES_PER_DECADE = 20;

/** A summary of one measurement; null without a scale or with fewer than five grains. */
export const summarisePhoto = (
  measurement: PhotoMeasurement,
  { erased, ...options }: SummaryOptions & Pick<SummarisedPhoto, 'erased'> = {},
): PhotoSummary | null => summarisePhotos([erased ? { measurement, erased } : { measurement }], options);

/**
 * What the accepted grains of one or more photographs of the same grounds say. Sizes are diameters of circles of the same
 * area; each grain counts with its volume and with what it stands for at the border. Bands hold, with 90 % probability, the
 * figure of the grounds the grains were taken from: grains are drawn again from those found, the few largest are
 * continued as a tail (see tail.ts), and the doubts of scale and edge are added. A band always holds its own value.
 * Quick enough to follow a finger.
 */
export function summarisePhotos(
  photos: readonly SummarisedPhoto[],
  options: SummaryOptions = {},
): PhotoSummary | null {
  const taken = photos.filter(({ measurement }) => measurement.plane !== null);
  const scaled = taken.map(({ measurement }) => measurement);
  const grains = taken.flatMap(({ measurement, erased }) =>
    measurement.grains.filter((g) => g.left_out === null && !erased?.has(g.id)),
  );
  if (grains.length < LEAST_GRAINS) return null;
  const model = options.volume ?? USUAL_VOLUME;
  const rows = volumeRows(grains, model);
  const values = figuresOf(rows.logs, rows.volumes);
  const runs = resample(rows, doubtsOf(scaled), options.runs ?? RUNS, options.seed ?? SEED);
  const total = rows.volumes.reduce((a, b) => a + b, 0);
  const shareOf = (pick: (g: PhotoGrain) => boolean) =>
    rows.grains.reduce((sum, g, k) => sum + (pick(g) ? rows.volumes[k]! : 0), 0) / total;
  const largest = rows.volumes.reduce((best, v, k) => (v > rows.volumes[best]! ? k : best), 0);
  const summary = {
    grains: grains.length,
    d10_um: bandOf(values[0]!, runs[0]!),
    d50_um: bandOf(values[1]!, runs[1]!),
    d90_um: bandOf(values[2]!, runs[2]!, BEYOND_TAIL),
    span: bandOf(values[3]!, runs[3]!, BEYOND_TAIL),
    d32_um: bandOf(values[4]!, runs[4]!),
    d43_um: bandOf(values[5]!, runs[5]!, BEYOND_TAIL),
    number_median_um: Math.exp(weightedQuantile(rows.logs, rows.numbers, 0.5)),
    width_over_length: medianByArea(rows.grains, (g) => g.width_um / g.length_um),
    solidity: medianByArea(rows.grains, (g) => g.solidity),
    largest_share: rows.volumes[largest]! / total,
    small_share: shareOf((g) => g.small),
    small_number_share: grains.filter((g) => g.small).length / grains.length,
    parted_share: shareOf((g) => g.parted > 1),
    sphere_over_shadow: sphereOverShadow(grains, model),
    classes: classesOf(rows.logs, rows.volumes),
  };
  const smallest_px = Math.max(...scaled.map((m) => m.smallest_px));
  return { ...summary, remarks: summaryRemarks(summary, rows.grains[largest]!.id, smallest_px) };
}

interface Rows extends SizedGrains {
  grains: PhotoGrain[];
  /** Volume times what the grain stands for. */
  volumes: Float64Array;
}

/** Grains by rising size with their volumes, in a unit that cancels. */
function volumeRows(grains: readonly PhotoGrain[], { by }: VolumeModel): Rows {
  const sorted = [...grains].sort((a, b) => a.diameter_um - b.diameter_um);
  const logs = Float64Array.from(sorted, (g) => Math.log(g.diameter_um));
  const numbers = Float64Array.from(sorted, (g) => g.weight);
  const shapes = Float64Array.from(sorted, (g) =>
    by === 'sphere' ? 1 : (g.length_um * g.width_um ** 2) / g.diameter_um ** 3,
  );
  const volumes = logs.map((x, k) => numbers[k]! * shapes[k]! * Math.exp(3 * x));
  return { grains: sorted, logs, numbers, shapes, volumes };
}

/** Quantile of sorted values: the weight up to the middle of each value, straight lines between. */
export function weightedQuantile(sorted: ArrayLike<number>, weights: ArrayLike<number>, at: number): number {
  let total = 0;
  for (let k = 0; k < weights.length; k++) total += weights[k]!;
  let before = 0;
  let last = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < weights.length; k++) {
    const middle = (before + weights[k]! / 2) / total;
    if (middle >= at) {
      if (k === 0) return sorted[0]!;
      return sorted[k - 1]! + ((at - last) / (middle - last)) * (sorted[k]! - sorted[k - 1]!);
    }
    last = middle;
    before += weights[k]!;
  }
  return sorted[weights.length - 1]!;
}

/** D10, D50, D90, span, D[3,2], D[4,3] of grains [µm], from ln sizes and volumes. */
function figuresOf(logs: Float64Array, volumes: Float64Array): number[] {
  const [d10, d50, d90] = [0.1, 0.5, 0.9].map((at) => Math.exp(weightedQuantile(logs, volumes, at))) as [
    number,
    number,
    number,
  ];
  let volume = 0;
  let perSize = 0;
  let timesSize = 0;
  for (let k = 0; k < logs.length; k++) {
    const d = Math.exp(logs[k]!);
    volume += volumes[k]!;
    perSize += volumes[k]! / d;
    timesSize += volumes[k]! * d;
  }
  return [d10, d50, d90, (d90 - d10) / d50, volume / perSize, timesSize / volume];
}

/** Doubts of sizes: relative, and by the edge [µm]. */
function doubtsOf(measurements: readonly PhotoMeasurement[]): { scale: number; edge_um: number } {
  const n = measurements.length;
  const mean = (pick: (m: PhotoMeasurement) => number) =>
    measurements.reduce((sum, m) => sum + pick(m), 0) / n;
  return {
    scale: mean((m) => m.plane?.doubt ?? 0),
    edge_um: mean((m) => 2 * (m.plane?.um_per_px ?? 0) * (EDGE_DOUBT_px + EDGE_DOUBT_BLUR * m.blur_px)),
  };
}

/** Figures of resampled grounds: six lists, in the order of {@link figuresOf}. */
function resample(
  rows: Rows,
  doubts: { scale: number; edge_um: number },
  runs: number,
  seed: number,
): number[][] {
  const random = xoroshiro128plus(seed);
  const uniform = (): number => uniformFloat64(random);
  const n = rows.logs.length;
  const times = new Float64Array(n);
  const lists: number[][] = [[], [], [], [], [], []];
  for (let run = 0; run < runs; run++) {
    times.fill(0);
    for (let k = 0; k < n; k++) times[Math.floor(n * uniform())]!++;
    const stretch = Math.exp(doubts.scale * normal(uniform));
    const shift = doubts.edge_um * normal(uniform);
    const sizes = tailedSizes(rows, times);
    if (!sizes) continue;
    const [d10, d50, d90, d32, d43] = sizes.map((d) => Math.max(1e-3, d * stretch + shift)) as [
      number,
      number,
      number,
      number,
      number,
    ];
    [d10, d50, d90, (d90 - d10) / d50, d32, d43].forEach((v, k) => {
      lists[k]!.push(v);
    });
  }
  return lists;
}

/** D10, D50, D90, D[3,2], D[4,3] of grounds continued above the largest grains [µm]. */
function tailedSizes(rows: Rows, times: Float64Array): number[] | null {
  const tail = fitTail(rows, times);
  if (!tail) return null;
  let perSize = 0;
  let timesSize = 0;
  for (let k = 0; k < tail.count; k++) {
    const d = Math.exp(rows.logs[k]!);
    perSize += (times[k]! * rows.volumes[k]!) / d;
    timesSize += times[k]! * rows.volumes[k]! * d;
  }
  perSize += tailMoment(tail, 2, tail.begins);
  timesSize += tailMoment(tail, 4, tail.begins);
  return [
    ...[0.1, 0.5, 0.9].map((at) => Math.exp(tailedQuantile(tail, rows.logs, at))),
    tail.total / perSize,
    timesSize / tail.total,
  ];
}

/** A standard normal number (Box & Muller 1958). */
function normal(uniform: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

function bandOf(value: number, runs: number[], above = BEYOND): PhotoBand {
  const sorted = runs.sort((a, b) => a - b);
  const at = (share: number): number => sorted[Math.round(share * (sorted.length - 1))] ?? value;
  return { value, low: Math.min(value, at(BEYOND)), high: Math.max(value, at(1 - above)) };
}

function medianByArea(grains: readonly PhotoGrain[], pick: (g: PhotoGrain) => number): number {
  const sorted = grains
    .map((g) => ({ value: pick(g), weight: g.weight * g.diameter_um ** 2 }))
    .sort((a, b) => a.value - b.value);
  return weightedQuantile(
    sorted.map((s) => s.value),
    sorted.map((s) => s.weight),
    0.5,
  );
}

/**
 * Sphere of the same volume over circle of the same area, for a grain length × width × (flatness · width): (flatness ·
 * √(width/length))^⅓.
 */
function sphereOverShadow(
  grains: readonly PhotoGrain[],
  { flatness }: VolumeModel,
): { low: number; high: number } {
  const slender = Math.sqrt(medianByArea(grains, (g) => g.width_um / g.length_um));
  return { low: (flatness.low * slender) ** (1 / 3), high: (flatness.high * slender) ** (1 / 3) };
}

/** Shares of volume in even steps of ln size, empty classes left out. */
function classesOf(logs: Float64Array, volumes: Float64Array): { diameter_um: number; share: number }[] {
  const step = Math.LN10 / CLASSES_PER_DECADE;
  const total = volumes.reduce((a, b) => a + b, 0);
  const shares = new Map<number, number>();
  for (let k = 0; k < logs.length; k++) {
    const bin = Math.floor(logs[k]! / step);
    shares.set(bin, (shares.get(bin) ?? 0) + volumes[k]! / total);
  }
  return [...shares]
    .sort((a, b) => a[0] - b[0])
    .map(([bin, share]) => ({ diameter_um: Math.exp((bin + 0.5) * step), share }));
}

function summaryRemarks(
  s: Omit<PhotoSummary, 'remarks'>,
  largest: number,
  smallest_px: number,
): PhotoRemark[] {
  const remarks: PhotoRemark[] = [];
  const percent = (share: number): number => Math.round(100 * share);
  if (s.largest_share > 0.05)
    remarks.push(remark('one_carries', { id: largest, percent: percent(s.largest_share) }));
  if (s.grains < 200) remarks.push(remark('few_grains', { count: s.grains }));
  if (s.small_share > 0.02 || s.small_number_share > 0.2)
    remarks.push(
      remark('small_grains', {
        percent: percent(s.small_share),
        number: percent(s.small_number_share),
        limit: smallest_px,
      }),
    );
  if (s.parted_share > 0.3) remarks.push(remark('many_touching', { percent: percent(s.parted_share) }));
  remarks.push(
    remark('volume_assumed', {
      low: (1 / s.sphere_over_shadow.high).toFixed(2),
      high: (1 / s.sphere_over_shadow.low).toFixed(2),
    }),
  );
  return remarks;
}
