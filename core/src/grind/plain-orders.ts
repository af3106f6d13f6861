import { z } from 'zod';
import { above0, number } from '../documents/fields.ts';
import { type Checked, checkSchema, type Distribution, sizingData } from '../documents/index.ts';
import { distribution } from '../documents/kinds/grinder.ts';
import { problem } from '../documents/problem.ts';
import { analyseSizes, type SizeAnalysis } from './analyse.ts';
import { tableOf } from './classes.ts';
import type { DialPoint } from './dial-points.ts';
import type { GrindMixOrder } from './grind-mix.ts';
import type { JarOrder } from './jars.ts';
import { logSizesOf, logSizesOfTable } from './levels.ts';
import type { BrewTransferOrder } from './transfer.ts';

/** Sizes as somebody writes them by hand: a distribution, or raw data that are analysed first. */
const sizes = {
  name: z.string().trim().min(1).max(120),
  distribution: distribution.optional(),
  data: sizingData.optional(),
};
type Sizes = { distribution?: Distribution | undefined; data?: z.infer<typeof sizingData> | undefined };

const mixSchema = z.strictObject({
  parts: z
    .array(
      z.strictObject({
        ...sizes,
        share: number(0, 1_000),
        cut: z
          .strictObject({
            above_um: above0(20_000).nullable().default(null),
            below_um: above0(20_000).nullable().default(null),
            blur_gsd: number(1, 2).default(1),
          })
          .nullable()
          .default(null),
        retention_g: number(0, 20).default(0),
        loss: number(0, 0.9).default(0),
      }),
    )
    .min(1)
    .max(6),
  dose_g: number(1, 200),
  cups: z.number().int().min(1).max(100).default(1),
  step_g: number(1e-3, 10).default(0.1),
  grinding: z.enum(['each_cup', 'one_batch']).default('each_cup'),
  fines_limit_um: number(10, 1_000).default(100),
});

const jarSchema = z.strictObject({
  jars: z
    .array(
      z.strictObject({
        name: z.string().trim().min(1).max(120),
        weighed_g: number(0, 5_000),
        tare_g: number(0, 5_000).default(0),
      }),
    )
    .min(1)
    .max(60),
  brewers_g: z.array(above0(500)).min(1).max(30),
  retention_g: number(0, 20).default(0),
  tolerance_g: number(0, 20).default(0.1),
  step_g: number(1e-3, 10).default(0.1),
});

const dial = number(-1_000, 100_000);
const curveSchema = z.strictObject({
  points: z
    .array(
      z.strictObject({
        ...sizes,
        dial,
        touch_dial: dial.nullable().default(null),
        beans_C: number(-80, 60).nullable().default(null),
        burrs_kg: number(0, 1e6).nullable().default(null),
        /** Standard uncertainty of the median; null takes that of the measurement. */
        doubt_pct: above0(100).nullable().default(null),
      }),
    )
    .min(1)
    .max(200),
});

const figure = above0(100_000).nullable().default(null);
const transferSchema = z.discriminatedUnion('by', [
  z.strictObject({
    by: z.literal('brews'),
    wanted: z.strictObject({
      drawdown_s: figure,
      yield_pct: figure,
      brews: z.number().int().min(1).max(100).default(1),
    }),
    brews: z
      .array(z.strictObject({ dial, drawdown_s: figure, yield_pct: figure }))
      .min(1)
      .max(50),
    touch_dial: dial.default(0),
    drawdown_repeat_pct: above0(100).optional(),
    yield_repeat_pct: above0(20).optional(),
  }),
  z.strictObject({ by: z.literal('sizes'), from: curveSchema, dial, to: curveSchema }),
]);

/** A transfer written by hand. */
export type PlainTransfer =
  | { by: 'brews'; order: BrewTransferOrder }
  | { by: 'sizes'; from: DialPoint[]; dial: number; to: DialPoint[] };

/** Reads a mix written by hand. Parts bring `distribution`, or `data` of a measurement, which is fitted. */
export function readPlainGrindMix(
  input: unknown,
): Checked<GrindMixOrder & { distributions: Distribution[] }> {
  const read = checkSchema(mixSchema, input);
  if (!read.ok) return read;
  const distributions = read.value.parts.map((part) => distributionIn(part));
  const bad = distributions.indexOf(null);
  if (bad >= 0) return needsSizes(['parts', bad]);
  const parts = read.value.parts.map((part, i) => ({ ...part, table: tableOf(distributions[i]!) }));
  return {
    ok: true,
    value: { ...read.value, parts, distributions: distributions.filter((found) => found !== null) },
  };
}

/** Reads jars written by hand. */
export const readPlainJars = (input: unknown): Checked<JarOrder> => checkSchema(jarSchema, input);

/** Reads the measured settings of a grinder written by hand. */
export function readPlainCurve(input: unknown): Checked<DialPoint[]> {
  const read = checkSchema(curveSchema, input);
  return read.ok ? pointsOf(read.value.points, ['points']) : read;
}

/** Reads a transfer written by hand, from brews or from sizes. */
export function readPlainTransfer(input: unknown): Checked<PlainTransfer> {
  const read = checkSchema(transferSchema, input);
  if (!read.ok) return read;
  const { value } = read;
  if (value.by === 'sizes') {
    const from = pointsOf(value.from.points, ['from', 'points']);
    const to = pointsOf(value.to.points, ['to', 'points']);
    if (!from.ok) return from;
    if (!to.ok) return to;
    return { ok: true, value: { by: 'sizes', from: from.value, dial: value.dial, to: to.value } };
  }
  const { by: _, drawdown_repeat_pct, yield_repeat_pct, ...rest } = value;
  const order = {
    ...rest,
    ...(drawdown_repeat_pct === undefined ? {} : { drawdown_repeat_pct }),
    ...(yield_repeat_pct === undefined ? {} : { yield_repeat_pct }),
  };
  return { ok: true, value: { by: 'brews', order } };
}

const needsSizes = (path: (string | number)[]): { ok: false; problems: ReturnType<typeof problem>[] } => ({
  ok: false,
  problems: [problem(path, 'needs_sizes')],
});

const analysisIn = (part: Sizes): SizeAnalysis | null =>
  part.data ? analyseSizes(part.data, { draws: 100 }).analysis : null;

function distributionIn(part: Sizes): Distribution | null {
  if (part.distribution) return part.distribution;
  const analysis = analysisIn(part);
  return analysis?.fitted?.distribution ?? analysis?.measured.distribution ?? null;
}

/** Doubt of the median of a distribution that was only written down. */
const WRITTEN = 0.05;

function pointsOf(
  rows: readonly z.infer<typeof curveSchema>['points'][number][],
  path: (string | number)[],
): Checked<DialPoint[]> {
  const points: DialPoint[] = [];
  for (const [i, row] of rows.entries()) {
    const analysis = analysisIn(row);
    const found = row.distribution ?? analysis?.measured.distribution;
    if (!found) return needsSizes([...path, i]);
    const band = analysis?.fitted?.bands.d50_um ?? null;
    const { name, dial: shown, touch_dial, beans_C, burrs_kg, doubt_pct } = row;
    points.push({
      name,
      dial: shown,
      touch_dial,
      beans_C,
      burrs_kg,
      logSizes: analysis?.fitted ? logSizesOf(analysis.fitted.model) : logSizesOfTable(tableOf(found)),
      doubt:
        doubt_pct !== null ? doubt_pct / 100 : band ? Math.log(band.high / band.low) / (2 * 1.645) : WRITTEN,
    });
  }
  return { ok: true, value: points };
}
