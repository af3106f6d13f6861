import { type Grinder, mixTables, type Plan, tableOf } from '@pourline/core';

/** One line of the size drawing: share of the mass per step of the logarithm of the diameter. */
export interface SizeCurve {
  readonly diameter_um: readonly number[];
  readonly density: readonly number[];
}

export interface GrindSizes {
  /** One for each share of the mix, scaled by that share. */
  readonly parts: readonly SizeCurve[];
  readonly mix: SizeCurve | null;
  /** Diameters below which 10, 50 and 90 % of the mass lie [µm]. */
  readonly d10_um: number;
  readonly d50_um: number;
  readonly d90_um: number;
  /** Share of the mass below 100 µm, %. */
  readonly fines_pct: number;
}

const FINES_UM = 100;

/** Sizes of a grind mix; null while a share points to no setting. */
export function sizesOf(
  grind: Plan['grind'],
  grinder: (id: string) => Grinder | undefined,
): GrindSizes | null {
  const parts = grind.map((part) => {
    const setting = grinder(part.grinder_id)?.settings.find((entry) => entry.id === part.setting_id);
    return setting && part.share > 0 ? { share: part.share, table: tableOf(setting.distribution) } : null;
  });
  const found = parts.filter((part) => part !== null);
  if (found.length === 0 || parts.length !== grind.length) return null;
  const total = found.reduce((sum, part) => sum + part.share, 0);
  const mix = mixTables(found.map((part) => ({ ...part, share: part.share / total })));
  const rows = Array.from(mix.diameter, (d, i) => ({ um: d * 1e6, share: mix.share[i]! })).sort(
    (a, b) => a.um - b.um,
  );
  return {
    parts: found.map((part) => curveOf(part.table, part.share / total)),
    mix: curveOf(mix, 1),
    d10_um: quantile(rows, 0.1),
    d50_um: quantile(rows, 0.5),
    d90_um: quantile(rows, 0.9),
    fines_pct: 100 * rows.reduce((sum, row) => sum + (row.um < FINES_UM ? row.share : 0), 0),
  };
}

/** Bins of the drawing: 48 even steps of the logarithm from 10 µm to 4 mm. */
const BINS = 48;
const LOW = Math.log(10);
const HIGH = Math.log(4_000);

/** Gathers a table into even logarithmic bins, smoothed over neighbours, so that classes of any spacing draw alike. */
function curveOf(table: { diameter: ArrayLike<number>; share: ArrayLike<number> }, scale: number): SizeCurve {
  const bins = new Float64Array(BINS);
  const step = (HIGH - LOW) / BINS;
  for (let i = 0; i < table.diameter.length; i++) {
    const at = (Math.log(table.diameter[i]! * 1e6) - LOW) / step - 0.5;
    const k = Math.floor(at);
    const right = at - k;
    if (k >= 0 && k < BINS) bins[k]! += table.share[i]! * (1 - right);
    if (k + 1 >= 0 && k + 1 < BINS) bins[k + 1]! += table.share[i]! * right;
  }
  const density = Array.from(
    bins,
    (_, i) => (scale * ((bins[i - 1] ?? 0) + 2 * bins[i]! + (bins[i + 1] ?? 0))) / (4 * step),
  );
  return { diameter_um: Array.from(bins, (_, i) => Math.exp(LOW + (i + 0.5) * step)), density };
}

function quantile(rows: readonly { um: number; share: number }[], share: number): number {
  let below = 0;
  for (const row of rows) {
    below += row.share;
    if (below >= share) return row.um;
  }
  return rows[rows.length - 1]?.um ?? Number.NaN;
}
