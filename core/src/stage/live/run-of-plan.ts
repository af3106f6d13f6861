import type { OvertimePenalty, Plan } from '../../documents/index.ts';
import { pourDuration } from '../../documents/index.ts';
import type { Cue } from '../../documents/kinds/rehearsal.ts';
import { lengthTicks, pourId, TICKS, ticks } from '../brewers/compile.ts';
import { clock, rounded, type StageRemark, stageRemark } from '../remark.ts';
import type { Lag, Network, Starts, Task } from '../timing/network.ts';
import { findByOrder } from '../timing/order-search.ts';
import { inOrder, type LiveRun } from './live-run.ts';

/** How a plan is poured several times over when there is nothing but the plan. */
export interface PlanRunOptions {
  brewers: number;
  /** From one brewer to the next, and the kettle up and down [s]. */
  move_s: number;
  /** How much later than in the plan anything may begin [s]. */
  give_s: number;
  limit_s: number;
  penalty: OvertimePenalty | null;
}

/** A run to be followed, or why there is none. */
export interface PreparedRun {
  run: LiveRun | null;
  remarks: StageRemark[];
}

/** Dead ends spent on one schedule; a choice, so that an answer takes a second or two at most. */
const EFFORT = 400;

/** A run from a plan alone: one pair of hands pours it into so many brewers. */
export function runOfPlan(plan: Plan, options: PlanRunOptions): PreparedRun {
  const { brewers, limit_s } = options;
  if (plan.pours.length === 0) return none(stageRemark('impossible', 'live_no_pours', { plan: plan.name }));
  if (limit_s <= 0) return none(stageRemark('impossible', 'live_no_time', { limit: clock(limit_s) }));
  const network = planNetwork(plan, options, brewers);
  const starts = placed(network);
  if (!starts) return none(...whyNot(plan, options));
  const cues = inOrder(Array.from({ length: brewers }, (_, b) => cuesOf(plan, b, starts)).flat());
  const ends_s = Math.max(...cues.map(({ at_s, takes_s }) => at_s + takes_s));
  return {
    run: {
      title: plan.name,
      cues,
      brewers,
      limit_s,
      network,
      starts,
      ticks_per_s: TICKS,
      penalty: options.penalty,
      expendable: [],
    },
    remarks: [
      ends_s > limit_s
        ? stageRemark('watch', 'live_over', {
            ends: clock(rounded(ends_s)),
            limit: clock(limit_s),
            over: rounded(ends_s - limit_s),
          })
        : stageRemark('good', 'live_fits', {
            ends: clock(rounded(ends_s)),
            limit: clock(limit_s),
            spare: rounded(limit_s - ends_s),
          }),
    ],
  };
}

const none = (...remarks: StageRemark[]): PreparedRun => ({ run: null, remarks });

const placed = (network: Network): Starts | null =>
  findByOrder(network, 'end', { effort: EFFORT, step: TICKS / 10 }).starts;

/** What the hands do in one brewing of a plan, in seconds after its first pour. */
function actionsOf(
  plan: Plan,
): { key: string; what: Cue['what']; after_s: number; takes_s: number; water_g: number | null }[] {
  const first = Math.min(...plan.pours.map(({ start_s }) => start_s));
  const after = (moment_s: number): number => Math.max(0, moment_s - first);
  return [
    ...plan.pours.map((pour, p) => ({
      key: `pour ${p + 1}`,
      what: 'pour' as const,
      after_s: after(pour.start_s),
      takes_s: pourDuration(pour),
      water_g: pour.water_g,
    })),
    ...plan.actions.map(({ what, start_s, duration_s }, a) => ({
      key: `${what} ${a + 1}`,
      what,
      after_s: after(start_s),
      takes_s: duration_s,
      water_g: null,
    })),
    ...(plan.outlet_opens_s === null
      ? []
      : [
          {
            key: 'open',
            what: 'open' as const,
            after_s: after(plan.outlet_opens_s),
            takes_s: 1,
            water_g: null,
          },
        ]),
    ...(plan.lift_s === null
      ? []
      : [{ key: 'lift', what: 'lift' as const, after_s: after(plan.lift_s), takes_s: 2, water_g: null }]),
  ].sort((a, b) => a.after_s - b.after_s);
}

const cueId = (brewer: number, key: string): string => `brewer ${brewer + 1} ${key}`;

function planNetwork(plan: Plan, { move_s, give_s }: PlanRunOptions, brewers: number): Network {
  const actions = actionsOf(plan);
  const tasks: Task[] = [];
  const lags: Lag[] = [];
  for (let b = 0; b < brewers; b++) {
    actions.forEach(({ key, what, after_s, takes_s }, i) => {
      // One brewer is done as its plan says, to the second, even where hands would be in two places.
      const moves = brewers > 1 && what === 'pour' ? move_s : 0;
      const next = actions[i + 1];
      const free = brewers > 1 || !next || after_s + takes_s <= next.after_s;
      tasks.push({
        id: cueId(b, key),
        duration: lengthTicks(takes_s + moves),
        needs: free ? { hands: 1 } : {},
        earliest: 0,
        ...(b === 0 && i === 0 && { latest: 0 }),
      });
      if (i === 0) return;
      const wait = ticks(after_s - actions[0]!.after_s);
      const give = brewers > 1 ? ticks(give_s) : 0;
      lags.push({ from: cueId(b, actions[0]!.key), to: cueId(b, key), min: wait, max: wait + give });
    });
    if (b > 0) lags.push({ from: pourId(b - 1, 0), to: pourId(b, 0), min: 0 });
  }
  const each = Math.max(...actions.map(({ after_s, takes_s }) => after_s + takes_s)) + give_s;
  return {
    tasks,
    lags,
    resources: { hands: 1 },
    limit: ticks(brewers * (each + move_s * actions.length) + 60),
  };
}

function cuesOf(plan: Plan, brewer: number, starts: Starts): Cue[] {
  let scale = 0;
  return actionsOf(plan).map(({ key, what, takes_s, water_g }): Cue => {
    scale += water_g ?? 0;
    return {
      id: cueId(brewer, key),
      what,
      brewer: brewer + 1,
      at_s: starts[cueId(brewer, key)]! / TICKS,
      takes_s,
      water_g,
      scale_g: water_g === null ? null : scale,
      title: '',
      text: '',
    };
  });
}

/** Why so many brewers cannot be served, and the most that can. */
function whyNot(plan: Plan, options: PlanRunOptions): StageRemark[] {
  let largest = 0;
  for (let n = 1; n < options.brewers; n++) {
    if (!placed(planNetwork(plan, options, n))) break;
    largest = n;
  }
  const said = { brewers: options.brewers, largest };
  return [
    stageRemark('impossible', 'brewers_do_not_fit', said),
    ...(largest > 0 ? [stageRemark('nearest', 'way_fewer', said)] : []),
    ...(options.give_s < 60
      ? [stageRemark('nearest', 'live_more_give', { give: rounded(options.give_s) })]
      : []),
  ];
}
