import {
  type Checked,
  checkKind,
  MAX_POURS,
  type Plan,
  type Pour,
  type PouredAs,
  pourEnd,
} from '../documents/index.ts';
import { figure, traceRemark } from './remarks.ts';
import type { FoundPour, TraceRemark } from './types.ts';

/** Which planned pour a found one was. */
export interface PourMatch {
  /** Null for a pour that was not planned. */
  pour_id: string | null;
  found: FoundPour;
}

/** Found pours on the clock of the plan. */
export interface MatchedPours {
  matches: readonly PourMatch[];
  /** Planned pours that were not found, by id. */
  missing: readonly string[];
  /** Moment of the recording at which the clock of the brew starts [s]. */
  zero_s: number;
}

/** A second apart weighs as much as so many grams. */
const GRAMS_PER_SECOND = 1.5;
/** Leaving a pour without a partner costs as much as so many seconds. */
const ALONE_S = 25;
/** Between two pours at least [s], so that they do not overlap. */
const APART_S = 0.05;

/**
 * Sets found pours against those of a plan, in order, so that times and grams agree best (an alignment by dynamic programming). The clock is
 * set so that the first pair starts together.
 */
export function matchPours(plan: Plan, found: readonly FoundPour[]): MatchedPours {
  const planned = plan.pours.toSorted((a, b) => a.start_s - b.start_s);
  if (found.length === 0) return { matches: [], missing: planned.map(({ id }) => id), zero_s: 0 };
  // The first pour found is the first of the plan unless leaving some out fits plainly better.
  const tries = planned.slice(0, 3).map((first) => {
    const zero = found[0]!.start_s - first.start_s;
    return { zero, ...align(planned, found, zero) };
  });
  const best = tries.reduce((a, b) => (b.cost < a.cost - 1e-9 ? b : a));
  const met = best.pairs.find(([i]) => i !== null);
  const zero_s = met ? found[met[1]]!.start_s - planned[met[0]!]!.start_s : best.zero;
  const used = new Set(best.pairs.map(([i]) => i));
  return {
    matches: best.pairs.map(([i, j]) => ({ pour_id: i === null ? null : planned[i]!.id, found: found[j]! })),
    missing: planned.filter((_, i) => !used.has(i)).map(({ id }) => id),
    zero_s,
  };
}

/** Cheapest pairing in order: `[planned or null, found]` for every found pour. */
function align(planned: readonly Pour[], found: readonly FoundPour[], zero: number) {
  const [n, m] = [planned.length, found.length];
  const cost: number[][] = Array.from({ length: n + 1 }, () => new Array<number>(m + 1).fill(0));
  const apart = (i: number, j: number): number => {
    const late = Math.abs(found[j]!.start_s - zero - planned[i]!.start_s);
    return late + Math.abs(found[j]!.water_g - planned[i]!.water_g) / GRAMS_PER_SECOND;
  };
  for (let i = n; i >= 0; i--)
    for (let j = m; j >= 0; j--) {
      if (i === n && j === m) continue;
      const skipPlan = i < n ? cost[i + 1]![j]! + ALONE_S : Number.POSITIVE_INFINITY;
      const skipFound = j < m ? cost[i]![j + 1]! + ALONE_S : Number.POSITIVE_INFINITY;
      const pair = i < n && j < m ? cost[i + 1]![j + 1]! + apart(i, j) : Number.POSITIVE_INFINITY;
      cost[i]![j] = Math.min(pair, skipPlan, skipFound);
    }
  const pairs: (readonly [number | null, number])[] = [];
  let [i, j] = [0, 0];
  while (i < n || j < m) {
    const here = cost[i]![j]!;
    if (i < n && j < m && Math.abs(here - cost[i + 1]![j + 1]! - apart(i, j)) < 1e-9) pairs.push([i++, j++]);
    else if (i < n && Math.abs(here - cost[i + 1]![j]! - ALONE_S) < 1e-9) i++;
    else pairs.push([null, j++]);
  }
  return { cost: cost[0]![0]!, pairs };
}

/** Found pours as a trial keeps them, on the clock of the plan, those before its start left out. */
export function pouredOf(matched: MatchedPours): PouredAs[] {
  const poured: PouredAs[] = [];
  for (const { pour_id, found } of matched.matches.slice(0, MAX_POURS)) {
    const end_s = hundredth(found.end_s - matched.zero_s);
    const after = poured.at(-1)?.end_s ?? 0;
    const start_s = Math.max(after, hundredth(found.start_s - matched.zero_s));
    if (end_s > start_s)
      poured.push({ pour_id, start_s, end_s, water_g: hundredth(found.water_g), kettle_C: null });
  }
  return poured;
}

const hundredth = (x: number): number => Math.round(100 * x) / 100;

/** A plan with the pours as the hands did them. */
export interface PlanAsPoured {
  plan: Plan;
  remarks: TraceRemark[];
}

