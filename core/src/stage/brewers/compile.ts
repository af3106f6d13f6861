import type { Lag, Network, Task } from '../timing/network.ts';
import { type BrewerOrder, gapBefore, handsOn, pouringTime } from './order.ts';

/** Ticks in a second: milliseconds, so that no rounding decides what can be done. */
export const TICKS = 1_000;
export const ticks = (seconds: number): number => Math.round(seconds * TICKS);
/** Lengths are rounded up: a schedule must never be short of time. A crumb of floating point is not a millisecond. */
export const lengthTicks = (seconds: number): number => Math.ceil(seconds * TICKS - 1e-6);

export const pourId = (brewer: number, pour: number): string => `brewer ${brewer + 1} pour ${pour + 1}`;
export const actionId = (brewer: number, what: 'stir' | 'swirl', number: number): string =>
  `brewer ${brewer + 1} ${what} ${number + 1}`;
export const drainId = (brewer: number): string => `brewer ${brewer + 1} drain`;
export const serveId = (brewer: number): string => `brewer ${brewer + 1} serve`;
export const decantId = (brewer: number): string => `brewer ${brewer + 1} decant`;

const kettleId = (number: number): string => `kettle ${number}`;
/** A pour may name a kettle that is not there; then it takes any. */
const named = (order: BrewerOrder, kettle: number | null): boolean =>
  kettle !== null && kettle <= order.kettles.length;

interface Draft {
  tasks: Task[];
  lags: Lag[];
}

/**
 * Brewers as tasks that share hands and kettles. Equal brewers begin in the order of their numbers, and the first pour is as early as it may
 * be: a schedule can be moved as a whole, so neither takes anything away, and a search that had to exclude the same thing at
 * every moment would never end.
 */
export function brewerNetwork(order: BrewerOrder): Network {
  const draft: Draft = { tasks: [], lags: [] };
  for (let b = 0; b < order.brewers; b++) {
    addPours(order, b, draft);
    addActions(order, b, draft);
    addRest(order, b, draft);
    if (b > 0) draft.lags.push({ from: pourId(b - 1, 0), to: pourId(b, 0), min: 0 });
  }
  addTogether(order, draft);
  addScales(order, draft);
  return {
    ...draft,
    resources: {
      hands: order.hands,
      kettle: order.kettles.length,
      ...Object.fromEntries(order.kettles.map((_, k) => [kettleId(k + 1), 1])),
    },
    limit: ticks(order.limit_s),
  };
}

/**
 * The same for a search: with every task of a brewer after the same task of the one before it. Brewers are alike, so nothing is lost: where x ≤ y + c
 * holds for each of them, it holds between the k-th smallest x and the k-th smallest y, and who uses hands and kettles is only
 * renamed. Every answer that differs by names alone is then looked at once.
 */
export function orderedNetwork(order: BrewerOrder): Network {
  const network = brewerNetwork(order);
  const length = new Map(network.tasks.map(({ id, duration, needs }) => [id, needs.hands ? duration : 0]));
  const apart = (id: string): number => (order.hands === 1 ? length.get(id)! : 0);
  const lags = Array.from({ length: order.brewers - 1 }, (_, b) =>
    tasksOf(order, b).map((id, i) => ({ from: id, to: tasksOf(order, b + 1)[i]!, min: apart(id) })),
  ).flat();
  return { ...network, lags: [...network.lags, ...lags] };
}

/** Ids of what is done at one brewer. */
const tasksOf = (order: BrewerOrder, b: number): string[] => [
  ...order.pours.map((_, p) => pourId(b, p)),
  ...order.actions.flatMap(({ what, pour }, i) => (pour <= order.pours.length ? [actionId(b, what, i)] : [])),
  ...(order.decant ? [decantId(b)] : []),
  ...(order.serve ? [serveId(b)] : []),
];

function addPours(order: BrewerOrder, b: number, { tasks, lags }: Draft): void {
  order.pours.forEach((pour, p) => {
    tasks.push({
      id: pourId(b, p),
      duration: lengthTicks(handsOn(order, pour)),
      needs: { hands: 1, kettle: 1, ...(named(order, pour.kettle) && { [kettleId(pour.kettle!)]: 1 }) },
      earliest: ticks(order.from_s),
      ...(b === 0 && p === 0 && { latest: ticks(order.from_s) }),
    });
    if (p === 0) return;
    const { min, max } = gapBefore(order, p);
    lags.push({
      from: pourId(b, p - 1),
      to: pourId(b, p),
      min: ticks(min),
      ...(max !== null && { max: ticks(max) }),
    });
  });
}

/** A stir or a swirl needs hands that have just put the kettle down, so it may wait for that and its give. */
function addActions(order: BrewerOrder, b: number, { tasks, lags }: Draft): void {
  order.actions.forEach(({ what, pour, after_s, takes_s, give_s }, i) => {
    const poured = order.pours[pour - 1];
    if (!poured) return;
    const id = actionId(b, what, i);
    tasks.push({ id, duration: lengthTicks(takes_s), needs: { hands: 1 } });
    const last = Math.max(lengthTicks(handsOn(order, poured)), ticks(after_s)) + ticks(give_s);
    lags.push({ from: pourId(b, pour - 1), to: id, min: ticks(after_s), max: last });
  });
}

/** Draining holds nobody; it is a task of its own, so that the end of the run waits for it. */
function addRest(order: BrewerOrder, b: number, { tasks, lags }: Draft): void {
  const last = order.pours.length - 1;
  const poured = lengthTicks(pouringTime(order, order.pours[last]!));
  const drained = poured + lengthTicks(order.drain_s);
  tasks.push({ id: drainId(b), duration: lengthTicks(order.drain_s), needs: {} });
  lags.push({ from: pourId(b, last), to: drainId(b), min: poured, max: poured });
  const { decant, serve } = order;
  if (decant) {
    tasks.push({ id: decantId(b), duration: lengthTicks(decant.takes_s), needs: { hands: 1 } });
    lags.push({
      from: pourId(b, last),
      to: decantId(b),
      min: drained,
      max: drained + ticks(decant.within_s),
    });
  }
  if (!serve) return;
  tasks.push({ id: serveId(b), duration: lengthTicks(serve.takes_s), needs: { hands: 1 } });
  const ready = decant ? lengthTicks(decant.takes_s) : drained;
  lags.push({
    from: decant ? decantId(b) : pourId(b, last),
    to: serveId(b),
    min: ready,
    max: ready + ticks(serve.within_s),
  });
}

function addTogether(order: BrewerOrder, { lags }: Draft): void {
  const last = order.brewers - 1;
  if (last === 0) return;
  if (order.alongside)
    for (let b = 0; b < last; b++)
      lags.push({ from: pourId(last, 0), to: pourId(b, order.pours.length - 1), min: 0 });
  if (order.apart_s !== null)
    lags.push({ from: pourId(0, 0), to: pourId(last, 0), min: 0, max: ticks(order.apart_s) });
}

/** A brewer takes the scale of the one that many before it, when that one has drained: alike, the first on may be the first off. */
function addScales(order: BrewerOrder, { lags }: Draft): void {
  const { scales, brewers, pours } = order;
  if (scales === null) return;
  const last = pours.length - 1;
  const drained = lengthTicks(pouringTime(order, pours[last]!)) + lengthTicks(order.drain_s);
  for (let b = scales; b < brewers; b++)
    lags.push({ from: pourId(b - scales, last), to: pourId(b, 0), min: drained + ticks(order.move_s) });
}
