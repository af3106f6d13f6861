import type { Plan } from '@pourline/core';
import { useDocuments } from '../../replica/index.ts';
import { go, useRoute } from '../../shell/route.ts';

const KEY = 'pourline.plan';

function remembered(): string | null {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}

function remember(id: string): void {
  try {
    localStorage.setItem(KEY, id);
  } catch {
    // Without storage the choice simply does not outlive the page.
  }
}

/** The plan on the desk: the one in the address, else the last one looked at, else the first made. */
export function usePlanChoice(): { planId: string | null; plans: readonly Plan[]; choose(id: string): void } {
  const plans = useDocuments('plan');
  const { rest } = useRoute();
  const has = (id: string | null | undefined): id is string => plans.some((plan) => plan.id === id);
  const last = remembered();
  const planId = has(rest[0]) ? rest[0] : has(last) ? last : firstMade(plans);
  return { planId, plans, choose };
}

/** Puts a plan on the desk and in the address. */
function choose(id: string): void {
  remember(id);
  go('brew', id);
}

/** Identifiers of new documents sort by time. */
const firstMade = (plans: readonly Plan[]): string | null =>
  plans.reduce<string | null>((first, plan) => (first === null || plan.id < first ? plan.id : first), null);
