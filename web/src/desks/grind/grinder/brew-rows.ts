import type { BrewTransferOrder } from '@pourline/core';

/** A brew as it is typed: a field holds whatever stands in it. */
export interface BrewRow {
  dial: unknown;
  drawdown_s: unknown;
  yield_pct: unknown;
}

export const emptyBrew: BrewRow = { dial: null, drawdown_s: null, yield_pct: null };

const within = (value: unknown, low: number, high: number): number | null =>
  typeof value === 'number' && value >= low && value <= high ? value : null;

/** The order for core: rows without a setting or without any figure are left out; null when nothing can be matched. */
export function brewOrder(
  wanted: BrewRow,
  count: unknown,
  rows: readonly BrewRow[],
  touch_dial: number,
): BrewTransferOrder | null {
  const figures = (row: BrewRow) => ({
    drawdown_s: within(row.drawdown_s, 1, 3_600),
    yield_pct: within(row.yield_pct, 0.1, 40),
  });
  const asked = figures(wanted);
  const brews = rows.flatMap((row) => {
    const dial = within(row.dial, -1_000, 100_000);
    const { drawdown_s, yield_pct } = figures(row);
    return dial === null || (drawdown_s === null && yield_pct === null)
      ? []
      : [{ dial, drawdown_s, yield_pct }];
  });
  const matches = (['drawdown_s', 'yield_pct'] as const).some(
    (figure) => asked[figure] !== null && brews.some((brew) => brew[figure] !== null),
  );
  if (!matches) return null;
  return { wanted: { ...asked, brews: within(count, 1, 100) ?? 1 }, brews, touch_dial };
}
