import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shareOfFirst } from './after-brew.ts';
import { type ColdBody, chillServer, type ServerBody, type ServerHistory } from './chill.ts';
import { LIQUID_HEAT_CAPACITY } from './liquid.ts';
import { simulate } from './simulate.ts';
import { demoBundle } from './testing/demo-bundle.ts';
import { integrate } from './testing/integrate.ts';

const C = LIQUID_HEAT_CAPACITY;
const server: ServerBody = { heatCapacity: 150, loss: 0.35, air: 22, bypass: null };
const body: ColdBody = { how: 'runs_over', heatCapacity: 92, temperature: -15, contact: 6 };

/** A steady drip of one temperature into the server, by the engine's own implicit step. */
function steadyDrip(seconds: number, flow: number, drip_C: number, to = server, step = 0.5): ServerHistory {
  const n = Math.round(seconds / step) + 1;
  const time = Float64Array.from({ length: n }, (_, i) => i * step);
  const water = time.map((t) => flow * t);
  const temperature = new Float64Array(n).fill(to.air);
  for (let i = 1; i < n; i++) {
    const held = to.heatCapacity + C * water[i - 1]!;
    const all = held + C * flow * step + to.loss * step;
    temperature[i] = (held * temperature[i - 1]! + C * flow * step * drip_C + to.loss * step * to.air) / all;
  }
  return { time, water, temperature, share: new Float64Array(n).fill(1) };
}

const none = (history: ServerHistory): ServerHistory => ({
  ...history,
  share: new Float64Array(history.time.length),
});

describe('a cold body under the drip', () => {
  it('that nothing meets leaves the server as it was, to rounding', () => {
    const history = none(steadyDrip(120, 2e-3, 80));
    const out = chillServer(history, body, server);
    history.temperature.forEach((T, i) => {
      expect(out.server[i]).toBeCloseTo(T, 10);
    });
    expect(out.heat).toBe(0);
    expect(out.chilled).toBe(0);
  });
  it('warms as the exact exponential of a steady drip', () => {
    const flow = 2e-3;
    const out = chillServer(steadyDrip(30, flow, 80), body, server);
    const effect = 1 - Math.exp(-6 / (C * flow));
    expect(out.body).toBeCloseTo(80 - 95 * Math.exp((-effect * C * flow * 30) / 92), 8);
    expect(out.before).toBeCloseTo(80, 8);
    expect(out.chilled).toBeCloseTo(0.06, 12);
  });
  it('agrees with a general integrator of body and server together, to 0.05 K', () => {
    const flow = 1.5e-3;
    const out = chillServer(steadyDrip(40, flow, 75, server, 0.1), body, server);
    const effect = 1 - Math.exp(-6 / (C * flow));
    const exact = integrate(
      (t, [cold = 0, pot = 0], d) => {
        const q = effect * C * flow * (75 - cold);
        d[0] = q / 92;
        const held = 150 + C * flow * t;
        d[1] = (C * flow * (75 - pot) - q - 0.35 * (pot - 22)) / held;
      },
      [-15, 22],
      0,
      40,
      400,
    );
    expect(Math.abs(out.body - exact[0]!)).toBeLessThan(1e-6);
    expect(Math.abs(out.server.at(-1)! - exact[1]!)).toBeLessThan(0.05);
  });
  it('with all the contact in the world takes what the first law allows: drip leaves at the body’s temperature', () => {
    const perfect = { ...body, contact: 1e6 };
    const out = chillServer(steadyDrip(20, 2e-3, 80), perfect, server);
    expect(out.lastDrop).toBeCloseTo(80 - out.body, 6);
  });
  it('so heavy that it does not warm cools every drop alike', () => {
    const huge = { ...body, heatCapacity: 1e9 };
    const out = chillServer(steadyDrip(20, 2e-3, 80), huge, server);
    const effect = 1 - Math.exp(-6 / (C * 2e-3));
    expect(out.after).toBeCloseTo(80 - 95 * effect, 5);
  });
});

describe('a first part caught in a cold vessel', () => {
  it('mixes with it by the first law and comes back at the end', () => {
    const quiet = { ...server, loss: 0 };
    const history = steadyDrip(60, 2e-3, 80, quiet);
    history.share.fill(0, 41);
    const caught: ColdBody = { ...body, how: 'caught' };
    const out = chillServer(history, caught, { ...quiet, air: 22 });
    expect(out.chilled).toBeCloseTo(0.04, 12);
    // The small vessel's own loss to the air keeps it a little off the plain mixing temperature.
    const mixed = (C * 0.04 * 80 + 92 * -15) / (C * 0.04 + 92);
    expect(Math.abs(out.body - mixed)).toBeLessThan(1);
    const last = out.server.length - 1;
    const rest = (150 * 22 + C * 0.08 * 80) / (150 + C * 0.08);
    expect(out.server[last - 1]).toBeCloseTo((150 * 22 + C * 0.079 * 80) / (150 + C * 0.079), 6);
    const together = ((150 + C * 0.08) * rest + C * 0.04 * out.body) / (150 + C * 0.12);
    expect(out.server[last]).toBeCloseTo(together, 8);
  });
});

