import { describe, expect, it } from 'vitest';
import { pourEnd } from '../documents/index.ts';
import { sample } from '../documents/testing/samples.ts';
import { matchPours, planAsPoured, pouredOf, shapedPours } from './as-poured.ts';
import { findPours, halfIn } from './find-pours.ts';
import { diceFrom, record } from './testing/synthetic.ts';

const TROUBLES = {
  noise_g: 0.1,
  step_g: 0.1,
  rate_Hz: 10,
  lag_s: 0.1,
  drift_g_s: 0,
  wander: 0.4,
  press: 0.1,
  knocks: [],
  lifts: [],
  tares: [],
  puts: [],
  missing: 0,
};

/** The sample plan pours 50 g at 0, 30, 60 and 90 s; here it is done by hand, from 7 s of the recording on. */
function poured(changes: readonly (readonly [start_s: number, seconds: number, water_g: number])[]) {
  const truth = changes.map(([start, seconds, water_g]) => ({
    start_s: start + 7,
    end_s: start + 7 + seconds,
    water_g,
  }));
  const { time_s, mass_g } = record(truth, TROUBLES, truth.at(-1)!.end_s + 10, diceFrom(11));
  return findPours(time_s, mass_g).pours;
}

const plan = sample('plan');
const asPlanned = [
  [0, 10, 50],
  [31, 12, 49],
  [60, 10, 51],
  [92, 12, 50],
] as const;

describe('pours set against a plan', () => {
  it('start together with it and are matched in order', () => {
    const matched = matchPours(plan, poured(asPlanned));
    expect(matched.matches.map(({ pour_id }) => pour_id)).toEqual(['p1', 'p2', 'p3', 'p4']);
    expect(matched.zero_s).toBeGreaterThan(6.5);
    expect(matched.zero_s).toBeLessThan(7.5);
    expect(matched.missing).toEqual([]);
  });
  it('name the one that was left out, and one that was not planned', () => {
    const without = matchPours(plan, poured([asPlanned[0], asPlanned[2], asPlanned[3]]));
    expect(without.missing).toEqual(['p2']);
    const more = matchPours(
      plan,
      poured([asPlanned[0], [16, 4, 12], asPlanned[1], asPlanned[2], asPlanned[3]]),
    );
    expect(more.matches.map(({ pour_id }) => pour_id)).toEqual(['p1', null, 'p2', 'p3', 'p4']);
  });
  it('of nothing are nothing', () => {
    expect(matchPours(plan, [])).toEqual({ matches: [], missing: ['p1', 'p2', 'p3', 'p4'], zero_s: 0 });
  });
});

describe('the plan as it was poured', () => {
  it('has what the hands did, and all else as planned', () => {
    const checked = planAsPoured(plan, pouredOf(matchPours(plan, poured(asPlanned))));
    if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join('\n'));
    const { pours } = checked.value.plan;
    expect(pours.map(({ id }) => id)).toEqual(['p1', 'p2', 'p3', 'p4']);
    pours.forEach((pour, i) => {
      const [start, seconds, water] = asPlanned[i]!;
      expect(Math.abs(pour.start_s - start)).toBeLessThan(0.5);
      expect(Math.abs(pourEnd(pour) - start - seconds)).toBeLessThan(0.6);
      expect(Math.abs(pour.water_g - water)).toBeLessThan(1);
      expect(pour.kettle_temperature_C).toBe(plan.pours[i]!.kettle_temperature_C);
      expect(pour.water_id).toBe(plan.pours[i]!.water_id);
    });
    expect(checked.value.plan.bypass).toEqual(plan.bypass);
  });
  it('moves a lift that came before the water had ended, and says so', () => {
    const late = pouredOf(matchPours(plan, poured([...asPlanned.slice(0, 3), [143, 12, 50]])));
    const checked = planAsPoured(plan, late);
    expect(checked.ok && checked.value.remarks.map(({ code }) => code)).toContain('lift_moved');
    expect(checked.ok && checked.value.plan.lift_s! > 154).toBe(true);
  });
  it('cuts a pour into pieces of its own flow when asked', () => {
    const found = poured(asPlanned);
    const matched = matchPours(plan, found);
    const clock = found.map((pour) => ({
      ...pour,
      start_s: pour.start_s - matched.zero_s,
      end_s: pour.end_s - matched.zero_s,
      shape: { ...pour.shape, time_s: pour.shape.time_s.map((t) => t - matched.zero_s) },
    }));
    const shapes = clock.map((pour) => shapedPours(pour));
    expect(shapes.every((shape) => shape !== null && shape.length === 4)).toBe(true);
    const checked = planAsPoured(plan, pouredOf(matched), shapes);
    if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join('\n'));
    expect(checked.value.plan.pours).toHaveLength(16);
    const water = checked.value.plan.pours.reduce((sum, pour) => sum + pour.water_g, 0);
    expect(Math.abs(water - 200)).toBeLessThan(2);
    expect(new Set(checked.value.plan.pours.map(({ id }) => id)).size).toBe(16);
  });
  it('is the plan itself when nothing was recorded', () => {
    expect(planAsPoured(plan, [])).toEqual({ ok: true, value: { plan, remarks: [] } });
  });
});

describe('how early the water was in', () => {
  it('is half for even pours, and less for front-loaded ones', () => {
    const even = [0, 1, 2, 3].map((i) => ({ start_s: i, end_s: i + 1, water_g: 10 }));
    expect(halfIn(even)).toBeCloseTo(0.5, 9);
    expect(halfIn([{ start_s: 0, end_s: 1, water_g: 30 }, ...even.slice(1)])).toBeLessThan(0.5);
    expect(halfIn([])).toBeNaN();
  });
});
