import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { latentHeat, vapourPressure } from '../units/index.ts';
import { type Air, filled, letStand, liquidTemperature, makeCooling, type Standing } from './cooling.ts';
import { LIQUID_HEAT_CAPACITY } from './liquid.ts';
import { surfaceLoss } from './surface.ts';
import { SurfaceTable } from './surface-table.ts';
import { integrate } from './testing/integrate.ts';
import type { Vessel } from './vessel.ts';

const airAt = (air_C: number, surfaceFactor: number): Air => ({
  temperature: air_C + 273.15,
  pressure: 101_325,
  vapourPressure: vapourPressure(air_C + 273.15, 0.5),
  surfaceFactor,
});

const cup: Vessel = { diameter: 0.08, heatCapacity: 150, contact: 6, outside: 0.15, lid: null };
const still = airAt(22, 0);
const C = LIQUID_HEAT_CAPACITY;

/** Temperature of liquid and vessel after `t` seconds. */
function after(vessel: Vessel, air: Air, start: Standing, t: number): { liquid: number; vessel: number } {
  const end = letStand(makeCooling(vessel, air), start, t);
  return { liquid: liquidTemperature(end), vessel: end.vessel / vessel.heatCapacity };
}

describe('a vessel with known answers', () => {
  it('without a wall of its own cools by Newton’s law, to 2 mK over an hour', () => {
    const bare = { ...cup, heatCapacity: 0, outside: 0.3 };
    const { liquid } = after(bare, still, filled(bare, 0, 0.2, 80, 0), 3_600);
    const exact = 22 + 58 * Math.exp((-0.3 * 3_600) / (C * 0.2));
    expect(Math.abs(liquid - exact)).toBeLessThan(2e-3);
  });
  it('with a lid likewise', () => {
    const covered = { ...cup, heatCapacity: 0, outside: 0, lid: 0.05 };
    const { liquid } = after(covered, airAt(22, 0.6), filled(covered, 0, 0.2, 80, 0), 3_600);
    expect(Math.abs(liquid - (22 + 58 * Math.exp((-0.05 * 3_600) / (C * 0.2))))).toBeLessThan(2e-3);
  });
  it('shut off from the air ends where the first law says', () => {
    const shut = { ...cup, outside: 0 };
    const { liquid, vessel } = after(shut, still, filled(shut, 0, 0.15, 80, 20), 3_600);
    const mixed = (C * 0.15 * 80 + 150 * 20) / (C * 0.15 + 150);
    expect(liquid).toBeCloseTo(mixed, 8);
    expect(vessel).toBeCloseTo(mixed, 8);
  });
  it('with a cold wall follows the two exponentials of two bodies, to 0.02 K at every moment', () => {
    const held = C * 0.15;
    const a = -cup.contact / held;
    const b = cup.contact / held;
    const c = cup.contact / cup.heatCapacity;
    const d = -(cup.contact + cup.outside) / cup.heatCapacity;
    const root = Math.sqrt((a - d) ** 2 + 4 * b * c);
    const fast = (a + d - root) / 2;
    const slow = (a + d + root) / 2;
    // Leads over the air: x' = a x + b y, y' = c x + d y, from 58 and −2 K.
    const slope = a * 58 + b * -2;
    const second = (slope - fast * 58) / (slow - fast);
    const exact = (t: number) => 22 + (58 - second) * Math.exp(fast * t) + second * Math.exp(slow * t);
    let worst = 0;
    letStand(makeCooling(cup, still), filled(cup, 0, 0.15, 80, 20), 3_600, (s) => {
      worst = Math.max(worst, Math.abs(liquidTemperature(s) - exact(s.time)));
    });
    expect(worst).toBeLessThan(0.02);
  });
});

