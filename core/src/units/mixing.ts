/** One body taking part in a mixture. */
export interface MixingPart {
  /** Mass [kg]. */
  mass: number;
  /** Specific heat capacity [J/kg/K], taken as constant. */
  heatCapacity: number;
  /** Temperature before [K]; any scale will do, the same for all. */
  temperature: number;
}

/**
 * Temperature at which bodies meet when nothing is lost [the scale of the parts]: T = Σ m c T / Σ m c. The first law for
 * constant heat capacities and no phase change. NaN when there is no mass at all.
 */
export function mixingTemperature(parts: readonly MixingPart[]): number {
  let capacity = 0;
  let heat = 0;
  for (const part of parts) {
    const c = part.mass * part.heatCapacity;
    capacity += c;
    heat += c * part.temperature;
  }
  return heat / capacity;
}
