import { describe, expect, it } from 'vitest';
import { checkKind } from '../documents/index.ts';
import { sampleBody } from '../documents/testing/samples.ts';
import { lookAtTrace } from './look.ts';
import { readTrace } from './read.ts';
import { diceFrom, record } from './testing/synthetic.ts';
import { coursesOf, envelope, thinned } from './thin.ts';

const truth = [
  { start_s: 5, end_s: 15, water_g: 50 },
  { start_s: 40, end_s: 52, water_g: 70 },
];
const brew = record(
  truth,
  {
    noise_g: 0.1,
    step_g: 0.1,
    rate_Hz: 10,
    lag_s: 0.1,
    drift_g_s: 0,
    wander: 0.2,
    press: 0.1,
    knocks: [{ at_s: 25, for_s: 0.3, by_g: 40 }],
    lifts: [],
    tares: [],
    puts: [],
    missing: 0,
  },
  90,
  diceFrom(3),
);

/** A polyline at a moment. */
function at(time_s: readonly number[], value: readonly number[], t: number): number {
  const k = Math.max(
    1,
    time_s.findIndex((x) => x >= t),
  );
  const [t0, t1] = [time_s[k - 1]!, time_s[k]!];
  return value[k - 1]! + ((value[k]! - value[k - 1]!) * (t - t0)) / (t1 - t0);
}

describe('a thinned course', () => {
  it('stays within its tolerance and holds few points', () => {
    const smooth = Float64Array.from(brew.time_s, (t) => 50 * Math.sin(t / 9));
    const thin = thinned(brew.time_s, smooth, 0.3, 600);
    expect(thin.time_s.length).toBeLessThan(120);
    brew.time_s.forEach((t, i) => {
      expect(Math.abs(at(thin.time_s, thin.value, t) - smooth[i]!)).toBeLessThanOrEqual(0.3 + 1e-9);
    });
  });
  it('holds no more points than asked, both ends among them', () => {
    const thin = thinned(brew.time_s, brew.mass_g, 0, 20);
    expect(thin.time_s).toHaveLength(20);
    expect([thin.time_s[0], thin.time_s.at(-1)]).toEqual([brew.time_s[0], brew.time_s.at(-1)]);
  });
  it('of little or nothing is that', () => {
    expect(thinned(new Float64Array(), new Float64Array(), 1, 9)).toEqual({ time_s: [], value: [] });
    expect(thinned(Float64Array.of(1, 2), Float64Array.of(Number.NaN, 3), 1, 9)).toEqual({
      time_s: [2],
      value: [3],
    });
  });
});

describe('an envelope', () => {
  it('keeps every extreme of a long recording in order of time', () => {
    const thin = envelope(brew.time_s, brew.mass_g, 100);
    expect(thin.value.length).toBeLessThanOrEqual(100);
    expect(Math.max(...thin.value)).toBe(Math.max(...brew.mass_g));
    expect(Array.from(thin.time_s)).toEqual(Array.from(thin.time_s).sort((a, b) => a - b));
  });
});

describe('the courses that a trial keeps', () => {
  it('are clean, on the clock of the brew, and pass the check of the document', () => {
    const text = `time_s;mass_g;bed_C\n${Array.from(brew.time_s, (t, i) => `${t};${brew.mass_g[i]!.toFixed(1)};${(60 + t / 9).toFixed(1)}`).join('\n')}`;
    const courses = coursesOf(readTrace(text, lookAtTrace(text).mapping), 5);
    expect(courses.map(({ of }) => of)).toEqual(['poured_g', 'bed_middle_C']);
    const mass = courses[0]!;
    // The knock of 40 g is gone.
    expect(Math.max(...mass.value)).toBeLessThan(122);
    expect(Math.abs(at(mass.time_s, mass.value, 25) - 50)).toBeLessThan(1);
    expect(mass.time_s[0]).toBe(-5);
    const body = { ...sampleBody('trial'), courses };
    expect(checkKind('trial', body).ok).toBe(true);
  });
});
