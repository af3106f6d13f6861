import type { BrewCase } from './case.ts';

/** Every moment at which something starts or stops, rising, without doubles. */
export function eventTimes(c: BrewCase): { times: number[]; lastActivity: number } {
  const times = new Set<number>();
  for (const p of c.pours) {
    times.add(p.start);
    times.add(p.end);
  }
  for (const a of c.actions) {
    times.add(a.start);
    times.add(a.end);
  }
  if (c.outletOpens > 0 && Number.isFinite(c.outletOpens)) times.add(c.outletOpens);
  const sorted = [...times].filter((t) => t <= c.horizon).sort((a, b) => a - b);
  return { times: sorted, lastActivity: sorted.at(-1) ?? 0 };
}

export function activePour(c: BrewCase, time: number): number {
  for (let p = 0; p < c.pours.length; p++) if (time >= c.pours[p]!.start && time < c.pours[p]!.end) return p;
  return -1;
}

export function activeAction(c: BrewCase, time: number): number {
  for (let a = 0; a < c.actions.length; a++)
    if (time >= c.actions[a]!.start && time < c.actions[a]!.end) return a;
  return -1;
}
