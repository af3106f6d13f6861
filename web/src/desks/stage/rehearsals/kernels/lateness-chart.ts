import type { RunTimes } from '@pourline/core';

/** A chart of how late each cue began over the planned time of the run: one line a run. */
export interface LatenessChart {
  width: number;
  height: number;
  /** Planned moments that the axis goes from and to, and how late it goes down and up [s]. */
  to_s: number;
  low_s: number;
  high_s: number;
  lines: {
    id: string;
    points: { x: number; y: number; cue_id: string }[];
    path: string;
    end: { x: number; y: number } | null;
  }[];
  /** Rulers across, at whole seconds. */
  rules: { late_s: number; y: number }[];
}

const STEPS = [1, 2, 5, 10, 15, 30, 60, 120];

/** Lays the lines out; a cue that was not tapped leaves a gap that the line goes over. */
export function latenessChart(runs: readonly RunTimes[], width: number, height: number): LatenessChart {
  const late = runs.flatMap(({ cues }) => cues.flatMap(({ late_s }) => (late_s === null ? [] : [late_s])));
  const to_s = Math.max(30, ...runs.map(({ planned_end_s }) => planned_end_s));
  const [least, most] = [Math.min(-2, ...late), Math.max(4, ...late)];
  const step = STEPS.find((s) => (most - least) / s <= 5) ?? 300;
  const [low_s, high_s] = [Math.floor(least / step) * step, Math.ceil(most / step) * step];
  const x = (s: number): number => (s / to_s) * width;
  const y = (s: number): number => height - ((s - low_s) / (high_s - low_s)) * height;
  const rules: { late_s: number; y: number }[] = [];
  for (let at = low_s; at <= high_s; at += step) rules.push({ late_s: at, y: y(at) });
  return {
    width,
    height,
    to_s,
    low_s,
    high_s,
    rules,
    lines: runs.map((run) => {
      const points = run.cues
        .filter(({ late_s }) => late_s !== null)
        .map(({ cue, planned_s, late_s }) => ({ x: x(planned_s), y: y(late_s!), cue_id: cue.id }));
      return {
        id: run.id,
        points,
        path: points.map((p, i) => `${i === 0 ? 'M' : 'L'}${p.x.toFixed(1)} ${p.y.toFixed(1)}`).join(''),
        end: points.at(-1) ?? null,
      };
    }),
  };
}
