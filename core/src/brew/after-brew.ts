import type { BrewBundle, Chill } from '../documents/index.ts';
import { celsius, GRAM, materialProperties } from '../units/index.ts';
import type { BrewCase } from './case.ts';
import { CHILL_CONTACT, type ChillOutcome, chillServer } from './chill.ts';
import { kettleCourses, kettleFindings } from './kettles.ts';
import type { Parameters } from './parameters.ts';
import { remark } from './remarks.ts';
import type { ChillCourse, Cup, KettleCourse, Remark, ServingCourse, Trace } from './result.ts';
import { serve } from './serving.ts';
import { servingRemarks } from './serving-remarks.ts';

/** What surrounds the brew itself: kettles before it, a cold body in the way of its drip, cups after it. */
export interface AfterBrew {
  /** With the server as it is when its first part was chilled. */
  trace: Trace;
  cup: Cup;
  kettles: readonly KettleCourse[];
  chill: ChillCourse | null;
  serving: ServingCourse | null;
  /** To be sorted in among the others. */
  remarks: Remark[];
}

/** Computes what surrounds a finished brew. Pure; reads time, beverage, strength and server temperature of the trace. */
export function afterBrew(
  bundle: BrewBundle,
  c: BrewCase,
  p: Parameters,
  brewTrace: Trace,
  brewCup: Cup,
): AfterBrew {
  const { plan, setup } = bundle;
  const kettles = kettleCourses(bundle);
  const remarks = kettleFindings(bundle, kettles).map((found) =>
    remark(found.level, found.code, found.at_s, found.values),
  );
  let trace = brewTrace;
  let cup = brewCup;
  let chill: ChillCourse | null = null;
  if (plan.chill) {
    const outcome = chilled(plan.chill, c, trace);
    if (outcome.chilled > 0) {
      chill = chillCourseOf(plan.chill, trace, outcome);
      trace = { ...trace, server_C: outcome.server };
      cup = { ...cup, server_C: outcome.server.at(-1)! };
    }
    remarks.push(...chillRemarks(plan.chill, outcome));
  }
  const end = trace.time_s.length - 1;
  const solids = (trace.beverage_g[end]! * trace.strength_pct[end]!) / 100;
  const serving = plan.serving
    ? serve(plan.serving, setup, c.air, p, {
        time: trace.time_s[end]!,
        water: (trace.beverage_g[end]! - solids) * GRAM,
        solids: solids * GRAM,
        temperature: trace.server_C[end]!,
      })
    : null;
  if (plan.serving && serving) remarks.push(...servingRemarks(plan.serving, setup, cup, serving));
  return { trace, cup, kettles, chill, serving, remarks };
}

/** Temperature of the server when the brew is done [°C], with the chilling of the plan. */
export function serverAtEnd_C(bundle: BrewBundle, c: BrewCase, trace: Trace): number {
  const { chill } = bundle.plan;
  return (chill ? chilled(chill, c, trace).server : trace.server_C).at(-1)!;
}

function chilled(chill: Chill, c: BrewCase, trace: Trace): ChillOutcome {
  const share = shareOfFirst(chill, trace);
  const water = trace.beverage_g.map((mass, i) => mass * (1 - trace.strength_pct[i]! / 100) * GRAM);
  const { bypass, server, air } = c;
  return chillServer(
    { time: trace.time_s, water, temperature: trace.server_C, share },
    {
      how: chill.how,
      heatCapacity: chill.mass_g * GRAM * materialProperties(chill.material).heatCapacity,
      temperature: chill.temperature_C,
      contact: chill.contact_W_K ?? CHILL_CONTACT,
    },
    {
      heatCapacity: server.heatCapacity,
      loss: server.loss,
      air: celsius(air.temperature),
      bypass: bypass && { mass: bypass.mass, temperature: celsius(bypass.temperature) },
    },
  );
}

/** Share of what drips between moment i−1 and i that belongs to the first part, `[n]`. */
export function shareOfFirst({ first }: Chill, trace: Pick<Trace, 'time_s' | 'beverage_g'>): Float64Array {
  const axis = first.by === 'mass' ? trace.beverage_g : trace.time_s;
  const limit = first.by === 'mass' ? first.drip_g : first.until_s;
  return Float64Array.from(axis, (to, i) => {
    const from = i === 0 ? to : axis[i - 1]!;
    if (to <= limit) return 1;
    return from >= limit ? 0 : (limit - from) / (to - from);
  });
}

function chillCourseOf(chill: Chill, trace: Trace, outcome: ChillOutcome): ChillCourse {
  const share = shareOfFirst(chill, trace);
  const end = trace.time_s.length - 1;
  let drip = 0;
  let solids = 0;
  let until = 0;
  for (let i = 1; i <= end; i++) {
    const mass = trace.beverage_g[i]! - trace.beverage_g[i - 1]!;
    if (mass <= 0 || share[i]! <= 0) continue;
    const dissolved = (k: number): number => (trace.beverage_g[k]! * trace.strength_pct[k]!) / 100;
    drip += share[i]! * mass;
    solids += share[i]! * (dissolved(i) - dissolved(i - 1));
    until = trace.time_s[i - 1]! + share[i]! * (trace.time_s[i]! - trace.time_s[i - 1]!);
  }
  return {
    drip_g: drip,
    strength_pct: (solids / drip) * 100,
    until_s: until,
    before_C: outcome.before,
    after_C: outcome.after,
    body_C: outcome.body,
    heat_kJ: outcome.heat / 1e3,
    server_K: trace.server_C[end]! - outcome.server[end]!,
    closure: outcome.closure,
  };
}

/** A cold body is spent when it cools the last of its part by less than this [K]. */
const SPENT = 5;

function chillRemarks(chill: Chill, outcome: ChillOutcome): Remark[] {
  const { first } = chill;
  if (outcome.chilled <= 0)
    return first.by === 'time'
      ? [remark('caution', 'chill_never', first.until_s, {})]
      : [remark('caution', 'chill_nothing', null, {})];
  if (outcome.lastDrop >= SPENT) return [];
  const tenth = (x: number): number => Math.round(10 * x) / 10;
  const values = { body: Math.round(outcome.body), drop: tenth(Math.max(0, outcome.lastDrop)) };
  return [remark('note', 'chill_spent', null, values)];
}
