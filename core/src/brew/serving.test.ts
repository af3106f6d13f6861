import { beforeAll, describe, expect, it } from 'vitest';
import type { BrewBundle } from '../documents/index.ts';
import { type AfterBrew, afterBrew } from './after-brew.ts';
import type { BrewCase } from './case.ts';
import { compileCase } from './compile.ts';
import { defaultParameters } from './parameters.ts';
import type { BrewResult, ServingCourse } from './result.ts';
import { simulate } from './simulate.ts';
import { demoBundle } from './testing/demo-bundle.ts';

type Serving = NonNullable<BrewBundle['plan']['serving']>;

const plain: Serving = {
  stands_s: 15,
  lid: false,
  cups: 1,
  cup_g: null,
  cups_C: null,
  carry_s: 20,
  hot_above_C: 60,
  cold_below_C: 40,
};

const PLAN = 'Five pours in the cone';
const parameters = defaultParameters();
/** The demo's cone brew, hot enough to serve: computed once, served many times. */
let brewed: BrewResult;
let compiled: BrewCase;
beforeAll(() => {
  brewed = simulate(demoBundle(PLAN), { resolution: 'draft' });
  compiled = compileCase(demoBundle(PLAN), parameters, 'draft');
});

/** That brew, served as asked, with what is said about it. */
function served(
  change: Partial<Serving> = {},
  more: (bundle: BrewBundle) => void = () => {},
): AfterBrew & { serving: ServingCourse } {
  const bundle = demoBundle(PLAN);
  bundle.plan.serving = { ...plain, ...change };
  more(bundle);
  const after = afterBrew(bundle, compiled, parameters, brewed.trace, brewed.cup);
  if (!after.serving) throw new Error('served: nothing was');
  return { ...after, serving: after.serving };
}

const cupOf = (...arguments_: Parameters<typeof served>) => served(...arguments_).serving.cups[0]!;
const codes = (...arguments_: Parameters<typeof served>) => served(...arguments_).remarks.map((r) => r.code);

describe('serving', () => {
  it('is not computed unless the plan says how and the setup has a cup', () => {
    const bundle = demoBundle();
    bundle.plan.serving = null;
    expect(simulate(bundle, { resolution: 'draft' }).serving).toBeNull();
    bundle.plan.serving = plain;
    bundle.setup.cup = null;
    expect(simulate(bundle, { resolution: 'draft' }).serving).toBeNull();
  });
  it('takes the brew over where it ended, and keeps every gram of it', () => {
    const { cup, trace, serving } = served({ cups: 3 });
    const total = serving.cups.reduce((sum, entry) => sum + entry.beverage_g, serving.rest_g);
    expect(serving.rest_g).toBeCloseTo(0, 10);
    // What is missing evaporated from the server in its fifteen seconds and while cups were poured.
    expect(cup.beverage_g - total).toBeGreaterThan(0);
    expect(cup.beverage_g - total).toBeLessThan(0.3);
    expect(serving.cups[0]!.poured_s).toBeGreaterThan(trace.time_s.at(-1)! + 15);
    expect(serving.server_C).toBeLessThan(cup.server_C);
    expect(serving.server_C).toBeGreaterThan(cup.server_C - 1);
    const solids = serving.cups.reduce((sum, e) => sum + e.beverage_g * e.strength_pct[0]!, 0);
    expect(solids).toBeCloseTo(cup.beverage_g * cup.strength_pct, 6);
  });
  it('fills cups one after another, each cooler than the one before', () => {
    const { cups } = served({ cups: 3 }).serving;
    for (let i = 1; i < 3; i++) {
      expect(cups[i]!.poured_s).toBeGreaterThan(cups[i - 1]!.poured_s);
      expect(cups[i]!.served_s - cups[i]!.poured_s).toBeCloseTo(20, 9);
      expect(cups[i]!.poured_C).toBeLessThan(cups[i - 1]!.poured_C);
    }
  });
  it('gives courses that begin when poured, pass through serving, and end cold', () => {
    const cup = cupOf();
    expect(cup.time_s[0]).toBe(cup.poured_s);
    expect(cup.temperature_C[0]).toBe(cup.poured_C);
    expect(cup.time_s).toContain(cup.served_s);
    expect(cup.temperature_C.at(-1)).toBeLessThan(40);
    for (const column of [cup.temperature_C, cup.evaporated_g, cup.strength_pct])
      expect(column).toHaveLength(cup.time_s.length);
    for (let i = 1; i < cup.time_s.length; i++) {
      expect(cup.temperature_C[i]!).toBeLessThan(cup.temperature_C[i - 1]!);
      expect(cup.strength_pct[i]!).toBeGreaterThan(cup.strength_pct[i - 1]!);
    }
  });
  it('grows stronger by just what evaporates', () => {
    const cup = cupOf();
    const start = cup.strength_pct[0]!;
    const end = cup.strength_pct.at(-1)!;
    const left = cup.beverage_g - cup.evaporated_g.at(-1)!;
    expect(end * left).toBeCloseTo(start * cup.beverage_g, 8);
  });
  it('passes from hot to warm to cold at the limits the plan sets', () => {
    const cup = cupOf();
    const at = (time: number): number => {
      const i = cup.time_s.findIndex((t) => t >= time);
      const share = (time - cup.time_s[i - 1]!) / (cup.time_s[i]! - cup.time_s[i - 1]!);
      return cup.temperature_C[i - 1]! + share * (cup.temperature_C[i]! - cup.temperature_C[i - 1]!);
    };
    expect(at(cup.hot_until_s!)).toBeCloseTo(60, 9);
    expect(at(cup.warm_until_s!)).toBeCloseTo(40, 9);
    const other = cupOf({ hot_above_C: 55, cold_below_C: 45 });
    expect(other.hot_until_s!).toBeGreaterThan(cup.hot_until_s!);
    expect(other.warm_until_s!).toBeLessThan(cup.warm_until_s!);
  });
  it('is hot for no time at all when it is served below the limit', () => {
    const cup = cupOf({ stands_s: 1_800 });
    expect(cup.served_C).toBeLessThan(60);
    expect(cup.hot_until_s).toBe(cup.served_s);
  });
  it('does not claim a cup is cold that never was within its course', () => {
    const cup = cupOf({ cold_below_C: 18, hot_above_C: 30 });
    expect(cup.warm_until_s).toBeNull();
  });
  it('closes its books to 1e-10', () => {
    for (const cups of [1, 3, 12]) expect(served({ cups }).serving.closure).toBeLessThan(1e-10);
  });
});