describe('the books', () => {
  it('close to 1e-10 over random drips, bodies and parts', () => {
    const random = fc.record({
      how: fc.constantFrom('runs_over' as const, 'caught' as const),
      drips: fc.array(
        fc.record({
          dt: fc.double({ min: 0.01, max: 5, noNaN: true }),
          mass: fc.oneof(fc.constant(0), fc.double({ min: 1e-7, max: 2e-2, noNaN: true })),
          drip_C: fc.double({ min: 2, max: 99, noNaN: true }),
          share: fc.oneof(fc.constantFrom(0, 1), fc.double({ min: 0, max: 1, noNaN: true })),
        }),
        { minLength: 1, maxLength: 40 },
      ),
      heatCapacity: fc.double({ min: 1, max: 3_000, noNaN: true }),
      temperature: fc.double({ min: -30, max: 40, noNaN: true }),
      contact: fc.double({ min: 0.01, max: 200, noNaN: true }),
      pot: fc.double({ min: 5, max: 800, noNaN: true }),
      bypass: fc.option(fc.double({ min: 1e-3, max: 0.1, noNaN: true }), { nil: null }),
    });
    fc.assert(
      fc.property(random, ({ how, drips, heatCapacity, temperature, contact, pot, bypass }) => {
        const n = drips.length + 1;
        const history: ServerHistory = {
          time: new Float64Array(n),
          water: new Float64Array(n),
          temperature: new Float64Array(n).fill(22),
          share: new Float64Array(n),
        };
        const put: ServerBody = {
          heatCapacity: pot,
          loss: 0.35,
          air: 22,
          bypass: bypass === null ? null : { mass: bypass, temperature: 85 },
        };
        let entered = 0;
        drips.forEach(({ dt, mass, drip_C, share }, k) => {
          const i = k + 1;
          history.time[i] = history.time[k]! + dt;
          history.water[i] = history.water[k]! + mass;
          history.share[i] = share;
          const held = pot + C * history.water[k]!;
          const loss = 0.35 * dt;
          history.temperature[i] =
            (held * history.temperature[k]! + C * mass * drip_C + loss * 22) / (held + C * mass + loss);
          entered += C * mass * drip_C;
        });
        const last = n - 1;
        if (bypass !== null) {
          const held = pot + C * history.water[last]!;
          history.water[last]! += bypass;
          history.temperature[last] =
            (held * history.temperature[last]! + C * bypass * 85) / (held + C * bypass);
          entered += C * bypass * 85;
        }
        const out = chillServer(history, { how, heatCapacity, temperature, contact }, put);
        fc.pre(entered > 100);
        expect(out.closure).toBeLessThan(1e-10);
        for (const T of out.server) {
          expect(T).toBeGreaterThan(Math.min(temperature, 2) - 1e-6);
          expect(T).toBeLessThan(99);
        }
        // Of less than a milligram the temperature is rounding.
        if (out.chilled > 1e-6) expect(out.after).toBeLessThanOrEqual(Math.max(out.before, 40) + 1e-6);
      }),
      { seed: 3, numRuns: 300 },
    );
  });
});

describe('a plan that chills its first part', () => {
  const brew = (chill: ReturnType<typeof demoBundle>['plan']['chill']) => {
    const bundle = demoBundle();
    bundle.plan.chill = chill;
    return simulate(bundle, { resolution: 'draft' });
  };
  const steel = {
    how: 'runs_over',
    first: { by: 'mass', drip_g: 50 },
    material: 'stainless_steel',
    mass_g: 200,
    temperature_C: -15,
    contact_W_K: null,
  } as const;
  it('cools the server for as much as the body took, and changes nothing else', () => {
    const plain = brew(null);
    const cooled = brew(steel);
    expect(cooled.chill!.drip_g).toBeCloseTo(50, 8);
    expect(cooled.chill!.strength_pct).toBeGreaterThan(cooled.cup.strength_pct);
    expect(cooled.chill!.after_C).toBeLessThan(cooled.chill!.before_C - 10);
    expect(cooled.cup.server_C).toBeCloseTo(plain.cup.server_C - cooled.chill!.server_K, 10);
    expect(cooled.trace.server_C.at(-1)).toBe(cooled.cup.server_C);
    expect(cooled.cup.beverage_g).toBe(plain.cup.beverage_g);
    expect(cooled.trace.bed_bottom_C).toEqual(plain.trace.bed_bottom_C);
    expect(cooled.chill!.closure).toBeLessThan(1e-10);
    expect(plain.chill).toBeNull();
  });
  it('goes by a moment as well as by a mass', () => {
    const byMass = brew(steel);
    const byTime = brew({ ...steel, first: { by: 'time', until_s: byMass.chill!.until_s } });
    expect(byTime.chill!.drip_g).toBeCloseTo(50, 6);
    expect(byTime.cup.server_C).toBeCloseTo(byMass.cup.server_C, 6);
  });
  it('says when the body is spent and when nothing drips in time', () => {
    const small = brew({ ...steel, mass_g: 10 });
    expect(small.remarks.find((r) => r.code === 'chill_spent')?.sentence).toMatch(
      /has come to \d+ °C and cools the last of its part by [\d.]+ K only/,
    );
    const early = brew({ ...steel, first: { by: 'time', until_s: 0.5 } });
    expect(early.chill).toBeNull();
    expect(early.remarks.map((r) => r.code)).toContain('chill_never');
  });
  it('splits the interval in which its part ends', () => {
    const trace = {
      time_s: Float64Array.of(0, 1, 2, 3),
      beverage_g: Float64Array.of(0, 10, 30, 50),
    };
    expect([...shareOfFirst({ ...steel, first: { by: 'mass', drip_g: 15 } }, trace)]).toEqual([
      1, 1, 0.25, 0,
    ]);
    expect([...shareOfFirst({ ...steel, first: { by: 'time', until_s: 2.5 } }, trace)]).toEqual([
      1, 1, 1, 0.5,
    ]);
  });
});
