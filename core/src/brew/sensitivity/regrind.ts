import type { BrewBundle } from '../../documents/index.ts';
import { type SizeTable, shareBelow } from '../../grind/index.ts';

/** Median by mass [m]: half of the mass is in smaller grains. */
export function medianSize({ diameter, share }: SizeTable): number {
  let sum = 0;
  for (let k = 0; k < share.length; k++) {
    sum += share[k]!;
    if (sum >= 0.5) return diameter[k]!;
  }
  return diameter.at(-1) ?? Number.NaN;
}

/** How a grind is changed: sizes of all that is no fines times `coarser`, share of the fines in the mass set to `fines`. */
export interface Regrind {
  coarser: number;
  fines: number;
}

/** A table changed as `regrind` says; `limit` [m] divides fines from the rest. Shares sum to 1 again. */
export function regroundTable(table: SizeTable, { coarser, fines }: Regrind, limit: number): SizeTable {
  const before = shareBelow(table, limit);
  const small = before > 0 ? fines / before : 1;
  const large = before < 1 ? (1 - (before > 0 ? fines : 0)) / (1 - before) : 1;
  const isFine = (d: number) => d < limit;
  return {
    diameter: table.diameter.map((d) => (isFine(d) ? d : d * coarser)),
    share: table.share.map((x, k) => x * (isFine(table.diameter[k]!) ? small : large)),
  };
}

/** A bundle whose whole grind is one table: its first grinder at one setting that gives these sizes. */
export function withTable(bundle: BrewBundle, table: SizeTable): BrewBundle {
  const [first] = bundle.plan.grind;
  if (!first) throw new Error('withTable: a plan without a grind');
  const grinder = bundle.grinders[first.grinder_id]!;
  const setting = grinder.settings.find((s) => s.id === first.setting_id)!;
  const classes = Array.from(table.diameter, (d, k) => ({ diameter_um: d * 1e6, share: table.share[k]! }));
  return {
    ...bundle,
    plan: { ...bundle.plan, grind: [{ ...first, share: 1 }] },
    grinders: {
      [first.grinder_id]: {
        ...grinder,
        settings: [{ ...setting, distribution: { by: 'classes', classes } }],
      },
    },
  };
}
