import { GRAVITY, liquidDensity } from '../units/index.ts';
import type { Parameters } from './parameters.ts';

/** What a falling stream does where it meets the slurry. */
export interface Jet {
  /** [m/s] */
  speed: number;
  /** [m] */
  diameter: number;
  /** ½ ṁ v² [W] */
  power: number;
  /** ṁ v [N] */
  momentum: number;
  /** Depth below the surface that it stirs [m]. */
  mixingDepth: number;
  broken: boolean;
}

/**
 * Free fall from a spout: v = √(v₀² + 2 g h), d = √(4 Q/(π v)). Mixing depth z = c (momentum/(Δρ g))^⅓, a proposal of
 * scale; beyond the height at which the stream breaks into drops it is a fraction of that. The break-up height grows
 * like the square root of the flow (We^½; coefficient from a single report at 5 g/s).
 *
 * @param flow [kg/s]
 * @param height of the spout over the slurry [m]
 * @param temperature [K]
 */
export function jetOf(flow: number, height: number, temperature: number, p: Parameters): Jet {
  const volume = flow / liquidDensity(temperature);
  const spout = (Math.PI / 4) * p.spoutDiameter ** 2;
  const speed = Math.sqrt((volume / spout) ** 2 + 2 * GRAVITY * height);
  const diameter = Math.sqrt((4 * volume) / (Math.PI * speed));
  const momentum = flow * speed;
  const broken = height > p.streamBreaks * Math.sqrt(flow / 5e-3);
  const reach = p.jetDepth * Math.cbrt(momentum / (p.jetDensityStep * GRAVITY));
  return {
    speed,
    diameter,
    power: 0.5 * flow * speed * speed,
    momentum,
    mixingDepth: broken ? reach * p.brokenStreamDepth : reach,
    broken,
  };
}

/**
 * Temperature of the stream where it meets the slurry [K]: loss through the stream's surface on its way down,
 * ΔT = (T − air)(1 − e^(−U A/(ṁ c))).
 */
export function streamTemperature(
  kettle: number,
  air: number,
  flow: number,
  height: number,
  heatCapacity: number,
  p: Parameters,
): number {
  if (height <= 0) return kettle;
  const jet = jetOf(flow, height, kettle, p);
  const surface = Math.PI * jet.diameter * height;
  return air + (kettle - air) * Math.exp((-p.streamLoss * surface) / (flow * heatCapacity));
}
