import { z } from 'zod';
import { common, id, localId, number, refuse, refuseDuplicateIds, refuseSharesNotOne } from '../fields.ts';

/** One grind of a mix: a setting of a grinder, what sieves keep of it, and what is lost on the way. */
const part = z.strictObject({
  id: localId,
  grinder_id: id,
  setting_id: localId,
  /** Share of the mixed grounds by mass, 0–1. */
  share: number(0, 1),
  /** Finer grains are sieved out; null keeps them. */
  above_um: number(5, 10_000).nullable().default(null),
  /** Coarser grains are sieved out; null keeps them. */
  below_um: number(5, 10_000).nullable().default(null),
  /** What the grinder keeps of every grinding; null takes what its setting says. */
  retention_g: number(0, 20).nullable().default(null),
  /** What else is lost of the ground mass: dust, clinging grains. */
  loss_pct: number(0, 90).default(0),
});

/** A mix of grinds by mass: what goes in, and for how many cups it is weighed. */
export const blend = z
  .strictObject({
    kind: z.literal('blend'),
    version: z.literal(1),
    ...common,
    parts: z.array(part).min(1).max(6),
    /** Grounds in one cup. */
    dose_g: number(1, 200),
    cups: z.int().min(1).max(50).default(1),
    /** Step of the scale. */
    step_g: number(1e-4, 10).default(0.1),
    /** Every cup ground and weighed by itself, or one batch of each part for all cups. */
    grinding: z.enum(['each_cup', 'one_batch']).default('each_cup'),
    /** How far around its opening a sieve still errs, one geometric standard deviation; 0 for a clean cut. */
    blur_pct: number(0, 60).default(0),
    /** Grains below this count as fines. */
    fines_limit_um: number(10, 1_000).default(100),
  })
  .check((ctx) => {
    const { parts } = ctx.value;
    refuseDuplicateIds(ctx, 'parts', parts);
    refuseSharesNotOne(ctx, 'parts', parts);
    parts.forEach(({ above_um, below_um }, i) => {
      if (above_um !== null && below_um !== null && below_um <= above_um)
        refuse(ctx, ['parts', i, 'below_um'], 'max_below_min', below_um, {
          value: `${below_um} µm`,
          limit: `${above_um} µm`,
        });
    });
  });
export type Blend = z.infer<typeof blend>;
