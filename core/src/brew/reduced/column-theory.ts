/** A linear column, exact in the Laplace domain: what leaves a saturated bed that is washed with pure water. */
import {
  add,
  type Complex,
  complex,
  cothExcess,
  divide,
  exponential,
  multiply,
  scale,
  squareRoot,
} from './complex.ts';
import { invertLaplace } from './talbot.ts';

/** How grains answer the liquid around them, in the Laplace domain. */
export interface LinearGrains {
  /** Content taken up per concentration of the liquid, over the pore volume [-]: K(s), so that the pores count as s (1 + K(s)). */
  uptake: (s: Complex) => Complex;
  /**
   * Initial content that would come out into liquid kept at zero, over the pore volume: its transform [kg/m³ · s/s]. Null
   * when grains and liquid start in equilibrium at concentration `start`.
   */
  given: ((s: Complex) => Complex) | null;
}

/** A column as its theory sees it. */
export interface LinearColumn {
  /** Time of one pore volume [s]. */
  poreTime: number;
  /** Péclet number depth/dispersivity; Infinity for plug flow. */
  peclet: number;
  /** Concentration in the pores at the start [kg/m³]. */
  start: number;
  grains: LinearGrains;
}

/**
 * Concentration that leaves the column at a time since the wash began [kg/m³].
 *
 * With H(s) = s (1 + K(s)) and the initial stock B(s) = c₀ + given(s), the outlet is (B/H)(1 − W), where W is the response of the
 * vessel to a unit step of its inlet: exp(−τ H) for plug flow, and for dispersion between closed ends
 * 4 a e^(Pe/2)/((1 + a)² e^(a Pe/2) − (1 − a)² e^(−a Pe/2)), a = √(1 + 4 τ H/Pe) (Danckwerts 1953, from memory). Plug flow carries a
 * delay of one pore volume, before which nothing of the wash is seen; it is inverted from that moment on.
 */
export function columnOutflow(column: LinearColumn, time: number): number {
  const { poreTime, peclet, grains } = column;
  const washed = (s: Complex): Complex => divide(stock(column, s), holdup(grains, s));
  const untouched = invertLaplace(washed, time);
  if (Number.isFinite(peclet)) {
    return (
      untouched -
      invertLaplace(
        (s) => multiply(washed(s), closedResponse(scale(holdup(grains, s), poreTime), peclet)),
        time,
      )
    );
  }
  const since = time - poreTime;
  if (since <= 0) return untouched;
  const behindFront = (s: Complex): Complex =>
    multiply(washed(s), exponential(scale(multiply(s, grains.uptake(s)), -poreTime)));
  return untouched - invertLaplace(behindFront, since);
}

const holdup = (grains: LinearGrains, s: Complex): Complex => multiply(s, add(complex(1), grains.uptake(s)));

function stock(column: LinearColumn, s: Complex): Complex {
  const { grains, start } = column;
  if (grains.given === null) return scale(add(complex(1), grains.uptake(s)), start);
  return add(complex(start), grains.given(s));
}

/** Response of dispersed flow between closed ends, written with decaying exponentials only. */
function closedResponse(hold: Complex, peclet: number): Complex {
  const a = squareRoot(add(complex(1), scale(hold, 4 / peclet)));
  const plus = add(complex(1), a);
  const minus = add(complex(1), scale(a, -1));
  const decay = exponential(scale(a, -peclet));
  const above = multiply(scale(a, 4), exponential(scale(add(complex(1), scale(a, -1)), peclet / 2)));
  const below = add(multiply(plus, plus), scale(multiply(multiply(minus, minus), decay), -1));
  return divide(above, below);
}

/**
 * Variance of the residence time over its mean squared, dispersed plug flow between closed ends: 2/Pe − (2/Pe²)(1 − e^(−Pe)) (van
 * der Laan 1958, from memory).
 */
export const closedSpread = (peclet: number): number =>
  2 / peclet - (2 / peclet ** 2) * (1 - Math.exp(-peclet));

/** Homogeneous spheres with a linear partition. */
export interface Spheres {
  /** Space between them over the whole. */
  porosity: number;
  /** Content of the sphere over concentration of the liquid at equilibrium, both per volume. */
  partition: number;
  /** [m²/s] */
  diffusivity: number;
  radius: number;
}

/**
 * Spheres that start in equilibrium with the liquid: K(s) = ((1−ε)/ε)(3 D K/(R² s))(φ coth φ − 1), φ = R √(s/D) (linear chromatography; Rosen
 * 1952, from memory).
 */
export function sphereGrains(spheres: Spheres): LinearGrains {
  const { porosity, partition, diffusivity, radius } = spheres;
  const weight = (((1 - porosity) / porosity) * 3 * partition * diffusivity) / radius ** 2;
  return {
    uptake: (s) => {
      const phi = scale(squareRoot(scale(s, 1 / diffusivity)), radius);
      return divide(scale(cothExcess(phi), weight), s);
    },
    given: null,
  };
}

/** A first-order store in the grains. */
export interface Store {
  /** [1/s] */
  rate: number;
  /** What it holds per concentration of the liquid at equilibrium, over the pore volume [-]. */
  capacity: number;
  /** What it holds at the start, over the pore volume [kg/m³]. */
  content: number;
}

/** Grains as first-order stores: K(s) = Σ capacity·rate/(s + rate), given(s) = Σ content·rate/(s + rate). */
export function storeGrains(stores: readonly Store[]): LinearGrains {
  const sum = (s: Complex, weight: (store: Store) => number): Complex =>
    stores.reduce(
      (total, store) => add(total, divide(complex(weight(store) * store.rate), add(s, complex(store.rate)))),
      complex(0),
    );
  return {
    uptake: (s) => sum(s, (store) => store.capacity),
    given: (s) => sum(s, (store) => store.content),
  };
}
