import { type Component, type Composition, pureWater } from '../composition.ts';

/** A composition written in mmol/kg; carbon is as much as the alkalinity unless it is said. */
export function millimoles(of: Partial<Record<Component, number>>): Composition {
  const sum = pureWater();
  for (const [name, value] of Object.entries(of)) sum[name as Component] = value / 1000;
  if (of.carbon === undefined) sum.carbon = sum.alkalinity;
  return sum;
}
