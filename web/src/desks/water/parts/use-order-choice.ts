import { gatherOrder, type Mix, type Problem, type WaterOrder } from '@pourline/core';
import { useMemo } from 'react';
import { useDocuments, useLookup } from '../../../replica/index.ts';

const KEY = 'pourline.order';

function remembered(): string | null {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}

/** Keeps which order is on the desk for the next time. */
export function rememberOrder(id: string): void {
  try {
    localStorage.setItem(KEY, id);
  } catch {
    // Without storage the choice simply does not outlive the page.
  }
}

/** The order on the desk: the one in the address, else the last one looked at, else the first made. */
export function useOrderChoice(asked: string | undefined): {
  orderId: string | null;
  orders: readonly Mix[];
} {
  const orders = useDocuments('mix');
  const has = (id: string | null | undefined): id is string => orders.some((order) => order.id === id);
  const last = remembered();
  const first = orders.reduce<string | null>(
    (found, { id }) => (found === null || id < found ? id : found),
    null,
  );
  return { orderId: has(asked) ? asked : has(last) ? last : first, orders };
}

export interface Gathered {
  /** Null when something it points to is gone. */
  order: WaterOrder | null;
  /** What stands in the way; paths lead into the mix. */
  problems: readonly Problem[];
}

/** An order with everything it points to, as it stands on screen. */
export function useGathered(mix: Mix | null): Gathered {
  const lookup = useLookup();
  return useMemo(() => {
    if (mix === null) return { order: null, problems: [] };
    const gathered = gatherOrder(mix, lookup);
    return gathered.ok
      ? { order: gathered.value, problems: [] }
      : { order: null, problems: gathered.problems };
  }, [mix, lookup]);
}
