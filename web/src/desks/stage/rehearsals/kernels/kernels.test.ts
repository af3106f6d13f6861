import { compareRuns, type Rehearsal } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { rehearsalOfRun } from '../../../../live/kernels/rehearsal-of-run.ts';
import { sampleRun } from '../../../../live/testing/run.ts';
import { driftChart } from './drift-chart.ts';
import { ghostLanes } from './ghosts.ts';
import { latenessChart } from './lateness-chart.ts';

function runs(): Rehearsal[] {
  const { stored, events } = sampleRun();
  return [0, 1, 2].map((later) => {
    const made = rehearsalOfRun(
      { ...stored, run_id: stored.run_id.replace(/a$/, String(later)) },
      events.map((event) => ({ ...event, at_s: event.at_s + later, wall_ms: event.wall_ms + 1e8 * later })),
      [],
    );
    if (!made.ok) throw new Error(made.problems[0]!.sentence);
    return made.value;
  });
}

describe('charts of rehearsals', () => {
  const compared = compareRuns(runs());

  it('draw one line a run, later ones higher, zero among the rulers', () => {
    const chart = latenessChart(compared.runs, 300, 100);
    expect(chart.lines).toHaveLength(3);
    expect(chart.lines[0]!.points.map(({ cue_id }) => cue_id)).toEqual(['p1', 'hill']);
    expect(chart.lines[2]!.points[0]!.y).toBeLessThan(chart.lines[0]!.points[0]!.y);
    expect(chart.rules.some(({ late_s }) => late_s === 0)).toBe(true);
    for (const { points } of chart.lines)
      for (const { x, y } of points) {
        expect(x).toBeGreaterThanOrEqual(0);
        expect(x).toBeLessThanOrEqual(300);
        expect(y).toBeGreaterThanOrEqual(0);
        expect(y).toBeLessThanOrEqual(100);
      }
    expect(latenessChart([], 300, 100).lines).toEqual([]);
  });

  it('keep times, line and the next run within the drawing', () => {
    const times = [45, 46, 47.5];
    const drift = compareRuns(runs()).drift;
    const chart = driftChart(times, drift, 60, 300, 100);
    expect(chart.points.map(({ number }) => number)).toEqual([1, 2, 3]);
    for (const y of [...chart.points.map((p) => p.y), chart.limit_y, chart.next!.low, chart.next!.high]) {
      expect(y).toBeGreaterThanOrEqual(-0.01);
      expect(y).toBeLessThanOrEqual(100.01);
    }
    expect(driftChart([45], null, 60, 300, 100)).toMatchObject({ line: null, next: null });
  });

  it('lay ghosts under the plan of the newest run', () => {
    const { lanes, to_s } = ghostLanes(compared.runs);
    expect(lanes.map(({ brewer }) => brewer)).toEqual([1, null]);
    expect(to_s).toBe(60);
    expect(lanes[0]!.planned).toHaveLength(2);
    expect(lanes[0]!.runs.map(({ bars }) => bars.length)).toEqual([1, 1, 1]);
    expect(lanes[0]!.runs[1]!.bars[0]!.from).toBeCloseTo(1.4 / 60, 9);
    expect(ghostLanes([])).toEqual({ lanes: [], to_s: 60 });
  });
});