/**
 * The plan as it was poured: start, grams and duration of every pour as recorded, everything else as planned (water, kettle, temperature, height from
 * the pour it was meant to be, or the nearest one), so that the engine can be run on what the hands did.
 * @param shapes Flow shapes by place in `poured`; a pour with one is cut into pieces of steady flow. See {@link shapedPours}.
 * @returns Problems when the pours make no valid plan.
 */
export function planAsPoured(
  plan: Plan,
  poured: readonly PouredAs[],
  shapes: readonly (readonly { start_s: number; end_s: number; water_g: number }[] | null)[] = [],
): Checked<PlanAsPoured> {
  const remarks: TraceRemark[] = [];
  if (poured.length === 0) return { ok: true, value: { plan, remarks } };
  if (poured.length > MAX_POURS)
    remarks.push(traceRemark('caution', 'too_many_pours', { count: poured.length, limit: MAX_POURS }));
  const taken = poured.slice(0, MAX_POURS);
  const used = new Set(taken.map(({ pour_id }) => pour_id));
  plan.pours.forEach((pour, i) => {
    if (!used.has(pour.id)) remarks.push(traceRemark('note', 'pour_missing', { pour: i + 1 }, pour.start_s));
  });
  let end = Number.NEGATIVE_INFINITY;
  const ids = new Set<string>();
  const room = MAX_POURS - taken.length;
  const pieces = shapes.reduce((sum, shape) => sum + Math.max(0, (shape?.length ?? 1) - 1), 0);
  const pours = taken.flatMap((as, i): Pour[] => {
    const like = plan.pours.find(({ id }) => id === as.pour_id) ?? nearest(plan, as.start_s);
    if (as.pour_id === null)
      remarks.push(
        traceRemark(
          'note',
          'pour_added',
          { mass: figure(as.water_g), start: figure(as.start_s) },
          as.start_s,
        ),
      );
    const shape = pieces <= room ? shapes[i] : null;
    return (shape ?? [as]).map((part, k) => {
      const start_s = Math.max(part.start_s, end + (end > part.start_s ? APART_S : 0), 0);
      if (start_s > part.start_s + 0.5)
        remarks.push(
          traceRemark(
            'caution',
            'pour_cut',
            { pour: i + 1, by: figure(start_s - part.start_s) },
            figure(start_s),
          ),
        );
      const duration_s = Math.max(0.5, part.end_s - start_s);
      end = start_s + duration_s;
      return {
        ...like,
        id: unusedId(
          k === 0 && as.pour_id !== null ? like.id : `${as.pour_id ?? 'more'}-${i + 1}-${k + 1}`,
          ids,
        ),
        start_s,
        water_g: Math.max(0.5, part.water_g),
        rate: { by: 'duration' as const, duration_s },
        kettle_temperature_C: as.kettle_C ?? like.kettle_temperature_C,
      };
    });
  });
  const ends = Math.max(...pours.map(pourEnd));
  const lift_s = plan.lift_s === null ? null : Math.max(plan.lift_s, hundredth(ends + APART_S));
  if (lift_s !== plan.lift_s)
    remarks.push(traceRemark('caution', 'lift_moved', { lift: plan.lift_s ?? 0, to: lift_s ?? 0 }));
  const checked = checkKind('plan', { ...plan, pours, lift_s });
  return checked.ok ? { ok: true, value: { plan: checked.value, remarks } } : checked;
}

function unusedId(wanted: string, ids: Set<string>): string {
  let id = wanted.slice(0, 50);
  for (let n = 2; ids.has(id); n++) id = `${wanted.slice(0, 50)}-${n}`;
  ids.add(id);
  return id;
}

const nearest = (plan: Plan, start_s: number): Pour =>
  plan.pours.reduce((best, pour) =>
    Math.abs(pour.start_s - start_s) < Math.abs(best.start_s - start_s) ? pour : best,
  );

/**
 * A pour cut into pieces of steady flow that follow its shape: `pieces` of equal time, none below half a second.
 * @returns Null when it is too short or too steady for that to matter.
 */
export function shapedPours(
  found: FoundPour,
  pieces = 4,
): { start_s: number; end_s: number; water_g: number }[] | null {
  const duration = found.end_s - found.start_s;
  const count = Math.min(pieces, Math.floor(duration));
  if (count < 2 || found.shape.unsteadiness < 0.08) return null;
  const { time_s, flow_g_s } = found.shape;
  const sums = new Array<number>(count).fill(0);
  time_s.forEach((t, k) => {
    const place = Math.floor(((t - found.start_s) / duration) * count);
    sums[Math.max(0, Math.min(count - 1, place))]! += flow_g_s[k] ?? 0;
  });
  const total = sums.reduce((a, b) => a + b, 0);
  if (!(total > 0) || sums.some((s) => s <= 0)) return null;
  return sums.map((s, k) => ({
    start_s: found.start_s + (k * duration) / count,
    end_s: found.start_s + ((k + 1) * duration) / count,
    water_g: (found.water_g * s) / total,
  }));
}
