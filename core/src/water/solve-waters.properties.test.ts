import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { COMPONENTS, combine } from './composition.ts';
import { molalities } from './concentrates.ts';
import type { Target, WantedWater } from './order.ts';
import { QUANTITY_NAMES, type Quantity } from './quantities.ts';
import { perGram, SALT_NAMES, SALTS } from './salts.ts';
import { type SolvedWaters, solveWaters } from './solve-waters.ts';
import { speciate } from './speciate.ts';
import { eightJars, jar, order } from './testing/orders.ts';

const options = { seed: 20_261_125, numRuns: 25 };

/** Figures that nobody can mean, among some that one can. */
const wild = fc.oneof(
  fc.constantFrom(null, Number.NaN, Number.POSITIVE_INFINITY, -5, 0, 5000, 1e-9, 1e12),
  fc.double({ min: 0, max: 300, noNaN: true }),
);
const absurd: fc.Arbitrary<Target> = fc.record({
  of: fc.constantFrom(...QUANTITY_NAMES),
  aim: wild,
  low: wild,
  high: wild,
  weight: fc.constantFrom(1, 0, -2, Number.NaN, 30),
  hard: fc.boolean(),
});
/** Ions that salts bring one by one, asked for in amounts that waters hold. */
const IONS = ['calcium', 'magnesium', 'alkalinity', 'sulfate', 'chloride', 'sodium'] as const;
const plain: fc.Arbitrary<Target[]> = fc
  .record(Object.fromEntries(IONS.map((of) => [of, fc.option(fc.integer({ min: 2, max: 60 }))])))
  .map((asked) =>
    IONS.flatMap((of) =>
      asked[of] == null
        ? []
        : [{ of, aim: asked[of], low: null, high: null, weight: 1, hard: false } satisfies Target],
    ),
  )
  .filter((targets) => targets.length > 0);

const wanted = (targets: readonly Target[], id = 'w', batch_g = 2000): WantedWater => ({
  id,
  name: 'Water',
  batch_g,
  targets,
  poured_g: 100,
});

/** Squared misses of all waters in tolerances. */
const miss = ({ sheets }: SolvedWaters): number =>
  sheets.flatMap((s) => s.targets).reduce((sum, { miss: m, tolerance }) => sum + (m / tolerance) ** 2, 0);

describe('any order at all', () => {
  it('absurd as it may be, gets a nearest water with a clear word for every target that is missed', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(absurd, { maxLength: 5 }), { maxLength: 3 }),
        fc.subarray(eightJars()),
        fc.constantFrom(2000, 0, -3, Number.NaN, 1e9),
        fc.constantFrom(null, 0, 0.05, 30),
        (asked, jars, batch_g, amount_g) => {
          const given = order({
            waters: asked.map((targets, i) => wanted(targets, `w${i}`, batch_g)),
            jars: jars.map((of) => ({ ...of, amount_g })),
            bases: jars.length % 2 ? order({}).bases : [],
          });
          const before = structuredClone(given);
          const solved = solveWaters(given);
          // Nothing that was typed is lost.
          expect(given).toEqual(before);
          expect(solved.sheets).toHaveLength(asked.length);
          const said = [...solved.remarks, ...solved.sheets.flatMap(({ remarks }) => remarks)];
          for (const { sentence } of said) expect(sentence).not.toMatch(/[{}]|undefined/);
          for (const sheet of solved.sheets) {
            expect(Number.isFinite(sheet.figures.pH.value)).toBe(true);
            for (const name of COMPONENTS) expect(sheet.composition[name]).toBeGreaterThanOrEqual(0);
            for (const { grams, steps, step_g } of sheet.doses) {
              expect(grams).toBeGreaterThan(0);
              expect(grams).toBeCloseTo(steps * step_g, 6);
              if (amount_g !== null) expect(grams).toBeLessThanOrEqual(amount_g + step_g);
            }
            if (sheet.targets.some(({ met }) => !met))
              expect(said.some(({ level }) => level === 'problem')).toBe(true);
          }
        },
      ),
      options,
    );
  }, 20_000);
});

