import { z } from 'zod';
import { type Checked, checkSchema, type Problem } from '../../documents/index.ts';
import { CORE_VERSION } from '../../version.ts';
import { fitProblem } from './gather.ts';
import { layoutOf } from './layout.ts';
import { CHANNEL_NAMES, type Fit } from './types.ts';

const named = z.object({ id: z.string(), name: z.string() });
const numbers = z.array(z.number());

/** What a prediction needs of a fit; everything else passes as it is. */
const shape = z.looseObject({
  coffee_id: z.string(),
  coffee_name: z.string(),
  trials: z.int().min(1),
  input_hash: z.string(),
  core_version: z.string(),
  seed: z.int(),
  posterior: z.object({
    ids: z.array(z.string()),
    best: numbers,
    laplace: numbers,
    mean: numbers,
    covariance: numbers,
    draws: z.array(numbers).min(1),
    extractable: z.number().gt(0).max(0.6),
    setups: z.array(named).min(1),
    grinders: z.array(named),
    channels: z.array(z.enum(CHANNEL_NAMES)),
    reference_age_d: z.number(),
  }),
});

/**
 * Reads a fit that was kept as JSON. Problems say when it is none, or is of a program that lays out its unknowns otherwise: it has to
 * be made again then.
 */
export function readFit(input: unknown): Checked<Fit> {
  const read = checkSchema(shape, input);
  if (!read.ok) return { ok: false, problems: [fitProblem('not_a_fit', { where: placeOf(read.problems) })] };
  const { posterior } = read.value;
  const ids = layoutOf(posterior).unknowns.map(({ id }) => id);
  const same =
    ids.length === posterior.ids.length &&
    ids.every((id, k) => id === posterior.ids[k]) &&
    [posterior.mean, ...posterior.draws].every((point) => point.length === ids.length);
  if (!same)
    return {
      ok: false,
      problems: [fitProblem('fit_of_other_version', { theirs: read.value.core_version, ours: CORE_VERSION })],
    };
  return { ok: true, value: input as Fit };
}

const placeOf = (problems: readonly Problem[]): string => problems[0]?.sentence ?? '';
