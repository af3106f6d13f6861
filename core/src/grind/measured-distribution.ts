import type { Distribution } from '../documents/index.ts';
import { MICROMETRE } from '../units/index.ts';
import { type Binned, undersizes } from './binned.ts';
import { FINEST } from './figures.ts';
import { type SizeModel, undersize, withSharesOfOne } from './model.ts';

/** Most rows of {@link measuredDistribution}. */
const ROWS = 120;

/**
 * Classes as a setting of a grinder keeps them. An open class is given the size that its surface would have by the model, or the
 * middle between its limit and what is assumed beyond it.
 */
export function measuredDistribution(binned: Binned, model: SizeModel | null): Distribution {
  const { limits, share } = merged(binned);
  const J = limits.length;
  const middle = (low: number, high: number) => {
    if (model === null) return Math.sqrt(low * high);
    const mass = undersize(model, high) - undersize(model, low);
    if (!(mass > 1e-9)) return Math.sqrt(low * high);
    let surface = 0;
    const steps = 40;
    for (let k = 0; k < steps; k++) {
      const a = low * (high / low) ** (k / steps);
      const b = low * (high / low) ** ((k + 1) / steps);
      surface += (undersize(model, b) - undersize(model, a)) / Math.sqrt(a * b);
    }
    return mass / surface;
  };
  const rows = Array.from({ length: J + 1 }, (_, j) => ({
    diameter_um: Number(
      (
        (j === 0
          ? middle(Math.min(FINEST, limits[0]! / 2), limits[0]!)
          : j === J
            ? middle(limits[J - 1]!, 2 * limits[J - 1]!)
            : Math.sqrt(limits[j - 1]! * limits[j]!)) / MICROMETRE
      ).toPrecision(6),
    ),
    share: share[j]!,
  })).filter((row) => row.share > 0);
  return { by: 'classes', classes: withSharesOfOne(rows) };
}

/** Classes joined until there are few enough for a document. */
function merged(binned: Binned): Binned {
  const J = binned.limits.length;
  if (J < ROWS) return binned;
  const every = Math.ceil(J / (ROWS - 1));
  const kept = Array.from(binned.limits.keys()).filter((j) => j % every === 0 || j === J - 1);
  const below = undersizes(binned);
  const share = kept.map((j, i) => below[j]! - (i === 0 ? 0 : below[kept[i - 1]!]!));
  return {
    limits: Float64Array.from(kept, (j) => binned.limits[j]!),
    share: Float64Array.from([...share, binned.share[J]!]),
  };
}
