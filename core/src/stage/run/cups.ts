import { compileCase } from '../../brew/compile.ts';
import { defaultParameters } from '../../brew/parameters.ts';
import type { BrewResult, CupCourse } from '../../brew/result.ts';
import { serve } from '../../brew/serving.ts';
import type { BrewBundle } from '../../documents/index.ts';
import { type Serving, serving } from '../../documents/kinds/plan.ts';
import { GRAM } from '../../units/index.ts';
import { type BrewerOrder, pouringTime } from '../brewers/order.ts';
import type { BrewerSchedule } from '../brewers/schedule.ts';
import { clock, rounded, type StageRemark, stageRemark } from '../remark.ts';

/** Drinks hotter than this are best not swallowed [°C] (IARC Monograph 116, 2018, from memory: "very hot" is above 65 °C). */
const VERY_HOT_C = 65;

/** One cup on the clock of the run. */
export interface CupMoment {
  brewer: number;
  /** The brewer has drained; the cup stands before its guest. */
  drained_s: number;
  served_s: number;
  served_C: number;
  /** Last moments that it is hot and warm; null when they lie beyond what was computed. */
  hot_until_s: number | null;
  warm_until_s: number | null;
  beverage_g: number;
  /** Its course, thinned for drawing. */
  time_s: number[];
  temperature_C: number[];
}

/** Cups of a run; `null` when there is nothing to serve in or nothing to serve. */
export interface CupPlan {
  hot_above_C: number;
  cold_below_C: number;
  cups: CupMoment[];
  remarks: StageRemark[];
}

/** Most points of a drawn course. */
const DRAWN = 80;

/**
 * How hot each brewer's cup is when it is served, and when it turns warm and cold, on the clock of the run: the engine's own serving, with every server
 * standing as long as the schedule lets it. Without a serve in the schedule, the serving of the plan counts.
 */
export function cupPlan(
  bundle: BrewBundle,
  result: BrewResult,
  order: BrewerOrder,
  schedule: BrewerSchedule,
  limit_s: number,
): CupPlan | null {
  const parameters = defaultParameters();
  const { air } = compileCase(bundle, parameters, 'draft');
  const asked = bundle.plan.serving ?? serving.parse({});
  const end = result.trace.time_s.length - 1;
  const solids = (result.trace.beverage_g[end]! * result.trace.strength_pct[end]!) / 100;
  const cups = Array.from({ length: schedule.shown }, (_, b): CupMoment | null => {
    const moments = momentsOf(order, schedule, b + 1);
    if (!moments) return null;
    const brewed = {
      time: moments.drained,
      water: (result.trace.beverage_g[end]! - solids) * GRAM,
      solids: solids * GRAM,
      temperature: result.trace.server_C[end]!,
    };
    const course = (how: Partial<Serving>): CupCourse | undefined =>
      serve({ ...asked, ...how }, bundle.setup, air, parameters, brewed)?.cups.at(-1);
    if (!moments.serve) return cupMoment(b + 1, moments.drained, course({}));
    const stands_s = Math.max(0, moments.serve.from - moments.drained);
    // Filling takes what it takes; carrying is what is left of the time that serving has in the schedule.
    const filled = course({ stands_s, carry_s: 0 })?.poured_s ?? moments.serve.to;
    return cupMoment(
      b + 1,
      moments.drained,
      course({ stands_s, carry_s: Math.max(0, moments.serve.to - filled) }),
    );
  }).filter((cup) => cup !== null);
  if (cups.length === 0) return null;
  const plan = { hot_above_C: asked.hot_above_C, cold_below_C: asked.cold_below_C, cups };
  return { ...plan, remarks: cupRemarks(plan, limit_s) };
}

function momentsOf(order: BrewerOrder, schedule: BrewerSchedule, brewer: number) {
  const mine = schedule.actions.filter((action) => action.brewer === brewer);
  const last = mine.filter(({ what }) => what === 'pour').at(-1);
  if (!last) return null;
  const drained = last.start_s + pouringTime(order, order.pours.at(-1)!) + order.drain_s;
  const action = mine.find(({ what }) => what === 'serve');
  return { drained, serve: action ? { from: action.start_s, to: action.end_s } : null };
}

function cupMoment(brewer: number, drained_s: number, course: CupCourse | undefined): CupMoment | null {
  if (!course) return null;
  const n = course.time_s.length;
  const step = Math.max(1, Math.ceil(n / DRAWN));
  const kept = Array.from({ length: n }, (_, i) => i).filter((i) => i % step === 0 || i === n - 1);
  return {
    brewer,
    drained_s,
    served_s: course.served_s,
    served_C: course.served_C,
    hot_until_s: course.hot_until_s,
    warm_until_s: course.warm_until_s,
    beverage_g: course.beverage_g,
    time_s: kept.map((i) => course.time_s[i]!),
    temperature_C: kept.map((i) => course.temperature_C[i]!),
  };
}

/** Temperature of a cup at a moment [°C]; of its first or last point outside its course. */
export function cupAt({ time_s, temperature_C }: CupMoment, at_s: number): number {
  const next = time_s.findIndex((t) => t >= at_s);
  if (next < 0) return temperature_C.at(-1)!;
  if (next === 0) return temperature_C[0]!;
  const from = time_s[next - 1]!;
  const share = (at_s - from) / (time_s[next]! - from);
  return temperature_C[next - 1]! + share * (temperature_C[next]! - temperature_C[next - 1]!);
}

function cupRemarks(plan: Omit<CupPlan, 'remarks'>, limit_s: number): StageRemark[] {
  const { cups, cold_below_C } = plan;
  const remarks: StageRemark[] = [];
  const last = cups.reduce((a, b) => (b.served_s > a.served_s ? b : a));
  const then = cups.map((cup) => cupAt(cup, last.served_s));
  if (cups.length > 1)
    remarks.push(
      stageRemark('note', 'cups_apart', {
        at: clock(Math.round(last.served_s)),
        low: rounded(Math.min(...then)),
        high: rounded(Math.max(...then)),
      }),
    );
  const hottest = Math.max(...cups.map(({ served_C }) => served_C));
  if (hottest > VERY_HOT_C)
    remarks.push(stageRemark('watch', 'cups_very_hot', { hottest: rounded(hottest), limit: VERY_HOT_C }));
  const cold = cups.filter((cup) => cup.warm_until_s !== null && cup.warm_until_s < limit_s);
  if (cold.length === 0)
    remarks.push(stageRemark('note', 'cups_not_cold', { cold: cold_below_C, limit: clock(limit_s) }));
  return remarks;
}
