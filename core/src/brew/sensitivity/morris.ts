import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { deviation, type Model, type ModelShape, mean } from './model.ts';

/** Elementary effects of one input on one output, per whole range of the input. */
export interface Effect {
  /** Mean effect µ: which way, and how far on balance. */
  mean: number;
  /** Mean size µ* (Campolongo, Cariboni and Saltelli 2007): how much it matters at all. */
  size: number;
  /** Standard deviation σ: how much the effect depends on where one stands (bends and interactions). */
  spread: number;
  /** Standard error of `size` from the number of trajectories. */
  error: number;
  /** Effects that exist; fewer than trajectories when the output did not exist at one end of a step. */
  count: number;
}

export interface MorrisOptions extends ModelShape {
  /** At least 2. */
  trajectories: number;
  seed: number;
  /** Told after each trajectory, with all effects so far; return false to stop and keep them. */
  progress?: (done: number, effects: () => Effect[][]) => boolean;
}

export interface MorrisResult {
  /** `[output][input]` */
  effects: Effect[][];
  /** Trajectories that were run. */
  trajectories: number;
  /** Runs of the model. */
  runs: number;
}

/** Levels of the grid; 4 is Morris's choice. */
const LEVELS = 4;
/** A step: half the levels plus one half-gap, so that every level is left as often as it is reached. */
const STEP = LEVELS / (2 * (LEVELS - 1));

/**
 * Screening by elementary effects: M. D. Morris, "Factorial sampling plans for preliminary computational experiments",
 * Technometrics 33, 161–174 (1991). Each trajectory starts at a random point of a grid of four levels and changes one input
 * after the other, in random order, by two thirds of its range: inputs + 1 runs give one effect of every input.
 */
export function morris(model: Model, options: MorrisOptions): MorrisResult {
  const { inputs, outputs, trajectories, seed, progress } = options;
  const random = xoroshiro128plus(seed);
  const found: number[][][] = Array.from({ length: outputs }, () =>
    Array.from({ length: inputs }, (): number[] => []),
  );
  const u = new Float64Array(inputs);
  const step = new Float64Array(inputs);
  const order = Array.from({ length: inputs }, (_, i) => i);
  let before = new Float64Array(outputs);
  let after = new Float64Array(outputs);
  let done = 0;
  while (done < trajectories) {
    for (let i = 0; i < inputs; i++) {
      const low = uniformInt(random, 0, LEVELS / 2 - 1) / (LEVELS - 1);
      const up = uniformInt(random, 0, 1) === 1;
      u[i] = up ? low : low + STEP;
      step[i] = up ? STEP : -STEP;
      const j = uniformInt(random, 0, i);
      [order[i], order[j]] = [order[j]!, order[i]!];
    }
    model(u, before);
    for (const i of order) {
      u[i]! += step[i]!;
      model(u, after);
      for (let q = 0; q < outputs; q++) found[q]![i]!.push((after[q]! - before[q]!) / step[i]!);
      [before, after] = [after, before];
    }
    done++;
    if (progress && !progress(done / trajectories, () => summarise(found))) break;
  }
  return { effects: summarise(found), trajectories: done, runs: done * (inputs + 1) };
}

const summarise = (found: readonly number[][][]): Effect[][] =>
  found.map((inputs) =>
    inputs.map((effects) => {
      const count = effects.filter(Number.isFinite).length;
      const sizes = effects.map(Math.abs);
      return {
        mean: mean(effects),
        size: mean(sizes),
        spread: deviation(effects),
        error: deviation(sizes) / Math.sqrt(count),
        count,
      };
    }),
  );