describe('an open cup', () => {
  it('cools and dries as a general integrator of the same equations finds, to 5 mK and 0.05 %', () => {
    const air = airAt(22, 0.6);
    const loss = new Float64Array(2);
    const area = (Math.PI / 4) * 0.08 ** 2 * 0.6;
    const start = filled(cup, 0, 0.15, 85, 22);
    for (const t of [20, 120, 1_800]) {
      const exact = integrate(
        (_, [water = 0, liquid = 0, vessel = 0], out) => {
          const T = liquid / (C * water);
          surfaceLoss(T + 273.15, air.temperature, air.pressure, air.vapourPressure, 0.08, loss);
          const dry = loss[0]! * area;
          const inward = cup.contact * (T - vessel / cup.heatCapacity);
          out[0] = -dry;
          out[1] = -dry * (latentHeat(T + 273.15) + C * T) - loss[1]! * area * (T - 22) - inward;
          out[2] = inward - cup.outside * (vessel / cup.heatCapacity - 22);
        },
        [start.water, start.liquid, start.vessel],
        0,
        t,
        600,
      );
      const end = letStand(makeCooling(cup, air), start, t);
      expect(Math.abs(liquidTemperature(end) - exact[1]! / (C * exact[0]!))).toBeLessThan(5e-3);
      expect((0.15 - end.water) / (0.15 - exact[0]!)).toBeCloseTo(1, 3);
    }
  });
  it('ends at the moment asked, or where it was told to stop', () => {
    const cooling = makeCooling(cup, airAt(22, 0.6));
    const start = filled(cup, 100, 0.15, 85, 22);
    expect(letStand(cooling, start, 377.7).time).toBe(377.7);
    expect(letStand(cooling, start, 100)).toEqual(start);
    const times: number[] = [];
    const end = letStand(
      cooling,
      start,
      9_000,
      (s) => times.push(s.time),
      (s) => liquidTemperature(s) < 60,
    );
    expect(liquidTemperature(end)).toBeLessThan(60);
    expect(liquidTemperature(end)).toBeGreaterThan(59);
    expect(times).toEqual([...times].sort((a, b) => a - b));
  });
  it('closes its books to 1e-10, whatever it is made of and wherever it stands', () => {
    const random = fc.record({
      diameter: fc.double({ min: 0.03, max: 0.2, noNaN: true }),
      heatCapacity: fc.oneof(fc.constant(0), fc.double({ min: 0.5, max: 1_000, noNaN: true })),
      contact: fc.double({ min: 0.1, max: 20, noNaN: true }),
      outside: fc.double({ min: 0, max: 1, noNaN: true }),
      lid: fc.option(fc.double({ min: 0, max: 0.3, noNaN: true }), { nil: null }),
      water: fc.double({ min: 2e-3, max: 1, noNaN: true }),
      liquid: fc.double({ min: 1, max: 99, noNaN: true }),
      vessel: fc.double({ min: -20, max: 99, noNaN: true }),
      air: fc.double({ min: -5, max: 45, noNaN: true }),
    });
    fc.assert(
      fc.property(random, ({ water, liquid, vessel, air, ...make }) => {
        const start = filled(make, 0, water, liquid, vessel);
        const end = letStand(makeCooling(make, airAt(air, 0.6)), start, 2_400);
        const sum = (s: Standing) => s.liquid + s.vessel + s.vapour + s.surface + s.wall + s.carried;
        expect(Math.abs(sum(end) - sum(start)) / Math.max(1, start.liquid)).toBeLessThan(1e-10);
        expect(end.water).toBeGreaterThan(0);
        expect(end.water).toBeLessThanOrEqual(water);
        const bounds = [liquid, vessel, air];
        // Evaporation cools a liquid below its air, towards the wet bulb.
        expect(liquidTemperature(end)).toBeGreaterThan(Math.min(...bounds) - 15);
        expect(liquidTemperature(end)).toBeLessThan(Math.max(...bounds) + 0.1);
      }),
      { seed: 11, numRuns: 150 },
    );
  });
});

describe('the table of a surface', () => {
  it('differs from the correlation by less than 1e-5 of it from 10 K over the air', () => {
    const air = airAt(22, 0.6);
    const table = new SurfaceTable(air, 0.08);
    const out = new Float64Array(3);
    const loss = new Float64Array(2);
    const area = (Math.PI / 4) * 0.08 ** 2 * 0.6;
    for (let T = 32; T < 98; T += 0.37) {
      table.at(T, out);
      surfaceLoss(T + 273.15, air.temperature, air.pressure, air.vapourPressure, 0.08, loss);
      expect(Math.abs(out[0]! / (loss[0]! * area) - 1)).toBeLessThan(1e-5);
      expect(Math.abs(out[2]! / (loss[1]! * area * (T - 22)) - 1)).toBeLessThan(1e-5);
    }
  });
});
