import { beforeAll, describe, expect, it } from 'vitest';
import { type BrewResult, simulate } from '../brew/index.ts';
import { sampleBundle } from '../documents/testing/samples.ts';
import { findDrawdown } from './find-drawdown.ts';
import { diceFrom } from './testing/synthetic.ts';

/** A course of the engine as a balance under the server would record it, ten times a second with 0.1 g of noise. */
function recorded({ trace }: BrewResult, until = Number.POSITIVE_INFINITY): [Float64Array, Float64Array] {
  const dice = diceFrom(2);
  const last = Math.min(until, trace.time_s.at(-1)!);
  const time = Float64Array.from({ length: Math.floor(last * 10) }, (_, i) => i / 10);
  let k = 0;
  const mass = time.map((t) => {
    while (k + 2 < trace.time_s.length && trace.time_s[k + 1]! < t) k++;
    const share = (t - trace.time_s[k]!) / Math.max(1e-9, trace.time_s[k + 1]! - trace.time_s[k]!);
    const exact =
      trace.beverage_g[k]! +
      Math.max(0, Math.min(1, share)) * (trace.beverage_g[k + 1]! - trace.beverage_g[k]!);
    return Math.round(10 * (exact + 0.1 * dice.normal())) / 10;
  });
  return [time, mass];
}

describe('the end of a brew, from the mass of its beverage', () => {
  let brew: BrewResult;
  beforeAll(() => {
    const bundle = sampleBundle();
    bundle.plan.lift_s = null;
    bundle.plan.bypass = null;
    brew = simulate(bundle, { resolution: 'draft' });
  });
  it('is where the engine has it: drawdown within 4 s, end within 1.5 s', () => {
    const found = findDrawdown(...recorded(brew), 102);
    expect(Math.abs(found.drawdown_s! - brew.cup.drawdown_s!)).toBeLessThan(4);
    expect(Math.abs((found.end_s ?? brew.trace.time_s.at(-1)!) - brew.cup.end_s)).toBeLessThan(1.5);
    expect(Math.abs(found.beverage_g - brew.cup.beverage_g)).toBeLessThan(0.3);
  });
  it('is left open when the recording ends while it drips', () => {
    const found = findDrawdown(...recorded(brew, 110), 102);
    expect(found.end_s).toBeNull();
    expect(found.remarks.map(({ code }) => code)).toContain('drip_goes_on');
  });
  it('is the moment the server is taken away, when that comes first', () => {
    const [time, mass] = recorded(brew, 125);
    const taken = mass.map((m, i) => (time[i]! < 118 ? m : -240));
    const found = findDrawdown(time, taken, 102);
    expect(Math.abs(found.end_s! - 118)).toBeLessThan(1);
    expect(found.remarks.map(({ code }) => code)).toContain('server_taken');
  });
  it('of an empty server is nothing', () => {
    const time = Float64Array.from({ length: 200 }, (_, i) => i / 10);
    expect(findDrawdown(time, new Float64Array(200))).toMatchObject({ first_drip_s: null, end_s: null });
  });
});
