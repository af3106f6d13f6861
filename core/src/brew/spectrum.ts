import type { SizeTable } from '../grind/index.ts';
import { power } from '../units/power.ts';

/** Modes of a sphere that are kept one by one before they are gathered into bins. */
const MODES = 40;
/** Relaxation faster than this over the largest diffusivity counts as this fast [1/m²]: far below any step. */
const FASTEST = 1e10;
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
  const width = bins > 1 ? Math.log(rate[2]! / rate[1]!) : 1;
  classes.forEach((table, j) => {
    const at = j * pools;
    for (let k = 0; k < table.diameter.length; k++) {
      const mass = table.share[k]!;
      const r = table.diameter[k]! / 2;
      const core = Math.max(0, r - brokenLayer);
      const whole = power(core / r, 3);
      classPart[at]! += mass * (1 - whole);
      if (core > 0)
        spread(
          mass * whole,
          Math.log((Math.PI / core) ** 2 / rate[1]!) / width,
          width,
          bins,
          classPart,
          at + 1,
        );
    }
    for (let pool = 0; pool < pools; pool++) share[pool]! += classPart[at + pool]!;
  });
  for (let pool = 0; pool < pools; pool++)
    for (let j = 0; j < classes.length; j++)
      if (share[pool]! > 0) classPart[j * pools + pool]! /= share[pool]!;
  return { rate, share, classPart };
}

/** ln n² of each mode of a sphere, and its weight; last, what all further ones come to, see {@link spectrumOf}. */
const MODE_PLACE = new Float64Array(MODES + 1);
const MODE_WEIGHT = new Float64Array(MODES + 1);
{
  let weight = 1;
  let time = 1 / 15;
  for (let n = 1; n <= MODES; n++) {
    MODE_PLACE[n - 1] = 2 * Math.log(n);
    MODE_WEIGHT[n - 1] = 6 / (Math.PI * n) ** 2;
    weight -= MODE_WEIGHT[n - 1]!;
    time -= MODE_WEIGHT[n - 1]! / (Math.PI * n) ** 2;
  }
  MODE_PLACE[MODES] = Math.log(weight / time) - 2 * Math.log(Math.PI);
  MODE_WEIGHT[MODES] = weight;
}

/**
 * Lays the modes of one core onto the bins, `out[from]` being the slowest. `place` is where its slowest mode lies, in bins
 * from the slowest; `width` of a bin on ln rate.
 */
function spread(
  weight: number,
  place: number,
  width: number,
  bins: number,
  out: Float64Array,
  from: number,
): void {
  for (let n = 0; n <= MODES; n++) {
    const own = weight * MODE_WEIGHT[n]!;
    const x = place + MODE_PLACE[n]! / width;
    if (x <= 0) out[from]! += own;
    else if (x >= bins - 1) out[from + bins - 1]! += own;
    else {
      const k = Math.floor(x);
      const u = x - k;
      if (k >= bins - 2) {
        out[from + k]! += own * (1 - u);
        out[from + k + 1]! += own * u;
      } else if (k === 0) {
        out[from]! += (own * (u - 1) * (u - 2)) / 2;
        out[from + 1]! -= own * u * (u - 2);
        out[from + 2]! += (own * u * (u - 1)) / 2;
      } else {
        // Cubic through four bins (Lagrange).
        out[from + k - 1]! -= (own * u * (u - 1) * (u - 2)) / 6;
        out[from + k]! += (own * (u + 1) * (u - 1) * (u - 2)) / 2;
        out[from + k + 1]! -= (own * (u + 1) * u * (u - 2)) / 2;
        out[from + k + 2]! += (own * (u + 1) * u * (u - 1)) / 6;
      }
    }
  }
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
    rate[b + 1] = bins === 1 ? slowest : slowest * power(FASTEST / slowest, b / (bins - 1));
}
