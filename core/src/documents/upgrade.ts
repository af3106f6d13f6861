import type { z } from 'zod';
import { type Checked, problem, shown } from './problem.ts';

type Body = Record<string, unknown>;

/** One step: takes a body of version `from`, gives a body of version `from + 1`. Pure; must not change its input. */
export interface UpgradeStep {
  from: number;
  up: (body: Body) => Body;
}

/** A kind of document through all its versions. */
export interface Family<S extends z.ZodType = z.ZodType> {
  kind: string;
  schema: S;
  /** Newest version, the one the schema describes. */
  version: number;
  steps: readonly UpgradeStep[];
}

/**
 * Declares a family. The steps must start at version 1 and rise by one; the newest version follows from their
 * number.
 * @throws Error when the steps are not numbered 1, 2, 3 …
 */
export function defineFamily<S extends z.ZodType>(
  kind: string,
  schema: S,
  steps: readonly UpgradeStep[],
): Family<S> {
  steps.forEach((step, i) => {
    if (step.from !== i + 1)
      throw new Error(`defineFamily(${kind}): step ${i + 1} upgrades from ${step.from}, expected ${i + 1}`);
  });
  return { kind, schema, version: steps.length + 1, steps };
}

/** Brings a body to the newest version of its family. A body that is already there is returned as it is. */
export function upgradeTo(family: Family, input: unknown): Checked<unknown> {
  if (typeof input !== 'object' || input === null || Array.isArray(input))
    return {
      ok: false,
      problems: [problem([], 'wrong_type', { value: shown(input), expected: 'an object' })],
    };
  let body = input as Body;
  const version = body.version;
  const limit = family.version;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1)
    return { ok: false, problems: [problem(['version'], 'bad_version', { value: shown(version), limit })] };
  if (version > limit)
    return {
      ok: false,
      problems: [problem(['version'], 'newer_version', { value: version, kind: family.kind, limit })],
    };
  for (const step of family.steps.slice(version - 1)) {
    try {
      body = { ...step.up(body), version: step.from + 1 };
    } catch {
      return {
        ok: false,
        problems: [problem([], 'upgrade_failed', { kind: family.kind, value: version, limit })],
      };
    }
  }
  return { ok: true, value: body };
}