describe('a recipe', () => {
  it('is as near whatever the order of jars and waters', () => {
    fc.assert(
      fc.property(
        plain,
        plain,
        fc.shuffledSubarray(eightJars(), { minLength: 8, maxLength: 8 }),
        (a, b, jars) => {
          const found = miss(
            solveWaters(order({ waters: [wanted(a, 'a'), wanted(b, 'b')], jars: eightJars() }), {
              exact: true,
            }),
          );
          const turned = miss(
            solveWaters(order({ waters: [wanted(b, 'b'), wanted(a, 'a')], jars }), { exact: true }),
          );
          expect(Math.abs(found - turned)).toBeLessThanOrEqual(1e-6 * (1 + found));
        },
      ),
      options,
    );
  });

  it('grows with its batch', () => {
    fc.assert(
      fc.property(plain, fc.double({ min: 0.5, max: 40, noNaN: true }), (targets, times) => {
        const doses = (batch_g: number) =>
          solveWaters(order({ waters: [wanted(targets, 'w', batch_g)], jars: eightJars() }), { exact: true })
            .sheets[0]!.doses;
        const small = doses(1000);
        const large = doses(1000 * times);
        expect(large.map(({ item_id }) => item_id)).toEqual(small.map(({ item_id }) => item_id));
        for (const [i, { grams }] of large.entries())
          expect(Math.abs(grams - times * small[i]!.grams)).toBeLessThan(1e-6 * (1 + grams));
      }),
      options,
    );
  });

  it('takes nothing from a jar that no target asks for, however full it is', () => {
    const calm: readonly Quantity[] = ['calcium', 'magnesium', 'alkalinity', 'sulfate'];
    fc.assert(
      fc.property(plain, fc.integer({ min: 1, max: 5000 }), (targets, amount_g) => {
        const asked = targets.filter(({ of }) => calm.includes(of));
        fc.pre(asked.length > 0);
        const salt = { ...jar('sodium_chloride'), amount_g };
        const { doses } = solveWaters(
          order({ waters: [wanted(asked)], jars: [salt, ...eightJars().slice(0, 5)] }),
        ).sheets[0]!;
        expect(doses.map(({ item_id }) => item_id)).not.toContain(salt.id);
      }),
      options,
    );
  });
});

describe('salts that go into water', () => {
  const bag = fc.shuffledSubarray(
    SALT_NAMES.filter((name) => !SALTS[name].needsCO2 && name !== 'calcium_hydroxide'),
    { minLength: 2 },
  );
  const grams = fc.double({ min: 0.001, max: 0.2, noNaN: true });

  it('make the same water in whatever order, weighed in or by way of one bottle', () => {
    fc.assert(
      fc.property(bag, fc.array(grams, { minLength: 12, maxLength: 12 }), (names, masses) => {
        const parts = names.map((salt, i) => ({
          form: { salt, hydrate: SALTS[salt].hydrates[0]! },
          grams: masses[i]!,
        }));
        const water = (of: typeof parts) =>
          combine(of.map(({ form, grams: g }) => ({ of: perGram(form), share: g })));
        const [there, back] = [water(parts), water([...parts].reverse())];
        const bottle = (of: typeof parts) => molalities({ name: '', parts: of, water_g: 1000 });
        const [first, second] = [bottle(parts), bottle([...parts].reverse())];
        for (const name of COMPONENTS) {
          expect(Math.abs(there[name] - back[name])).toBeLessThanOrEqual(1e-15 + 1e-14 * there[name]);
          expect(Math.abs(first[name] - second[name])).toBeLessThanOrEqual(1e-15 + 1e-14 * first[name]);
        }
        expect(Math.abs(speciate(there).pH - speciate(back).pH)).toBeLessThan(1e-10);
      }),
      options,
    );
  });
});
