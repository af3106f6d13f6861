import { clock, rounded, type StageRemark, stageRemark } from '../remark.ts';
import { endOf, type Network, type Starts } from '../timing/network.ts';
import { findByOrder } from '../timing/order-search.ts';
import { slackOf } from '../timing/slack.ts';
import { actionId, brewerNetwork, decantId, orderedNetwork, pourId, serveId, TICKS } from './compile.ts';
import { type KettleWater, kettleWater, type PlacedPour } from './kettle-water.ts';
import { effortFor, largestNumber, type NearestWays, nearestWays } from './nearest.ts';
import { type BrewerOrder, handsOn, pouringTime } from './order.ts';

/** One thing the hands do. */
export interface HandAction {
  id: string;
  brewer: number;
  what: 'pour' | 'stir' | 'swirl' | 'decant' | 'serve';
  /** Number of the pour, from 1; null for what is no pour. */
  pour: number | null;
  start_s: number;
  end_s: number;
  water_g: number | null;
  /** How late it may start with all else in place, and when everything after it may move [s]. */
  slack_alone_s: number;
  slack_s: number;
}

/** What a set of brewers allows. */
export interface BrewerSchedule {
  /** `no`: proven impossible. `open`: neither found nor excluded with the effort allowed. */
  possible: 'yes' | 'no' | 'open';
  asked: number;
  largest: number;
  /** That many is the most for certain; otherwise more were not found, which proves nothing. */
  largest_proven: boolean;
  /** Brewers that the schedule below is for: as asked, or the most that fit. */
  shown: number;
  actions: HandAction[];
  ends_s: number | null;
  /** Whether no shorter schedule exists. */
  shortest: boolean;
  latest_first_pour_s: number | null;
  nearest: NearestWays | null;
  water: KettleWater | null;
  remarks: StageRemark[];
}

/**
 * Who is poured when: the shortest schedule without clashes, or the proof that there is none with what would make it possible.
 * Exact to a millisecond; the end to a tenth of a second.
 */
export function scheduleBrewers(order: BrewerOrder): BrewerSchedule {
  const shortest = (network: Network) =>
    findByOrder(network, 'end', { effort: effortFor(network), step: TICKS / 10 });
  const found = shortest(orderedNetwork(order));
  const possible = found.starts ? 'yes' : found.answer === 'none' ? 'no' : 'open';
  const most = largestNumber(order);
  const largest = Math.max(most.largest, found.starts ? order.brewers : 0);
  const shown = found.starts ? order.brewers : largest;
  const shownOrder = { ...order, brewers: shown };
  const network = orderedNetwork(shownOrder);
  const base = {
    possible,
    asked: order.brewers,
    largest,
    largest_proven: most.proven && largest === most.largest,
    shown,
  } as const;
  const nearest = found.starts ? null : nearestWays(order);
  const result = found.starts || shown === 0 ? found : shortest(network);
  const drawn =
    result.starts && shown > 0 ? draw(shownOrder, brewerNetwork(shownOrder), result.starts) : null;
  const schedule: BrewerSchedule = {
    ...base,
    actions: drawn?.actions ?? [],
    ends_s: drawn?.ends_s ?? null,
    shortest: result.answer === 'best',
    latest_first_pour_s: drawn?.latest ?? null,
    nearest,
    water: drawn?.water ?? null,
    remarks: [],
  };
  return { ...schedule, remarks: remarksOn(order, schedule) };
}

function draw(order: BrewerOrder, network: Network, starts: Starts) {
  // The first pour is held at its earliest only to find the schedule; once found, it may move.
  const movable = { ...network, tasks: network.tasks.map(({ latest: _, ...task }) => task) };
  const slack = new Map(slackOf(movable, starts).map((s) => [s.task, s]));
  const water = kettleWater(order, placedPours(order, starts));
  const actions: HandAction[] = [];
  const add = (id: string, more: Pick<HandAction, 'brewer' | 'what' | 'pour' | 'water_g'>): void => {
    const task = network.tasks.find((t) => t.id === id)!;
    const { alone, latest } = slack.get(id)!;
    const start = starts[id]!;
    actions.push({
      id,
      ...more,
      start_s: start / TICKS,
      end_s: (start + task.duration) / TICKS,
      slack_alone_s: (alone - start) / TICKS,
      slack_s: (latest - start) / TICKS,
    });
  };
  for (let b = 0; b < order.brewers; b++) {
    order.pours.forEach(({ water_g }, p) => {
      add(pourId(b, p), { brewer: b + 1, what: 'pour', pour: p + 1, water_g });
    });
    const of = (what: HandAction['what']) => ({ brewer: b + 1, what, pour: null, water_g: null });
    order.actions.forEach(({ what, pour }, i) => {
      if (pour <= order.pours.length) add(actionId(b, what, i), of(what));
    });
    if (order.decant) add(decantId(b), of('decant'));
    if (order.serve) add(serveId(b), of('serve'));
  }
  const ends_s = endOf(network, starts) / TICKS;
  return {
    actions: actions.sort((a, b) => a.start_s - b.start_s),
    ends_s,
    // The whole schedule can be moved until it ends at the limit.
    latest: order.from_s + order.limit_s - ends_s,
    water,
  };
}

