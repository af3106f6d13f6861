import { latentHeat, ZERO_CELSIUS } from '../units/index.ts';
import type { Air } from './cooling.ts';
import { surfaceLoss } from './surface.ts';

/** Nodes stand at whole degrees of these [°C]. */
const FIRST = 0;
const COUNT = 102;
/** Figures of a node: evaporation [kg/s], its latent heat [W], convection and radiation [W]. */
const WIDTH = 3;

/**
 * Loss of one open surface by the temperature of its liquid. Nodes at whole degrees are computed when first asked for and
 * kept; between four of them a cubic is laid, which differs from {@link surfaceLoss} by less than 1e-5 of it from 10 K over
 * the air (free convection has no slope where surface and air are equally dense). A cup asks some two hundred times.
 */
export class SurfaceTable {
  readonly #air: Air;
  readonly #diameter: number;
  readonly #nodes = new Float64Array(COUNT * WIDTH).fill(Number.NaN);
  readonly #loss = new Float64Array(2);

  /** @param diameter of the surface [m] */
  constructor(air: Air, diameter: number) {
    this.#air = air;
    this.#diameter = diameter;
  }

  /** Writes the three figures of a liquid at `T` [°C] into `out`. */
  at(T: number, out: Float64Array): void {
    const base = Math.floor(T);
    if (base < FIRST + 1 || base > FIRST + COUNT - 3) {
      this.#compute(T, out, 0);
      return;
    }
    const x = T - base;
    const w0 = (-x * (x - 1) * (x - 2)) / 6;
    const w1 = ((x + 1) * (x - 1) * (x - 2)) / 2;
    const w2 = (-(x + 1) * x * (x - 2)) / 2;
    const w3 = ((x + 1) * x * (x - 1)) / 6;
    const at = (base - FIRST) * WIDTH;
    for (let node = base - 1; node <= base + 2; node++) this.#ensure(node);
    const n = this.#nodes;
    for (let k = 0; k < WIDTH; k++)
      out[k] =
        w0 * n[at - WIDTH + k]! + w1 * n[at + k]! + w2 * n[at + WIDTH + k]! + w3 * n[at + 2 * WIDTH + k]!;
  }

  #ensure(node: number): void {
    const at = (node - FIRST) * WIDTH;
    if (Number.isNaN(this.#nodes[at]!)) this.#compute(node, this.#nodes, at);
  }

  #compute(T: number, out: Float64Array, at: number): void {
    const { temperature, pressure, vapourPressure, surfaceFactor } = this.#air;
    const surface = T + ZERO_CELSIUS;
    surfaceLoss(surface, temperature, pressure, vapourPressure, this.#diameter, this.#loss);
    const area = (Math.PI / 4) * this.#diameter ** 2 * surfaceFactor;
    const evaporation = this.#loss[0]! * area;
    out[at] = evaporation;
    out[at + 1] = evaporation * latentHeat(surface);
    out[at + 2] = this.#loss[1]! * area * (surface - temperature);
  }
}
