import { z } from 'zod';
import { name, plainKind, seed } from '../../panel/plain/kind.ts';
import { blamePours } from './blame.ts';
import { learnProblem } from './input.ts';
import { POUR_FIGURES } from './types.ts';

const value = z.number().min(-1e6).max(1e6);

const record = <K extends string>(keys: readonly K[], of: z.ZodType<number>) =>
  z.strictObject(
    Object.fromEntries(keys.map((key) => [key, of.optional()])) as Record<
      K,
      z.ZodOptional<z.ZodType<number>>
    >,
  );
const slips = z.strictObject({
  water_g: z.number().min(0).max(5000).nullable().default(null),
  start_s: z.number().min(0).max(7200).nullable().default(null),
  duration_s: z.number().min(0).max(7200).nullable().default(null),
});
const slipNumbers = z.strictObject({ water_g: value, start_s: value, duration_s: value });
const figureNumbers = z.strictObject({
  strength_pct: value,
  yield_pct: value,
  beverage_g: value,
  drawdown_s: value.nullable(),
  server_C: value,
});

/** JSON has no NaN: what does not exist is null there. */
const orNaN = <T extends Record<string, number | null>>(of: T) =>
  Object.fromEntries(Object.entries(of).map(([key, v]) => [key, v ?? Number.NaN])) as {
    [K in keyof T]: number;
  };

const figureNames = record(POUR_FIGURES, value);
const known = <T extends Record<string, number | undefined>>(of: T) =>
  Object.fromEntries(Object.entries(of).filter(([, v]) => v !== undefined)) as { [K in keyof T]?: number };

/** Cups as they were measured, without the engine: `pourline difference pours` adds the sensitivities of a plan. */
export const measuredCups = z.strictObject({
  cups: z
    .array(
      z.strictObject({
        name,
        pours: z.array(slips.nullable()).min(1).max(40),
        figures: figureNames,
      }),
    )
    .min(2)
    .max(24),
  pour_doubt: slipNumbers.default({ water_g: 0.5, start_s: 0.5, duration_s: 0.7 }),
  figure_doubt: figureNames.prefault({
    strength_pct: 0.01,
    yield_pct: 0.15,
    beverage_g: 0.3,
    drawdown_s: 2,
    server_C: 0.5,
  }),
  unexplained: figureNames.prefault({
    strength_pct: 0.02,
    yield_pct: 0.3,
    beverage_g: 1.5,
    drawdown_s: 5,
    server_C: 0.7,
  }),
  seed,
});

const blame = measuredCups.extend({
  sensitivities: z.strictObject({
    pours: z.array(z.string().max(80)).min(1).max(40),
    planned: z.array(slipNumbers),
    base: figureNumbers,
    effect: z.array(
      z.strictObject({ water_g: figureNumbers, start_s: figureNumbers, duration_s: figureNumbers }),
    ),
  }),
});

const EXAMPLE_EFFECT = (strength: number, beverage: number) => ({
  strength_pct: strength,
  yield_pct: 0.003,
  beverage_g: beverage,
  drawdown_s: null,
  server_C: 0.05,
});
const EXAMPLE_POUR = {
  water_g: EXAMPLE_EFFECT(-0.0055, 0.7),
  start_s: EXAMPLE_EFFECT(0.0007, -0.27),
  duration_s: EXAMPLE_EFFECT(-0.0003, -0.1),
};
const EXAMPLE_BASE = { strength_pct: 1.3, yield_pct: 18.9, beverage_g: 205, drawdown_s: null, server_C: 63 };

/** Which pour it was, from a table typed by hand. */
export const POURS = plainKind(
  'which pour made a cup differ? Measured pours and cups, with what each gram and second does by the engine',
  blame,
  {
    sensitivities: {
      pours: ['first', 'second', 'third'],
      planned: [0, 40, 80].map((start_s) => ({ water_g: 80, start_s, duration_s: 15 })),
      base: EXAMPLE_BASE,
      effect: [EXAMPLE_POUR, EXAMPLE_POUR, EXAMPLE_POUR],
    },
    cups: [
      {
        name: 'left',
        pours: [
          { water_g: 80.2, start_s: 0, duration_s: 15 },
          { water_g: 79.8, start_s: 40, duration_s: 15.4 },
          { water_g: 80.1, start_s: 80, duration_s: 14.8 },
        ],
        figures: { strength_pct: 1.31, beverage_g: 205.1 },
      },
      {
        name: 'middle',
        pours: [
          { water_g: 79.9, start_s: 0, duration_s: 15.1 },
          { water_g: 89.5, start_s: 40.5, duration_s: 16.8 },
          { water_g: 80.3, start_s: 80, duration_s: 15 },
        ],
        figures: { strength_pct: 1.25, beverage_g: 212.3 },
      },
      {
        name: 'right',
        pours: [
          { water_g: 80.4, start_s: 0, duration_s: 14.9 },
          { water_g: 80.1, start_s: 40, duration_s: 15 },
          { water_g: 79.6, start_s: 80.5, duration_s: 15.2 },
        ],
        figures: { strength_pct: 1.3, beverage_g: 204.9 },
      },
    ],
  },
  (of) => {
    const count = of.sensitivities.pours.length;
    const problems = of.cups.flatMap(({ pours }, i) =>
      pours.length === count
        ? []
        : [learnProblem(['cups', i, 'pours'], 'ragged_figures', { value: pours.length, limit: count })],
    );
    if (of.sensitivities.effect.length !== count)
      problems.push(
        learnProblem(['sensitivities', 'effect'], 'ragged_figures', {
          value: of.sensitivities.effect.length,
          limit: count,
        }),
      );
    if (problems.length > 0) return { ok: false, problems };
    const { findings, cups } = blamePours({
      sensitivities: {
        ...of.sensitivities,
        base: orNaN(of.sensitivities.base),
        effect: of.sensitivities.effect.map((slip) => ({
          water_g: orNaN(slip.water_g),
          start_s: orNaN(slip.start_s),
          duration_s: orNaN(slip.duration_s),
        })),
      },
      cups: of.cups.map((cup) => ({ ...cup, figures: known(cup.figures) })),
      pour_doubt: of.pour_doubt,
      figure_doubt: known(of.figure_doubt),
      unexplained: known(of.unexplained),
      seed: of.seed,
    });
    const rows = cups.map((one) => ({
      ...one,
      cup: one.cup + 1,
      against: one.against.map((c) => c + 1),
      pours: one.pours.map((pour) => ({ ...pour, pour: pour.pour + 1 })),
    }));
    return { ok: true, value: { figures: { cups: rows }, findings } };
  },
);
