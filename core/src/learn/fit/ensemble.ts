import { type Dice, diceFrom } from './chance.ts';

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
/** Steps between two looks at how far the ensemble has come. */
const BLOCK = 100;
/** Share of the proposals along differences that jump by a whole one, to change between peaks. */
const WHOLE = 0.1;

/**
 * Affine-invariant ensemble sampling: half of the walkers move with the other half as their measure of the land, so that narrow and
 * tilted posteriors are as easy as round ones. Every other proposal is a stretch (Goodman & Weare 2010, Comm. App. Math. Comp.
 * Sci. 5, 65, eq. 7), every other a difference of two others (ter Braak 2006, differential evolution), both without any tuning.
 * Hands back after each block; told how far it is.
 */
export function* ensemble(
  value: (z: Float64Array) => number,
  start: readonly ArrayLike<number>[],
  options: EnsembleOptions,
): Generator<number, Ensemble, void> {
  const { walkers, seed, burn, most, effective, thin } = options;
  const size = start[0]!.length;
  const dice = diceFrom(seed);
  const at = start.map((z) => Float64Array.from(z));
  const values = Float64Array.from(at, value);
  const proposal = new Float64Array(size);
  const kept: Float64Array[] = [];
  let accepted = 0;
  let steps = 0;
  for (let step = 0; step < burn + most; step++) {
    const taken = sweep(value, at, values, proposal, dice);
    if (step >= burn) {
      accepted += taken;
      steps++;
      if (steps % thin === 0) kept.push(flat(at, size));
    }
    if ((step + 1) % BLOCK === 0) {
      yield (step + 1) / (burn + most);
      if (steps >= 4 * BLOCK && diagnose(kept, walkers, size, thin).effective >= effective) break;
    }
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

function flat(at: readonly Float64Array[], size: number): Float64Array {
  const out = new Float64Array(at.length * size);
  at.forEach((z, w) => {
    out.set(z, w * size);
  });
  return out;
}

/** One proposal for every walker; the number of those taken. */
function sweep(
  value: (z: Float64Array) => number,
  at: Float64Array[],
  values: Float64Array,
  proposal: Float64Array,
  dice: Dice,
): number {
  const half = at.length / 2;
  let taken = 0;
  for (let side = 0; side < 2; side++)
    for (let w = side * half; w < (side + 1) * half; w++) {
      const others = (1 - side) * half;
      const lift =
        dice.uniform() < 0.5
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
