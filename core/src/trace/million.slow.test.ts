import { describe, expect, it } from 'vitest';
import { findPours } from './find-pours.ts';
import { lookAtTrace } from './look.ts';
import { readTrace } from './read.ts';
import { diceFrom, record } from './testing/synthetic.ts';
import { coursesOf } from './thin.ts';

/** Rows in a file, and how long all the steps from text to pours took [ms]. */
function timed(rate_Hz: number): { rows: number; ms: number; grams: number[] } {
  const truth = [
    { start_s: 5, end_s: 15, water_g: 50 },
    { start_s: 40, end_s: 52, water_g: 70 },
  ];
  const troubles = {
    noise_g: 0.1,
    step_g: 0.1,
    rate_Hz: 50,
    lag_s: 0.1,
    drift_g_s: 0,
    wander: 0.2,
    press: 0.1,
    knocks: [],
    lifts: [],
    tares: [],
    puts: [],
    missing: 0,
  };
  const slow = record(truth, troubles, 100, diceFrom(5));
  const every = Math.round(rate_Hz / 50);
  const lines = ['time_s;mass_g'];
  slow.mass_g.forEach((mass, i) => {
    for (let k = 0; k < every; k++)
      lines.push(`${(slow.time_s[i]! + k / rate_Hz).toFixed(4)};${mass.toFixed(1)}`);
  });
  const text = lines.join('\n');
  const before = performance.now();
  const recording = readTrace(text, lookAtTrace(text).mapping);
  const { pours } = findPours(recording.time_s, recording.channels[0]!.value);
  coursesOf(recording, 0);
  return { rows: recording.rows, ms: performance.now() - before, grams: pours.map((p) => p.water_g) };
}

describe('a million rows', () => {
  it('are read, searched for pours and thinned, in time that grows as the file does', () => {
    timed(500);
    const tenth = timed(1_000);
    const whole = timed(10_000);
    console.log([tenth, whole].map(({ rows, ms }) => `${rows} rows: ${ms.toFixed(0)} ms`).join('\n'));
    expect(whole.rows).toBeGreaterThan(1_000_000);
    whole.grams.forEach((grams, i) => {
      expect(Math.abs(grams - [50, 70][i]!)).toBeLessThan(1);
    });
    // Ten times the rows take about ten times as long; fifty times would be another law.
    if (process.env.POURLINE_TIMED === '1') expect(whole.ms / tenth.ms).toBeLessThan(50);
  }, 180_000);
});
