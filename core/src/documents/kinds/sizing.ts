import { z } from 'zod';
import { above0, common, hash, id, moment, number, refuse } from '../fields.ts';

/** Mass on a scale: what was read, and what of it was the empty sieve or pan. */
const weighing = {
  weighed_g: number(0, 5_000),
  tare_g: number(0, 5_000).default(0),
};

/** A stack of sieves, coarsest first, and the pan under it. */
const sieves = z
  .strictObject({
    by: z.literal('sieves'),
    /** What was put on the top sieve; null when it was not weighed. */
    load_g: above0(5_000).nullable().default(null),
    sieves: z
      .array(z.strictObject({ aperture_um: number(5, 10_000), ...weighing }))
      .min(1)
      .max(40),
    /** Null when nothing stood under the stack. */
    pan: z.strictObject(weighing).nullable().default(null),
    /** Step of the balance. */
    step_g: number(1e-4, 10).default(0.1),
    /** How far an aperture may be off from its nominal, standard uncertainty; null takes the tolerance of the standard. */
    aperture_doubt_pct: number(0, 20).nullable().default(null),
    /** How far the share passing a sieve strays when the same coffee is sieved again, standard deviation. */
    repeat_pct: number(0, 10).default(0.5),
    shaken_s: number(0, 7_200).nullable().default(null),
  })
  .check((ctx) => {
    const { sieves: rows, pan } = ctx.value;
    rows.forEach((row, i) => {
      const above = rows[i - 1];
      if (above && row.aperture_um >= above.aperture_um)
        refuse(ctx, ['sieves', i, 'aperture_um'], 'sieves_not_falling', row.aperture_um, {
          value: `${row.aperture_um} µm`,
          limit: above.aperture_um,
        });
      refuseLighterThanTare(ctx, ['sieves', i, 'weighed_g'], row);
    });
    if (pan) refuseLighterThanTare(ctx, ['pan', 'weighed_g'], pan);
  });

function refuseLighterThanTare(
  ctx: Pick<z.core.ParsePayload, 'issues'>,
  path: (string | number)[],
  { weighed_g, tare_g }: { weighed_g: number; tare_g: number },
): void {
  if (weighed_g >= 0 && weighed_g < tare_g)
    refuse(ctx, path, 'lighter_than_tare', weighed_g, { value: `${weighed_g} g`, limit: tare_g });
}

/** A table of sizes as an instrument prints it, laser diffraction foremost, read into rows; the text it came from is kept. */
const table = z
  .strictObject({
    by: z.literal('table'),
    /** What a row's percentage means: the share in that class, all that is smaller, or all that is larger. */
    of: z.enum(['class', 'undersize', 'oversize']),
    /** What a row's size means, for shares in classes: the upper end, the lower end or the middle of its class. */
    sizes: z.enum(['upper', 'lower', 'middle']).default('upper'),
    /** What the percentages count: volume (mass), area or number of grains. */
    weighting: z.enum(['volume', 'area', 'number']).default('volume'),
    rows: z
      .array(z.strictObject({ size_um: number(0.01, 20_000), value_pct: number(0, 101) }))
      .min(2)
      .max(400),
    /** How far the median strays when the same sample is measured again, standard deviation of one measurement. */
    repeat_pct: number(0, 50).default(3),
    /** File as it came, and where it is kept whole when it is too long to stand here. */
    file: z
      .strictObject({
        name: z.string().max(200),
        text: z.string().max(200_000).default(''),
        attachment: hash.nullable().default(null),
      })
      .nullable()
      .default(null),
  })
  .check((ctx) => {
    ctx.value.rows.forEach((row, i) => {
      const before = ctx.value.rows[i - 1];
      if (before && row.size_um <= before.size_um)
        refuse(ctx, ['rows', i, 'size_um'], 'classes_not_rising', row.size_um);
    });
  });

/** Pictures that are taken together at most. */
const MOST_PICTURES = 12;

/** A grain as it was outlined in a photograph. */
const grain = z.strictObject({
  /** Of the circle of the same area. */
  diameter_um: number(1, 20_000),
  /** How many grains it stands for: more than 1 for one so large that the edge of the picture would often cut it. */
  weight: number(0, 1_000).default(1),
  /** Short over long axis of the fitted ellipse. */
  aspect: number(0, 1).nullable().default(null),
  x_px: number(0, 100_000).nullable().default(null),
  y_px: number(0, 100_000).nullable().default(null),
  /** Which of the pictures it is in, counted from 0. */
  picture: z
    .int()
    .min(0)
    .max(MOST_PICTURES - 1)
    .default(0),
  /** False for one erased by hand: kept, not counted. */
  counted: z.boolean().default(true),
});

/** A picture that grains were outlined in. */
const picture = z.strictObject({
  /** The picture itself, when it is kept. */
  file: z
    .strictObject({
      name: z.string().max(200),
      media_type: z.string().max(120).default(''),
      attachment: hash.nullable().default(null),
    })
    .nullable()
    .default(null),
  scale: z
    .strictObject({
      pixel_um: above0(1_000),
      from: z.enum(['ruler', 'coin', 'card', 'pixel_size']),
      /** How far the scale may be off, standard uncertainty. */
      doubt_pct: number(0, 50).default(1),
    })
    .nullable()
    .default(null),
});

/** Grains of one or more photographs of the same grounds, or measured one by one. */
const photo = z
  .strictObject({
    by: z.literal('photo'),
    pictures: z
      .array(picture)
      .min(1)
      .max(MOST_PICTURES)
      .default([{ file: null, scale: null }]),
    grains: z.array(grain).min(1).max(20_000),
  })
  .check((ctx) => {
    const { pictures, grains } = ctx.value;
    grains.forEach((grain, i) => {
      if (grain.picture >= pictures.length)
        refuse(ctx, ['grains', i, 'picture'], 'no_such_picture', grain.picture, { limit: pictures.length });
    });
  });

/**
 * One measurement of one sample of ground coffee, raw: what was weighed, printed or outlined. What follows from it is computed,
 * never stored as truth.
 */
export const sizing = z.strictObject({
  kind: z.literal('sizing'),
  version: z.literal(1),
  ...common,
  measured_at: moment.nullable().default(null),
  coffee_id: id.nullable().default(null),
  grinder_id: id.nullable().default(null),
  /** What the dial showed, as a number. */
  dial: number(-1_000, 100_000).nullable().default(null),
  /** Dial reading at which the burrs just touched at that time; null takes what the grinder's own record says. */
  touch_dial: number(-1_000, 100_000).nullable().default(null),
  /** Temperature of the beans as they went in. */
  beans_C: number(-80, 60).nullable().default(null),
  /** Coffee that the burrs had ground by then. */
  burrs_kg: number(0, 1e6).nullable().default(null),
  data: z.discriminatedUnion('by', [sieves, table, photo]),
  /** Which model is taken; `best` leaves the choice to the information criterion. */
  model: z.enum(['best', 'log_normal', 'two_modes', 'three_modes', 'weibull']).default('best'),
  /** Grains below this count as fines. */
  fines_limit_um: number(10, 1_000).default(100),
});
export type Sizing = z.infer<typeof sizing>;
/** Schema of the raw data alone, for a measurement written by hand. */
export const sizingData = sizing.shape.data;
export type SizingData = Sizing['data'];
