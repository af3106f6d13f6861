import type { SizeTable } from '../grind/index.ts';

/** Modes of a sphere that are kept one by one before they are gathered into bins. */
const MODES = 40;
/** Relaxation faster than this over the largest diffusivity counts as this fast [1/m²]: far below any step. */
const FASTEST = 2e10;
/** Mass share of the largest grains whose own slowness is not resolved. */
const TAIL = 0.005;

/**
 * How grains of all sizes give off a solute, as a few first-order pools. Pool 0 is the broken outer layer of all grains,
 * pools 1…B hold the intact cores by rate.
 */
export interface Spectrum {
  /** Rate over diffusivity [1/m²], [pool]; unused for pool 0. */
  rate: Float64Array;
  /** Share of the stock in each pool; sums to 1, [pool]. */
  share: Float64Array;
  /** Share of each size class in each pool; sums to 1 over classes, [class][pool]. */
  classPart: Float64Array;
}

/**
 * A sphere whose surface content follows the liquid takes up or gives off mass exactly like parallel first-order pools
 * of weight 6/(π²n²) and rate D n²π²/R² (Crank, The Mathematics of Diffusion, eq. 6.20, from memory). What the first
 * {@link MODES} leave out is one more, with the rate that keeps Σ weight/rate = R²/(15 D).
 *
 * All grains of a bed cell see the same liquid, so their pools may be gathered by rate: bins lie evenly on the logarithm
 * of the rate, and a pool between two bins is shared linearly on that scale: what is released in a time is an S-curve over
 * log rate, so the errors of its two bends cancel. Pools of a bin empty alike, so what a bin gives belongs to the size classes in the shares they have of it.
 *
 * @param classes size tables whose shares sum to 1 together
 * @param brokenLayer thickness of the broken outer layer [m]; all of a grain that is no larger is broken
 */
export function spectrumOf(classes: readonly SizeTable[], brokenLayer: number, bins: number): Spectrum {
  const pools = bins + 1;
  const rate = new Float64Array(pools);
  const share = new Float64Array(pools);
  const classPart = new Float64Array(classes.length * pools);
  binRates(classes, brokenLayer, bins, rate);
  const put = (j: number, pool: number, weight: number) => {
    share[pool]! += weight;
    classPart[j * pools + pool]! += weight;
  };
  classes.forEach((table, j) => {
    for (let k = 0; k < table.diameter.length; k++) {
      const mass = table.share[k]!;
      const r = table.diameter[k]! / 2;
      const core = Math.max(0, r - brokenLayer);
      const whole = (core / r) ** 3;
      put(j, 0, mass * (1 - whole));
      if (core > 0) spread(mass * whole, core, rate, (pool, weight) => put(j, pool, weight));
    }
  });
  for (let pool = 0; pool < pools; pool++)
    for (let j = 0; j < classes.length; j++)
      if (share[pool]! > 0) classPart[j * pools + pool]! /= share[pool]!;
  return { rate, share, classPart };
}

/** Lays the modes of one core of radius `core` [m] and weight `weight` onto the bins. */
function spread(
  weight: number,
  core: number,
  rate: Float64Array,
  put: (pool: number, weight: number) => void,
): void {
  let restWeight = 1;
  let restTime = 1 / 15;
  for (let n = 1; n <= MODES; n++) {
    const own = 6 / (Math.PI * Math.PI * n * n);
    const speed = Math.PI * Math.PI * n * n;
    restWeight -= own;
    restTime -= own / speed;
    share(weight * own, speed / (core * core), rate, put);
  }
  share(weight * restWeight, restWeight / restTime / (core * core), rate, put);
}

/** Shares one pool between the bins around its rate; a pool beyond the first or last bin goes there whole. */
function share(
  weight: number,
  speed: number,
  rate: Float64Array,
  put: (pool: number, weight: number) => void,
): void {
  const last = rate.length - 1;
  const kept = Math.min(Math.max(speed, rate[1]!), rate[last]!);
  let above = Math.min(2, last);
  while (rate[above]! < kept) above++;
  const width = Math.log(rate[above]! / rate[Math.max(1, above - 1)]!);
  const slower = width > 0 ? (weight * Math.log(rate[above]! / kept)) / width : 0;
  if (slower > 0) put(above - 1, slower);
  put(above, weight - slower);
}

/** Fills the rates of the bins: from the slowest mode of (nearly) the largest grain up, evenly on the logarithm. */
function binRates(
  classes: readonly SizeTable[],
  brokenLayer: number,
  bins: number,
  rate: Float64Array,
): void {
  const rows = classes
    .flatMap((table) =>
      Array.from(table.diameter, (d, k) => ({ core: d / 2 - brokenLayer, mass: table.share[k]! })),
    )
    .filter((row) => row.core > 0)
    .sort((a, b) => b.core - a.core);
  let tail = 0;
  const largest =
    rows.find((row) => {
      tail += row.mass;
      return tail >= TAIL;
    }) ?? rows[0];
  const core = largest?.core ?? 1e-4;
  const slowest = Math.min((Math.PI / core) ** 2, FASTEST / 10);
  for (let b = 0; b < bins; b++)
    rate[b + 1] = bins === 1 ? slowest : slowest * (FASTEST / slowest) ** (b / (bins - 1));
}
