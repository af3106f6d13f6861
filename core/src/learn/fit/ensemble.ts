import { cholesky } from '../../panel/cholesky.ts';
import { type Dice, diceFrom } from '../chance.ts';
import { momentsOf } from './linear.ts';

export interface EnsembleOptions {
  /** Even, and more than twice the number of unknowns. */
  walkers: number;
  seed: number;
  /** Steps of all walkers that are thrown away first. */
  burn: number;
  /** Most steps after that. */
  most: number;
  /** Ends earlier when the effective number of draws of every unknown has come to this. */
  effective: number;
  /** Every so many steps are kept. */
  thin: number;
}

/** What an ensemble brought home. */
export interface Ensemble {
  /** Positions kept, `[kept][walkers][K]`, flat. */
  kept: Float64Array;
  count: number;
  walkers: number;
  size: number;
  /** Steps that were run, without the first. */
  steps: number;
  thin: number;
  /** Share of the proposals that were taken. */
  acceptance: number;
  /** Longest autocorrelation time of any unknown [steps], and the least effective number of draws. */
  autocorrelation: number;
  effective: number;
  /** Largest split R̂ over the unknowns. */
  rHat: number;
}

/** Largest stretch; the usual 2. */
const STRETCH = 2;
/** Shares of the proposals: jumps to anywhere, stretches; differences are the rest. */
const JUMPS = 0.4;
const STRETCHES = 0.3;
/** Share of the proposals along differences that go by a whole one, to change between peaks. */
const WHOLE = 0.1;
/** First look at how far the ensemble has come [steps]; later ones when it has gone half as far again. */
const FIRST_LOOK = 200;
/** Steps between two moments at which it can be stopped. */
const BLOCK = 50;

/**
 * Affine-invariant ensemble sampling: half of the walkers move with the other half as their measure of the land, so that narrow and
 * tilted posteriors are as easy as round ones. Proposals are a stretch (Goodman & Weare 2010, Comm. App. Math. Comp. Sci. 5, 65,
 * eq. 7), a difference of two others (ter Braak 2006, differential evolution), or a jump to anywhere under a multivariate t, which
 * is the quadratic answer at first and then has the moments of what was found, until the first steps are thrown away; from then on
 * it stays as it is. Each is accepted by the rule of Metropolis and Hastings, so where the jumps aim changes how fast the
 * posterior is found, not what is found. Hands back after each block; told how far it is.
 */
export function* ensemble(
  value: (z: Float64Array) => number,
  start: readonly ArrayLike<number>[],
  guess: { mean: ArrayLike<number>; covariance: Float64Array },
  options: EnsembleOptions,
): Generator<number, Ensemble, void> {
  const { walkers, seed, burn, most, effective, thin } = options;
  const size = start[0]!.length;
  const dice = diceFrom(seed);
  const at = start.map((z) => Float64Array.from(z));
  const walk: Walk = {
    value,
    at,
    values: Float64Array.from(at, value),
    proposal: new Float64Array(size),
    dice,
  };
  let guide = guideOf(guess.mean, guess.covariance);
  let kept: Float64Array[] = [];
  let accepted = 0;
  let steps = 0;
  let look = FIRST_LOOK;
  for (let step = 0; step < burn + most; step++) {
    // The guide follows what was found while the first steps are made, then stays.
    if (step === burn || step === Math.floor(burn / 3) || step === Math.floor((2 * burn) / 3))
      guide = guideFrom(kept.slice(Math.floor(kept.length / 2)), walkers, size) ?? guide;
    if (step === burn) kept = [];
    const taken = sweep(walk, guide);
    if (step >= burn) {
      accepted += taken;
      steps++;
    }
    if ((step + 1) % thin === 0) kept.push(flat(at, size));
    if ((step + 1) % BLOCK === 0) yield (step + 1) / (burn + most);
    if (steps < look) continue;
    look *= 1.5;
    if (diagnose(kept, walkers, size, thin).effective >= effective) break;
  }
  const all = new Float64Array(kept.length * walkers * size);
  kept.forEach((part, i) => {
    all.set(part, i * walkers * size);
  });
  return {
    kept: all,
    count: kept.length,
    walkers,
    size,
    steps,
    thin,
    acceptance: accepted / (steps * walkers),
    ...diagnose(kept, walkers, size, thin),
  };
}

