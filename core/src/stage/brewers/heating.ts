import { z } from 'zod';
import { heatingTime, type KettleBody } from '../../brew/kettle-course.ts';
import { KETTLE_EFFICIENCY } from '../../brew/kettles.ts';
import { above0, number } from '../../documents/fields.ts';
import { celsius, GRAM, kelvin } from '../../units/index.ts';
import { clock, rounded, type StageRemark, stageRemark } from '../remark.ts';
import { endOf } from '../timing/network.ts';
import { search } from '../timing/search.ts';
import { lengthTicks, TICKS, ticks } from './compile.ts';

/** Kettles to be heated on shared circuits. */
export const heatingOrder = z.strictObject({
  kettles: z
    .array(
      z.strictObject({
        name: z.string().trim().min(1).max(60),
        water_g: above0(10_000),
        from_C: number(0, 100.5).default(20),
        to_C: number(0, 100.5).default(94),
        /** As printed on it, at this voltage; a heater gives what its resistance lets it, so it falls with the square. */
        power_W: number(0, 5_000),
        rated_V: number(90, 260).default(230),
        circuit: z.string().trim().min(1).max(60).default('wall'),
        body_equivalent_g: number(0, 1_000).default(100),
        loss_W_K: number(0.05, 20).default(1.2),
      }),
    )
    .min(1)
    .max(8),
  circuits: z
    .array(
      z.strictObject({
        name: z.string().trim().min(1).max(60),
        limit_A: above0(200),
        other_W: number(0, 20_000).default(0),
      }),
    )
    .max(8)
    .default([]),
  mains_V: number(90, 260).default(230),
  within_s: number(0, 7_200).default(300),
  air_C: number(-10, 50).default(22),
  boils_C: number(80, 102).default(100),
  efficiency: number(0.3, 1).default(KETTLE_EFFICIENCY),
});
export type HeatingOrder = z.infer<typeof heatingOrder>;
type Kettle = HeatingOrder['kettles'][number];

/** When each kettle is switched on, and when it is hot. */
export interface HeatingPlan {
  kettles: {
    name: string;
    power_W: number;
    /** Null: it never gets there. */
    takes_s: number | null;
    on_s: number | null;
    hot_s: number | null;
    /** Hottest it can get on this power [°C]. */
    most_C: number;
  }[];
  /** All hot; null when one never is. */
  ready_s: number | null;
  remarks: StageRemark[];
}

const powerAt = (kettle: Kettle, mains_V: number): number => kettle.power_W * (mains_V / kettle.rated_V) ** 2;

const bodyOf = (order: HeatingOrder, kettle: Kettle, power: number): KettleBody => ({
  body: kettle.body_equivalent_g * GRAM,
  power: power * order.efficiency,
  loss: kettle.loss_W_K,
  air: kelvin(order.air_C),
  boils: kelvin(order.boils_C),
});

const timeAt = (order: HeatingOrder, kettle: Kettle, power: number): number =>
  heatingTime(
    bodyOf(order, kettle, power),
    kelvin(kettle.from_C),
    kettle.water_g * GRAM,
    kelvin(kettle.to_C),
  );

/** Heating times at the voltage that is there, and the order in which shared circuits are hot first, by exact search. */
export function planHeating(order: HeatingOrder): HeatingPlan {
  const kettles = order.kettles.map((kettle) => {
    const power_W = powerAt(kettle, order.mains_V);
    const time = timeAt(order, kettle, power_W);
    const body = bodyOf(order, kettle, power_W);
    const most_C = celsius(Math.min(body.boils, body.air + body.power / body.loss));
    return {
      name: kettle.name,
      power_W,
      most_C,
      takes_s: Number.isFinite(time) ? time : null,
      on_s: null,
      hot_s: null,
    };
  });
  const plan: HeatingPlan = { kettles, ready_s: null, remarks: [] };
  plan.remarks.push(...tooWeak(order, plan));
  const starts = switchingOrder(order, plan);
  if (starts) {
    plan.kettles = kettles.map((k, i) => ({
      ...k,
      on_s: starts[i]!,
      hot_s: k.takes_s === null ? null : starts[i]! + k.takes_s,
    }));
    if (kettles.every(({ takes_s }) => takes_s !== null))
      plan.ready_s = Math.max(...plan.kettles.map(({ hot_s }) => hot_s!));
  }
  plan.remarks.push(...readiness(order, plan));
  return plan;
}

