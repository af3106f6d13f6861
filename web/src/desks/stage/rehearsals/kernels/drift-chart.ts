import type { Drift } from '@pourline/core';

/** Whole times over runs with their line and where the next run may end. */
export interface DriftChart {
  points: { x: number; y: number; time_s: number; number: number }[];
  line: { x1: number; y1: number; x2: number; y2: number } | null;
  /** Interval of the next run. */
  next: { x: number; low: number; middle: number; high: number } | null;
  limit_y: number;
  low_s: number;
  high_s: number;
  rules: { time_s: number; y: number }[];
}

const STEPS = [5, 10, 15, 30, 60, 120, 300];

/** Lays whole times out, room for the next run at the right. */
export function driftChart(
  times: readonly number[],
  drift: Drift | null,
  limit_s: number,
  width: number,
  height: number,
): DriftChart {
  const shown = [...times, limit_s, ...(drift ? [drift.next_low_s, drift.next_high_s] : [])];
  const [least, most] = [Math.min(...shown), Math.max(...shown)];
  const step = STEPS.find((s) => (most - least) / s <= 5) ?? 600;
  const low_s = Math.max(0, Math.floor((least - 0.001) / step) * step);
  const high_s = Math.max(low_s + step, Math.ceil((most + 0.001) / step) * step);
  const x = (i: number): number => ((i + 0.5) / (times.length + 1)) * width;
  const y = (s: number): number => height - ((s - low_s) / (high_s - low_s)) * height;
  const at = (i: number): number => (drift ? drift.next_s + drift.per_run_s * (i - times.length) : 0);
  const rules: { time_s: number; y: number }[] = [];
  for (let s = low_s; s <= high_s; s += step) rules.push({ time_s: s, y: y(s) });
  return {
    points: times.map((time_s, i) => ({ x: x(i), y: y(time_s), time_s, number: i + 1 })),
    line: drift ? { x1: x(0), y1: y(at(0)), x2: x(times.length), y2: y(at(times.length)) } : null,
    next: drift
      ? {
          x: x(times.length),
          low: y(drift.next_low_s),
          middle: y(drift.next_s),
          high: y(drift.next_high_s),
        }
      : null,
    limit_y: y(limit_s),
    low_s,
    high_s,
    rules,
  };
}