/** Degrees of freedom of the jumps: tails as heavy as any that are to be found. */
const GUIDE_NU = 5;

/** Where jumps aim: a multivariate t. */
interface Guide {
  mean: Float64Array;
  /** Lower triangle of its scale. */
  factor: Float64Array;
}

const guideOf = (mean: ArrayLike<number>, covariance: Float64Array): Guide => ({
  mean: Float64Array.from(mean),
  factor: cholesky(covariance, mean.length),
});

/** A guide with the moments of some positions; null when these lie in a plane. */
function guideFrom(parts: readonly Float64Array[], walkers: number, size: number): Guide | null {
  const points = parts.flatMap((part) =>
    Array.from({ length: walkers }, (_, w) => part.subarray(w * size, (w + 1) * size)),
  );
  const { mean, covariance } = momentsOf(points, size);
  const guide = guideOf(mean, covariance);
  return guide.factor.every(Number.isFinite) ? guide : null;
}

/** ln of the density of a guide at a point, without a constant. */
function guideAt({ mean, factor }: Guide, z: Float64Array, work: Float64Array): number {
  const n = z.length;
  let square = 0;
  for (let i = 0; i < n; i++) {
    let sum = z[i]! - mean[i]!;
    for (let k = 0; k < i; k++) sum -= factor[i * n + k]! * work[k]!;
    const e = sum / factor[i * n + i]!;
    work[i] = e;
    square += e * e;
  }
  return -0.5 * (GUIDE_NU + n) * Math.log1p(square / GUIDE_NU);
}

/** To anywhere under the guide; returns ln of the factor on the odds. */
function jump({ mean, factor }: Guide, here: Float64Array, proposal: Float64Array, dice: Dice): number {
  const n = here.length;
  let chi2 = 0;
  for (let i = 0; i < GUIDE_NU; i++) chi2 += dice.normal() ** 2;
  const wide = 1 / Math.sqrt(chi2 / GUIDE_NU);
  const work = new Float64Array(n);
  const e = Float64Array.from({ length: n }, () => dice.normal() * wide);
  for (let i = 0; i < n; i++) {
    let x = mean[i]!;
    for (let k = 0; k <= i; k++) x += factor[i * n + k]! * e[k]!;
    proposal[i] = x;
  }
  const guide = { mean, factor };
  return guideAt(guide, here, work) - guideAt(guide, proposal, work);
}

/** Walkers on their way. */
interface Walk {
  value: (z: Float64Array) => number;
  at: Float64Array[];
  values: Float64Array;
  proposal: Float64Array;
  dice: Dice;
}

function flat(at: readonly Float64Array[], size: number): Float64Array {
  const out = new Float64Array(at.length * size);
  at.forEach((z, w) => {
    out.set(z, w * size);
  });
  return out;
}

/** One proposal for every walker; the number of those taken. */
function sweep({ value, at, values, proposal, dice }: Walk, guide: Guide): number {
  const half = at.length / 2;
  let taken = 0;
  for (let side = 0; side < 2; side++)
    for (let w = side * half; w < (side + 1) * half; w++) {
      const others = (1 - side) * half;
      const kind = dice.uniform();
      const lift =
        kind < JUMPS
          ? jump(guide, at[w]!, proposal, dice)
          : kind < JUMPS + STRETCHES
            ? stretchMove(at, w, others, half, proposal, dice)
            : differenceMove(at, w, others, half, proposal, dice);
      const tried = value(proposal);
      if (Math.log(dice.uniform()) < lift + tried - values[w]!) {
        at[w]!.set(proposal);
        values[w] = tried;
        taken++;
      }
    }
  return taken;
}