describe('what keeps a cup hot', () => {
  const heat = (...arguments_: Parameters<typeof served>): number => cupOf(...arguments_).served_C;
  it('a preheated cup, a covered server, less standing, more in it, two walls, a narrower cup', () => {
    const base = heat();
    expect(heat({ cups_C: 70 })).toBeGreaterThan(base + 2);
    expect(heat({ stands_s: 300, lid: true })).toBeGreaterThan(heat({ stands_s: 300 }) + 2);
    expect(heat({ stands_s: 0 })).toBeGreaterThan(base);
    expect(heat({ cup_g: 60 })).toBeLessThan(base);
    const warm = (more: (bundle: BrewBundle) => void) => cupOf({}, more).warm_until_s!;
    const usual = warm(() => {});
    expect(
      warm((b) => {
        b.setup.cup!.double_wall = true;
      }),
    ).toBeGreaterThan(usual);
    expect(
      warm((b) => {
        b.setup.cup!.inner_diameter_mm = 65;
      }),
    ).toBeGreaterThan(usual);
  });
  it('evaporation is most of the loss of an open cup, as of any open hot surface', () => {
    const { lost } = served().serving;
    expect(lost.evaporation_pct + lost.surface_pct + lost.wall_pct).toBeCloseTo(100, 9);
    expect(lost.evaporation_pct).toBeGreaterThan(50);
  });
});

describe('remarks on cups', () => {
  it('warn of a very hot one and say how long to wait', () => {
    const { remarks, serving } = served({ cups_C: 90, stands_s: 0, carry_s: 0 });
    const found = remarks.find((r) => r.code === 'cup_very_hot');
    expect(serving.cups[0]!.served_C).toBeGreaterThan(65);
    expect(found?.sentence).toMatch(/Above 65 °C .*IARC.* passes 65 °C after [\d.]+ min/);
  });
  it('say when it is served too cool, and what helps', () => {
    expect(codes({ stands_s: 1_200 })).toContain('cup_cool');
    expect(codes({ cups_C: 70 })).not.toContain('cup_cool');
  });
  it('say when there is not enough for all, and share evenly', () => {
    const { remarks, serving } = served({ cups: 3, cup_g: 120 });
    expect(remarks.find((r) => r.code === 'cups_short')?.sentence).toContain(
      '3 cups of 120 g 360 g are needed',
    );
    const [first, , third] = serving.cups;
    expect(Math.abs(first!.beverage_g - third!.beverage_g)).toBeLessThan(0.1);
  });
  it('say when a cup runs over', () => {
    expect(codes({ cups: 1 }, (b) => (b.setup.cup!.capacity_mL = 100))).toContain('cup_overflows');
  });
});
