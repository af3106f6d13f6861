import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cooled,
  heatingTime,
  type KettleBody,
  type KettleDraw,
  kettleCourse,
  massIn,
  onBase,
  pouredOff,
  temperatureIn,
} from './kettle-course.ts';
import { LIQUID_HEAT_CAPACITY } from './liquid.ts';
import { integrate } from './testing/integrate.ts';

const kettle: KettleBody = { body: 0.1, power: 1_056, loss: 1.2, air: 295.15, boils: 373.12 };

/** A kettle in the words of its differential equation: power, loss, and water that leaves with its own heat. */
function byIntegration(
  k: KettleBody,
  T: number,
  mass: number,
  flow: number,
  power: number,
  t: number,
): number {
  const end = integrate(
    (_, y, out) => {
      out[0] = -flow;
      out[1] = (power - k.loss * (y[1]! - k.air)) / (LIQUID_HEAT_CAPACITY * (y[0]! + k.body));
    },
    [mass, T],
    0,
    t,
    400,
  );
  return end[1]!;
}

describe('a kettle off its base', () => {
  it('halves its lead over the air in ln 2 · C/k', () => {
    const half = (Math.LN2 * LIQUID_HEAT_CAPACITY * 0.7) / kettle.loss;
    expect(cooled(kettle, 365.15, 0.6, half)).toBeCloseTo(295.15 + 35, 10);
  });
  it('cools while it is poured out as the integrated equation says, to 1e-8 K', () => {
    for (const flow of [2e-3, 6e-3, 15e-3])
      expect(pouredOff(kettle, 368.15, 0.5, flow, 30)).toBeCloseTo(
        byIntegration(kettle, 368.15, 0.5, flow, 0, 30),
        8,
      );
  });
  it('cools as if nothing were poured when hardly anything is', () => {
    expect(pouredOff(kettle, 368.15, 0.5, 1e-9, 60)).toBeCloseTo(cooled(kettle, 368.15, 0.5, 60), 6);
  });
  it('keeps its temperature when it is poured dry, body and all', () => {
    const bare = { ...kettle, body: 0 };
    const dry = pouredOff(bare, 368.15, 0.1, 0.01, 10);
    expect(pouredOff(bare, 368.15, 0.1, 0.01, 20)).toBe(dry);
    expect(dry).toBeGreaterThan(360);
  });
});

describe('a kettle on its base', () => {
  it('heats as the integrated equation says, to 1e-8 K, and reaches a temperature when it said it would', () => {
    const t = heatingTime(kettle, 343.15, 0.6, 363.15);
    expect(byIntegration(kettle, 343.15, 0.6, 0, kettle.power, t)).toBeCloseTo(363.15, 8);
    expect(onBase(kettle, 343.15, 0.6, 371, t)).toBeCloseTo(363.15, 10);
  });
  it('holds what it is set to, and never passes the boiling point', () => {
    expect(onBase(kettle, 343.15, 0.6, 363.15, 600)).toBe(363.15);
    expect(onBase(kettle, 363.15, 0.6, 363.15, 600)).toBe(363.15);
    expect(onBase({ ...kettle, boils: 367.9 }, 363.15, 0.6, 372, 600)).toBe(367.9);
    expect(heatingTime({ ...kettle, boils: 367.9 }, 363.15, 0.6, 372)).toBe(Number.POSITIVE_INFINITY);
  });
  it('lets hotter water cool by itself down to its setting, then holds it', () => {
    const soon = onBase(kettle, 368.15, 0.6, 358.15, 60);
    expect(soon).toBe(cooled(kettle, 368.15, 0.6, 60));
    expect(onBase(kettle, 368.15, 0.6, 358.15, 3_000)).toBe(358.15);
  });
  it('with too little power ends where power and loss meet, from either side', () => {
    const weak = { ...kettle, power: 60 };
    expect(onBase(weak, 343.15, 0.3, 368.15, 1e5)).toBeCloseTo(295.15 + 50, 8);
    expect(onBase(weak, 372.15, 0.3, 368.15, 1e5)).toBeCloseTo(295.15 + 50, 8);
  });
  it('with no power only cools', () => {
    const off = { ...kettle, power: 0 };
    expect(onBase(off, 363.15, 0.5, 368.15, 90)).toBeCloseTo(cooled(off, 363.15, 0.5, 90), 10);
  });
});