/** Along the line to another walker; returns ln of the factor on the odds. */
function stretchMove(
  at: readonly Float64Array[],
  w: number,
  others: number,
  half: number,
  proposal: Float64Array,
  dice: Dice,
): number {
  const anchor = at[others + dice.below(half)]!;
  const stretch = ((STRETCH - 1) * dice.uniform() + 1) ** 2 / STRETCH;
  const here = at[w]!;
  for (let k = 0; k < here.length; k++) proposal[k] = anchor[k]! + stretch * (here[k]! - anchor[k]!);
  return (here.length - 1) * Math.log(stretch);
}

/** Along the difference of two other walkers; even odds. */
function differenceMove(
  at: readonly Float64Array[],
  w: number,
  others: number,
  half: number,
  proposal: Float64Array,
  dice: Dice,
): number {
  const first = dice.below(half);
  const second = (first + 1 + dice.below(half - 1)) % half;
  const here = at[w]!;
  const [a, b] = [at[others + first]!, at[others + second]!];
  const whole = dice.uniform() < WHOLE;
  const reach = whole ? 1 : 2.38 / Math.sqrt(2 * here.length);
  for (let k = 0; k < here.length; k++) proposal[k] = here[k]! + reach * (a[k]! - b[k]!);
  return 0;
}

/** Autocorrelation, effective number and split R̂, the worst over the unknowns. */
function diagnose(
  kept: readonly Float64Array[],
  walkers: number,
  size: number,
  thin: number,
): { autocorrelation: number; effective: number; rHat: number } {
  let autocorrelation = 0;
  let rHat = 1;
  const n = kept.length;
  for (let k = 0; k < size; k++) {
    const chains = Array.from({ length: walkers }, (_, w) =>
      Float64Array.from(kept, (part) => part[w * size + k]!),
    );
    autocorrelation = Math.max(autocorrelation, timeOf(chains));
    rHat = Math.max(rHat, splitRHat(chains));
  }
  return { autocorrelation: autocorrelation * thin, effective: (n * walkers) / autocorrelation, rHat };
}

/** Windows end where they are this many times as long as the time they find (Sokal's choice). */
const WINDOW = 5;

/** Integrated autocorrelation time, counted in entries, of chains about their common mean. */
function timeOf(chains: readonly Float64Array[]): number {
  const n = chains[0]!.length;
  const mean = chains.reduce((sum, c) => sum + c.reduce((s, x) => s + x, 0), 0) / (n * chains.length);
  const at = (lag: number): number => {
    let sum = 0;
    for (const c of chains) for (let i = 0; i + lag < n; i++) sum += (c[i]! - mean) * (c[i + lag]! - mean);
    return sum / (chains.length * (n - lag));
  };
  const variance = at(0);
  if (!(variance > 0)) return 1;
  let time = 1;
  for (let lag = 1; lag < n / 2; lag++) {
    time += (2 * at(lag)) / variance;
    if (lag >= WINDOW * time) break;
  }
  return Math.max(1, time);
}

/** Split R̂ of Gelman et al. (Bayesian Data Analysis, 3rd edition, section 11.4, from memory), with every half chain as one. */
function splitRHat(chains: readonly Float64Array[]): number {
  const half = Math.floor(chains[0]!.length / 2);
  if (half < 2) return Number.POSITIVE_INFINITY;
  const parts = chains.flatMap((c) => [c.subarray(0, half), c.subarray(c.length - half)]);
  const means = parts.map((p) => p.reduce((s, x) => s + x, 0) / half);
  const centre = means.reduce((s, x) => s + x, 0) / means.length;
  const between = means.reduce((s, m) => s + (m - centre) ** 2, 0) / (means.length - 1);
  const within =
    parts.reduce((s, p, i) => s + p.reduce((t, x) => t + (x - means[i]!) ** 2, 0) / (half - 1), 0) /
    parts.length;
  return within > 0 ? Math.sqrt((half - 1) / half + between / within) : 1;
}
