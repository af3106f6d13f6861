import type { Lag, Network, Task } from '../timing/network.ts';
import { type BrewerOrder, gapBefore, handsOn } from './order.ts';

/** Ticks in a second: milliseconds, so that no rounding decides what can be done. */
export const TICKS = 1_000;
export const ticks = (seconds: number): number => Math.round(seconds * TICKS);
/** Lengths are rounded up: a schedule must never be short of time. A crumb of floating point is not a millisecond. */
export const lengthTicks = (seconds: number): number => Math.ceil(seconds * TICKS - 1e-6);

export const pourId = (brewer: number, pour: number): string => `brewer ${brewer + 1} pour ${pour + 1}`;
export const decantId = (brewer: number): string => `brewer ${brewer + 1} decant`;

/**
 * Brewers as tasks that share hands and kettles. Equal brewers begin in the order of their numbers, and the first pour is as early as it may
 * be: a schedule can be moved as a whole, so neither takes anything away, and a search that had to exclude the same thing at
 * every moment would never end.
 */
export function brewerNetwork(order: BrewerOrder): Network {
  const tasks: Task[] = [];
  const lags: Lag[] = [];
  for (let b = 0; b < order.brewers; b++) {
    order.pours.forEach(({ water_g }, p) => {
      const duration = lengthTicks(handsOn(order, water_g));
      tasks.push({
        id: pourId(b, p),
        duration,
        needs: { hands: 1, kettle: 1 },
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
    addDecant(order, b, tasks, lags);
    if (b > 0) lags.push({ from: pourId(b - 1, 0), to: pourId(b, 0), min: 0 });
  }
  const last = order.brewers - 1;
  if (last > 0) {
    if (order.alongside) lags.push({ from: pourId(last, 0), to: pourId(0, order.pours.length - 1), min: 0 });
    if (order.apart_s !== null)
      lags.push({ from: pourId(0, 0), to: pourId(last, 0), min: 0, max: ticks(order.apart_s) });
  }
  return {
    tasks,
    lags,
    resources: { hands: order.hands, kettle: order.kettles.length },
    limit: ticks(order.limit_s),
  };
}

/** Draining holds nobody; it is a task of its own, so that the end of the run waits for it. */
function addDecant(order: BrewerOrder, b: number, tasks: Task[], lags: Lag[]): void {
  const last = order.pours.length - 1;
  const poured = lengthTicks(order.pours[last]!.water_g / order.flow_g_s);
  const drained = poured + lengthTicks(order.drain_s);
  const drain = `brewer ${b + 1} drain`;
  tasks.push({ id: drain, duration: lengthTicks(order.drain_s), needs: {} });
  lags.push({ from: pourId(b, last), to: drain, min: poured, max: poured });
  if (!order.decant) return;
  tasks.push({ id: decantId(b), duration: lengthTicks(order.decant.takes_s), needs: { hands: 1 } });
  lags.push({
    from: pourId(b, last),
    to: decantId(b),
    min: drained,
    max: drained + ticks(order.decant.within_s),
  });
}