/** A day of a kettle: pours with pauses between them. */
const days = fc.record({
  body: fc.double({ min: 0, max: 0.3, noNaN: true }),
  power: fc.double({ min: 0, max: 3_000, noNaN: true }),
  loss: fc.double({ min: 0.05, max: 5, noNaN: true }),
  start: fc.double({ min: 300, max: 372, noNaN: true }),
  mass: fc.double({ min: 0.2, max: 1.5, noNaN: true }),
  between: fc.constantFrom('on_base' as const, 'off_base' as const),
  pours: fc.array(
    fc.record({
      pause: fc.double({ min: 0, max: 90, noNaN: true }),
      length: fc.double({ min: 2, max: 40, noNaN: true }),
      flow: fc.double({ min: 1e-3, max: 2e-2, noNaN: true }),
      asked: fc.double({ min: 300, max: 372, noNaN: true }),
    }),
    { minLength: 1, maxLength: 6 },
  ),
});

describe('a whole course', () => {
  it('has no gaps, loses just what is poured, and stays between air and the hottest it was set to', () => {
    fc.assert(
      fc.property(days, (day) => {
        const k: KettleBody = { ...day, air: 295.15, boils: 373 };
        let time = 0;
        const draws: KettleDraw[] = day.pours.map(({ pause, length, flow, asked }) => {
          const start = time + pause;
          time = start + length;
          return { start, end: time, flow, asked };
        });
        const course = kettleCourse(
          k,
          { mass: day.mass, temperature: day.start },
          draws,
          day.between,
          time + 30,
        );
        expect(course[0]!.from).toBe(0);
        expect(course.at(-1)!.to).toBe(time + 30);
        const hottest = Math.max(day.start, ...draws.map((draw) => draw.asked));
        course.forEach((s, i) => {
          const next = course[i + 1];
          if (next) {
            expect(next.from).toBe(s.to);
            expect(next.temperature).toBe(temperatureIn(k, s, s.to));
          }
          for (const share of [0, 0.3, 1]) {
            const T = temperatureIn(k, s, s.from + share * (s.to - s.from));
            expect(T).toBeGreaterThanOrEqual(Math.min(295.15, day.start) - 1e-9);
            expect(T).toBeLessThanOrEqual(hottest + 1e-9);
          }
        });
        const asked = draws.reduce((sum, draw) => sum + draw.flow * (draw.end - draw.start), 0);
        expect(massIn(course.at(-1)!, time + 30)).toBeCloseTo(Math.max(0, day.mass - asked), 12);
      }),
      { seed: 7, numRuns: 200 },
    );
  });
  it('follows the integrated equation through heating, pouring and cooling, to 1e-7 K', () => {
    const draws = [
      { start: 20, end: 32, flow: 5e-3, asked: 366 },
      { start: 60, end: 80, flow: 5e-3, asked: 371 },
    ];
    const course = kettleCourse(kettle, { mass: 0.5, temperature: 350 }, draws, 'on_base', 80);
    let T = 350;
    let mass = 0.5;
    for (const s of course) {
      const reached = s.set === null ? 0 : heatingTime(kettle, T, mass, s.set);
      const heating = Math.min(s.to - s.from, reached);
      if (s.set === null) T = byIntegration(kettle, T, mass, s.flow, 0, s.to - s.from);
      else if (heating > 0) T = byIntegration(kettle, T, mass, 0, kettle.power, heating);
      mass -= s.flow * (s.to - s.from);
      expect(temperatureIn(kettle, s, s.to)).toBeCloseTo(T, 7);
    }
    expect(course).toHaveLength(4);
  });
});
