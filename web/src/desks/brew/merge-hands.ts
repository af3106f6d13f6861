import type { Plan } from '@pourline/core';
import type { Hands } from '../../strip/kernels/pour-edit.ts';

type Entry = { id: string };

/**
 * Carries a change of the hands over to the body as typed. The strip works on the last valid plan (`before` → `after`), while `body`
 * may hold something half-typed in another field: only fields that the strip changed are replaced, so that nothing
 * typed is lost.
 */
export function mergeHands(body: Plan, before: Hands, after: Hands): Plan {
  return {
    ...body,
    pours: mergeRows(body.pours, before.pours, after.pours),
    actions: mergeRows(body.actions, before.actions, after.actions),
    lift_s: after.lift_s === before.lift_s ? body.lift_s : after.lift_s,
    outlet_opens_s:
      after.outlet_opens_s === before.outlet_opens_s ? body.outlet_opens_s : after.outlet_opens_s,
  };
}

/** Rows of `after` in its order, each with the typed fields of its namesake in `body` where the change left them alone. */
function mergeRows<R extends Entry>(body: readonly R[], before: readonly R[], after: readonly R[]): R[] {
  if (after === before) return [...body];
  return after.map((row) => {
    const typed = body.find((entry) => entry.id === row.id);
    const old = before.find((entry) => entry.id === row.id);
    if (!typed || !old) return row;
    const changed = Object.fromEntries(
      Object.entries(row).filter(([key, value]) => !same(value, old[key as keyof R])),
    );
    return { ...typed, ...changed };
  });
}

const same = (a: unknown, b: unknown): boolean => a === b || JSON.stringify(a) === JSON.stringify(b);
