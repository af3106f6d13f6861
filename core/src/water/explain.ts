import { unitWords } from './check-order.ts';
import type { Composition } from './composition.ts';
import type { Target, WantedWater } from './order.ts';
import { type Table, toleranceOf } from './problem-rows.ts';
import { apply, type Quantity, quantityOf, RATIOS, tangent } from './quantities.ts';
import { figure, type WaterRemark, waterRemark } from './remarks.ts';
import type { WaterTerm } from './terms.ts';

/** How a target came out. */
export interface TargetResult {
  of: Quantity;
  asked: Target;
  /** What the water has. NaN for a ratio of nothing to nothing. */
  reached: number;
  /** Reached less asked, 0 inside a range. */
  miss: number;
  /** What counts as close. */
  tolerance: number;
  met: boolean;
}

/** What a target asks for beside what a water has. */
export function judgeTarget(asked: Target, c: Composition): TargetResult {
  const reached = quantityOf(asked.of, c);
  const { aim, low, high } = asked;
  const tolerance = toleranceOf(asked.of, aim ?? high ?? low ?? 0);
  const slack = 1e-3 * tolerance;
  let miss = 0;
  if (aim !== null) miss = reached - aim;
  const below = low !== null && reached < low - slack;
  const above = high !== null && reached > high + slack;
  if (below) miss = reached - low;
  if (above) miss = reached - high;
  const met = !below && !above && (aim === null || Math.abs(miss) <= tolerance);
  return { of: asked.of, asked, reached, miss: Number.isNaN(reached) ? Number.NaN : miss, tolerance, met };
}

const askedWords = ({ asked, miss }: TargetResult): string =>
  asked.aim !== null && !(asked.low !== null && miss < 0 && asked.aim + miss < asked.low)
    ? figure(asked.aim)
    : figure((miss < 0 ? asked.low : asked.high) ?? asked.aim ?? 0);

/** How much a gram of each item per kilogram moves a quantity. */
function slopes(table: Table, of: Quantity, near: Composition): number[] {
  const ratio = RATIOS[of];
  if (!ratio) {
    const { slope } = tangent(of, near);
    return table.items.map(({ perGram }) => apply(slope, perGram));
  }
  const [over, under] = ratio.map((side) => slopes(table, side, near)) as [number[], number[]];
  const r = quantityOf(of, near);
  return over.map((s, i) => s - (Number.isFinite(r) ? r : 0) * under[i]!);
}

/**
 * Why targets could not be met, one remark for each: nothing brings it, nothing takes it out, a stock is short, a limit or
 * another target stands in the way. `c` is the water before its doses were rounded to steps, `grams` what it takes per kg.
 */
export function explainMisses(
  table: Table,
  water: WantedWater,
  c: Composition,
  grams: ArrayLike<number>,
): WaterRemark[] {
  const results = water.targets.map((target) => judgeTarget(target, c));
  return results.filter(({ met }) => !met).map((result) => explain(result, results, table, water, c, grams));
}

function explain(
  result: TargetResult,
  all: readonly TargetResult[],
  table: Table,
  water: WantedWater,
  c: Composition,
  grams: ArrayLike<number>,
): WaterRemark {
  const values = {
    water: water.name,
    unit: unitWords(result.of),
    reached: figure(result.reached),
    asked: askedWords(result),
  };
  const nothing: Record<string, WaterTerm[]> = Number.isNaN(result.reached)
    ? { reached: ['nothing_to_nothing'] }
    : {};
  const say = (
    code: string,
    more: Record<string, string | number> = {},
    terms: Record<string, WaterTerm[]> = {},
  ) =>
    waterRemark(
      'problem',
      code,
      water.id,
      { ...values, ...more },
      { quantity: [result.of], ...nothing, ...terms },
    );
  const low = !(result.miss > 0);
  const effect = slopes(table, result.of, c);
  const helpers = table.items.map((_, i) => i).filter((i) => (low ? effect[i]! > 1e-9 : effect[i]! < -1e-9));
  if (helpers.length === 0) {
    if (low) return say('nothing_brings');
    const base = quantityOf(result.of, table.main.of);
    if (base > 0 && result.reached <= base * 1.001) return say('nothing_takes', { base: table.main.name });
  }
  const short = helpers.find((i) => {
    const stock = table.items[i]!.stock_g;
    return stock !== null && (grams[i]! * water.batch_g) / 1000 >= 0.999 * stock;
  });
  if (short !== undefined) return say('stock_short', { source: table.items[short]!.name });
  if (result.asked.hard && result.asked.aim === null)
    return say('limit_broken', {}, { side: [low ? 'at_or_above' : 'at_or_below'] });
  // What would be pushed further off by more of the best helper, or by less of what is too much.
  const pushers = helpers.length > 0 ? helpers : table.items.map((_, i) => i).filter((i) => grams[i]! > 0);
  const sign = helpers.length > 0 ? 1 : -1;
  for (const hardOnly of [true, false])
    for (const i of pushers)
      for (const other of all) {
        if (other === result || (hardOnly && !other.asked.hard)) continue;
        const move = sign * slopes(table, other.of, c)[i]!;
        const { aim, high, low: least } = other.asked;
        const upper = high ?? aim;
        const lower = least ?? aim;
        const nearTop = upper !== null && other.reached >= upper - other.tolerance;
        const nearBottom = lower !== null && other.reached <= lower + other.tolerance;
        const pushed = (move > 1e-9 && nearTop) || (move < -1e-9 && nearBottom);
        if (!pushed) continue;
        const limit = figure((move > 0 ? upper : lower)!);
        if (hardOnly)
          return say(
            'held_by_limit',
            { limit, otherUnit: unitWords(other.of) },
            { other: [other.of], side: [move > 0 ? 'at_or_below' : 'at_or_above'] },
          );
        if (sign > 0 && move > 0)
          return say('tied', { source: table.items[i]!.name, limit }, { other: [other.of] });
      }
  return say('weighed_off');
}
