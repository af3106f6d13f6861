import { z } from 'zod';
import { localId, number } from '../../documents/fields.ts';
import { contest } from '../../documents/kinds/contest.ts';
import { type Checked, type Problem, problem } from '../../documents/problem.ts';
import { brewerNetwork, lengthTicks, TICKS, ticks } from '../brewers/compile.ts';
import { brewerOrder } from '../brewers/order.ts';
import { scheduleBrewers } from '../brewers/schedule.ts';
import type { StageRemark } from '../remark.ts';
import type { Network, Starts } from '../timing/network.ts';
import { type WayOn, waysOn } from './replan.ts';
import { sayWays } from './say-ways.ts';

const moment = number(0, 14_400);

/** A run that is behind: what was planned, what has begun, what may be left out. */
export const lateOrder = z.strictObject({
  brewers: brewerOrder,
  /** What is said, in order. */
  talk: z
    .array(
      z.strictObject({
        id: localId,
        takes_s: number(0, 3_600),
        at_s: moment,
        may_be_cut: z.boolean().default(false),
        points: number(0, 1_000).default(0),
      }),
    )
    .max(60)
    .default([]),
  /** By the ids of the schedule, such as "brewer 1 pour 2", or of the talk. */
  begun: z.array(z.strictObject({ id: z.string().min(1).max(80), at_s: moment })).max(500),
  now_s: moment,
  /** More that may be left out, such as the last pour of every brewer. */
  droppable: z
    .array(
      z.strictObject({
        name: z.string().trim().min(1).max(120),
        ids: z.array(z.string().min(1).max(80)).min(1).max(60),
        points: number(0, 1_000),
      }),
    )
    .max(20)
    .default([]),
  penalty: contest.shape.penalty,
});
export type LateOrder = z.infer<typeof lateOrder>;

/** A way on in seconds. */
export interface SaidWay {
  left_out: readonly string[];
  ends_s: number;
  over_s: number;
  points: number;
  disqualified: boolean;
  starts_s: Readonly<Record<string, number>>;
}

/** Ways to go on from here, best first, in sentences and figures. */
export function answerLate(order: LateOrder): Checked<{ ways: SaidWay[]; remarks: StageRemark[] }> {
  const planned = scheduleBrewers(order.brewers);
  const starts: Record<string, number> = {};
  for (const { id, start_s } of planned.actions) starts[id] = Math.round(start_s * TICKS);
  const network = withTalk(brewerNetwork({ ...order.brewers, brewers: planned.shown || 1 }), order, starts);
  if (planned.shown === 0) return { ok: true, value: { ways: [], remarks: planned.remarks } };
  const problems = unknownIds(order, new Set(network.tasks.map(({ id }) => id)));
  if (problems.length > 0) return { ok: false, problems };
  const ways = waysOn({
    network,
    starts,
    begun: Object.fromEntries(order.begun.map(({ id, at_s }) => [id, ticks(at_s)])),
    now: ticks(order.now_s),
    limit: ticks(order.brewers.limit_s),
    ticksPerSecond: TICKS,
    penalty: order.penalty,
    droppable: [
      ...order.talk.flatMap(({ id, may_be_cut, points }) =>
        may_be_cut ? [{ name: id, tasks: [id], points }] : [],
      ),
      ...order.droppable.map(({ name, ids, points }) => ({ name, tasks: ids, points })),
    ],
  });
  return { ok: true, value: { ways: ways.map(said), remarks: sayWays(ways, TICKS) } };
}

function withTalk(brew: Network, { talk }: LateOrder, starts: Record<string, number>): Network {
  const said = talk.filter(({ id }) => !brew.tasks.some((task) => task.id === id));
  for (const { id, at_s } of said) starts[id] = ticks(at_s);
  for (const { from, to, min } of brew.lags)
    if (starts[to] === undefined && starts[from] !== undefined) starts[to] = starts[from] + min;
  return {
    ...brew,
    resources: { ...brew.resources, voice: 1 },
    tasks: [
      ...brew.tasks.map(({ latest: _, ...task }) => task),
      ...said.map(({ id, takes_s }) => ({ id, duration: lengthTicks(takes_s), needs: { voice: 1 } })),
    ],
    lags: [
      ...brew.lags,
      ...said
        .slice(1)
        .map(({ id }, i) => ({ from: said[i]!.id, to: id, min: lengthTicks(said[i]!.takes_s) })),
    ],
  };
}

function unknownIds({ begun, droppable }: LateOrder, known: ReadonlySet<string>): Problem[] {
  const allowed = [...known].map((id) => JSON.stringify(id)).join(', ');
  const wrong = (path: (string | number)[], id: string): Problem[] =>
    known.has(id) ? [] : [problem(path, 'not_one_of', { value: JSON.stringify(id), allowed })];
  return [
    ...begun.flatMap(({ id }, i) => wrong(['begun', i, 'id'], id)),
    ...droppable.flatMap(({ ids }, d) => ids.flatMap((id, i) => wrong(['droppable', d, 'ids', i], id))),
  ];
}

const seconds = (starts: Starts): Record<string, number> =>
  Object.fromEntries(Object.entries(starts).map(([id, at]) => [id, at / TICKS]));

const said = (way: WayOn): SaidWay => ({
  left_out: way.left_out,
  ends_s: way.end / TICKS,
  over_s: way.over_s,
  points: way.points,
  disqualified: way.disqualified,
  starts_s: seconds(way.starts),
});