/** Moments to switch on [s], by number of the kettle; null when a circuit cannot bear one kettle alone. Adds what to say of circuits. */
function switchingOrder(order: HeatingOrder, plan: HeatingPlan): number[] | null {
  const room = new Map(
    order.circuits.map((c) => [c.name, Math.floor(c.limit_A * order.mains_V - c.other_W)] as const),
  );
  for (const [i, kettle] of order.kettles.entries()) {
    const limit = room.get(kettle.circuit);
    const need = Math.ceil(plan.kettles[i]!.power_W);
    if (limit === undefined || need <= limit) continue;
    plan.remarks.push(
      stageRemark('impossible', 'circuit_too_weak', {
        name: kettle.name,
        circuit: kettle.circuit,
        need,
        limit: Math.max(0, limit),
      }),
    );
    return null;
  }
  const network = {
    tasks: order.kettles.map((kettle, i) => ({
      id: `${i}`,
      duration: lengthTicks(plan.kettles[i]!.takes_s ?? 0),
      needs: room.has(kettle.circuit) ? { [kettle.circuit]: Math.ceil(plan.kettles[i]!.power_W) } : {},
    })),
    lags: [],
    resources: Object.fromEntries(room),
    limit: ticks(8 * 7_200),
  };
  const { starts } = search(network, { what: 'end' }, { step: TICKS / 10 });
  if (!starts) return null;
  const together = Math.max(...network.tasks.map(({ duration }) => duration));
  if (endOf(network, starts) > together + TICKS)
    plan.remarks.push(
      stageRemark('watch', 'circuits_take_turns', {
        seconds: Math.round((endOf(network, starts) - together) / TICKS),
      }),
    );
  return order.kettles.map((_, i) => starts[`${i}`]! / TICKS);
}

function tooWeak(order: HeatingOrder, plan: HeatingPlan): StageRemark[] {
  return order.kettles.flatMap((kettle, i) => {
    const { takes_s, most_C, power_W, name } = plan.kettles[i]!;
    if (kettle.to_C > order.boils_C)
      return [
        stageRemark('impossible', 'above_boiling', {
          name,
          asked: kettle.to_C,
          boils: rounded(order.boils_C),
        }),
      ];
    if (takes_s !== null && takes_s <= order.within_s) return [];
    const values = { name, power: Math.round(power_W), asked: kettle.to_C };
    const need = powerFor(order, kettle);
    const nearest =
      need === null
        ? []
        : [
            stageRemark('nearest', 'power_needed', {
              name,
              need,
              asked: kettle.to_C,
              within: clock(order.within_s),
            }),
          ];
    return takes_s === null
      ? [stageRemark('impossible', 'never_hot', { ...values, most: rounded(most_C) }), ...nearest]
      : [
          stageRemark('impossible', 'hot_too_late', {
            ...values,
            takes: clock(takes_s),
            within: clock(order.within_s),
          }),
          ...nearest,
        ];
  });
}

/** Power that heats one kettle in time, at the plug, rounded up to 50 W; null past 5 kW. */
function powerFor(order: HeatingOrder, kettle: Kettle): number | null {
  for (let power = 50; power <= 5_000; power += 50)
    if (timeAt(order, kettle, power) <= order.within_s) return power;
  return null;
}

function readiness(order: HeatingOrder, plan: HeatingPlan): StageRemark[] {
  if (plan.ready_s === null) return [];
  const values = { ready: clock(plan.ready_s), within: clock(order.within_s) };
  return [
    plan.ready_s <= order.within_s
      ? stageRemark('good', 'all_hot_in_time', values)
      : stageRemark('impossible', 'all_hot_late', values),
    stageRemark('watch', 'scald'),
  ];
}