const placedPours = (order: BrewerOrder, starts: Starts): PlacedPour[] =>
  Array.from({ length: order.brewers }, (_, b) =>
    order.pours.map((pour, p) => ({
      id: pourId(b, p),
      start_s: starts[pourId(b, p)]! / TICKS,
      pours_s: pouringTime(order, pour),
      water_g: pour.water_g,
      asked_C: pour.asked_C,
      kettle: pour.kettle,
    })),
  ).flat();

function remarksOn(order: BrewerOrder, schedule: BrewerSchedule): StageRemark[] {
  const remarks: StageRemark[] = [];
  const { asked, largest, possible, nearest } = schedule;
  if (possible === 'yes')
    remarks.push(
      stageRemark('good', 'brewers_fit', {
        brewers: asked,
        ends: clock(schedule.ends_s!),
        latest: clock(schedule.latest_first_pour_s ?? 0),
      }),
    );
  else
    remarks.push(
      stageRemark(
        possible === 'no' ? 'impossible' : 'watch',
        possible === 'no' ? 'brewers_do_not_fit' : 'brewers_open',
        { brewers: asked, largest },
      ),
    );
  if (possible === 'no' && !schedule.largest_proven)
    remarks.push(stageRemark('note', 'largest_not_proven', { largest }));
  if (possible !== 'yes') remarks.push(...why(order));
  if (order.scales !== null && order.scales < asked)
    remarks.push(stageRemark('watch', 'scales_few', { scales: order.scales, brewers: asked }));
  remarks.push(...coolPours(schedule.water));
  if (nearest) remarks.push(...ways(order, nearest, largest));
  remarks.push(...waterRemarks(order));
  return remarks;
}

/** The sum that shows it, when the waits between pours are alike. */
function why(order: BrewerOrder): StageRemark[] {
  const longest = Math.max(...order.pours.map((pour) => handsOn(order, pour)));
  if (longest > order.limit_s)
    return [
      stageRemark('note', 'one_pour_too_long', { seconds: rounded(longest), limit: rounded(order.limit_s) }),
    ];
  const gaps = order.pours
    .slice(1)
    .map(({ after_s }) =>
      typeof after_s === 'number' ? after_s : (after_s.max ?? Number.POSITIVE_INFINITY),
    );
  const gap = Math.max(...gaps);
  const alike = order.pours.every((pour) => handsOn(order, pour) === handsOn(order, order.pours[0]!));
  const sum = order.brewers * longest;
  const people = Math.min(order.hands, order.kettles.length);
  if (!alike || !Number.isFinite(gap) || sum <= gap * people) return [];
  return [
    stageRemark('note', 'hands_sum', {
      one: rounded(longest),
      brewers: order.brewers,
      sum: rounded(sum),
      gap: rounded(gap * people),
    }),
  ];
}

function ways(order: BrewerOrder, nearest: NearestWays, largest: number): StageRemark[] {
  const remarks: StageRemark[] = [];
  const way = (code: string, values: Record<string, string | number> = {}): void => {
    remarks.push(stageRemark('nearest', code, { brewers: order.brewers, ...values }));
  };
  if (nearest.gaps) way('way_gaps', { first: rounded(nearest.gaps.first_s) });
  if (nearest.flow_g_s !== null) way('way_flow', { flow: rounded(nearest.flow_g_s, 2) });
  if (nearest.largest_pour_g) way('way_pour', { grams: nearest.largest_pour_g });
  if (nearest.scales) way('way_scales');
  if (nearest.helper) way('way_helper');
  if (nearest.one_after_another_s !== null)
    way('way_one_after_another', { ends: clock(nearest.one_after_another_s) });
  if (largest > 0) way('way_fewer', { largest });
  if (remarks.length === 0) way('no_way', { limit: clock(order.limit_s) });
  return remarks;
}

/** How much cooler than asked a pour may leave the kettle before it is said [K]; a choice, about what a thermometer shows. */
const COOLER = 1;

function coolPours(water: KettleWater | null): StageRemark[] {
  const cool = (water?.pours ?? []).filter(({ asked_C, start_C }) => asked_C - start_C >= COOLER);
  const worst = cool.reduce<(typeof cool)[number] | null>(
    (most, pour) => (!most || pour.asked_C - pour.start_C > most.asked_C - most.start_C ? pour : most),
    null,
  );
  if (!worst) return [];
  const { id, asked_C, start_C, kettle } = worst;
  return [
    stageRemark('watch', 'pours_cooler', {
      count: cool.length,
      id,
      kettle,
      asked: rounded(asked_C),
      is: rounded(start_C),
    }),
  ];
}

/** Said for the brewers asked for, whether they fit in time or not. */
function waterRemarks(order: BrewerOrder): StageRemark[] {
  const needed = order.brewers * order.pours.reduce((sum, { water_g }) => sum + water_g, 0);
  const usable = order.kettles.reduce((sum, k) => sum + Math.max(0, k.fill_g - k.keep_g), 0);
  const values = { needed: rounded(needed), usable: rounded(usable), missing: rounded(needed - usable) };
  return [
    ...(needed > usable ? [stageRemark('impossible', 'water_short', values)] : []),
    stageRemark('watch', 'scald'),
  ];
}
