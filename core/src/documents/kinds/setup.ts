import { z } from 'zod';
import { above0, common, localId, material, number, refuseDuplicateIds } from '../fields.ts';

/** Dripper, paper, server and kettles: what stands on the table. */
export const setup = z
  .strictObject({
    kind: z.literal('setup'),
    version: z.literal(1),
    ...common,
    dripper: z.strictObject({
      shape: z.enum(['flat', 'cone']),
      /** Inner diameter at the bottom of the bed; for a cone, of its outlet. */
      bottom_diameter_mm: number(2, 200),
      /** Inner diameter at the rim. */
      rim_diameter_mm: number(20, 300),
      height_mm: number(20, 300),
      material,
      mass_g: number(5, 3_000),
      /** Outlet can be closed, for immersion. */
      valve: z.boolean().default(false),
    }),
    paper: z.strictObject({
      mass_g: number(0.1, 20).default(1.6),
      /** Pressure over viscosity times flow per area, 1/m; null takes the default of the engine. */
      resistance_per_m: above0(1e12).nullable().default(null),
    }),
    server: z.strictObject({
      material,
      mass_g: number(5, 3_000),
      capacity_mL: number(20, 5_000),
      /** Temperature of the empty server; null when it stands at air temperature. */
      preheated_C: number(0, 100).nullable().default(null),
      /** Inner width at the liquid, for what it loses while it stands; null takes a server as wide as it is high. */
      inner_diameter_mm: number(20, 300).nullable().default(null),
    }),
    /** What the beverage is served in; null when that is not planned here. */
    cup: z
      .strictObject({
        material,
        mass_g: number(2, 2_000),
        inner_diameter_mm: number(20, 250),
        capacity_mL: number(10, 2_000),
        /** Two walls with still air between them. */
        double_wall: z.boolean().default(false),
      })
      .nullable()
      .default(null),
    kettles: z
      .array(
        z.strictObject({
          id: localId,
          name: z.string().trim().min(1).max(120),
          capacity_g: number(50, 10_000),
          power_W: number(0, 5_000),
          /** Extra water that the kettle's own body acts like. */
          body_equivalent_g: number(0, 1_000).default(100),
          /** Heat lost off the base, per kelvin above the air. */
          loss_W_K: number(0.05, 20).default(1.2),
        }),
      )
      .min(1)
      .max(6),
  })
  .check((ctx) => {
    refuseDuplicateIds(ctx, 'kettles', ctx.value.kettles);
    const { bottom_diameter_mm, rim_diameter_mm } = ctx.value.dripper;
    if (rim_diameter_mm < bottom_diameter_mm)
      ctx.issues.push({
        code: 'too_small',
        origin: 'number',
        minimum: bottom_diameter_mm,
        inclusive: true,
        path: ['dripper', 'rim_diameter_mm'],
        input: rim_diameter_mm,
      });
  });
export type Setup = z.infer<typeof setup>;
