import { z } from 'zod';
import { type Checked, checkSchema } from '../../documents/problem.ts';
import { INTERVAL_KINDS } from '../d-prime.ts';
import type { Finding } from '../findings.ts';
import { PROTOCOL_NAMES } from '../protocols.ts';

/** What a statistic gives: every figure, and what they mean. */
export interface PlainAnswer {
  figures: Readonly<Record<string, unknown>>;
  findings: Finding[];
}

/** A statistic that takes a table typed by hand. */
export interface PlainKind {
  /** One line: which question it answers. */
  about: string;
  /** A small input that works. */
  example: unknown;
  /** JSON Schema (draft 2020-12) of its input, for a form. */
  input(): Record<string, unknown>;
  answer(input: unknown): Checked<PlainAnswer>;
}

/** Makes a statistic from the schema of its input and what it computes; input is checked before anything is computed. */
export function plainKind<T>(
  about: string,
  schema: z.ZodType<T>,
  example: unknown,
  compute: (input: T) => Checked<PlainAnswer>,
): PlainKind {
  return {
    about,
    example,
    input: () => z.toJSONSchema(schema, { io: 'input', target: 'draft-2020-12' }) as Record<string, unknown>,
    answer(input) {
      const checked = checkSchema(schema, input);
      return checked.ok ? compute(checked.value) : checked;
    },
  };
}

/** A name of a taster, cup or word. */
export const name = z.string().trim().min(1).max(80);
/** A count of answers. */
export const count = z.int().min(0).max(5000);
/** A count of at least one. */
export const some = z.int().min(1).max(5000);
export const protocol = z.enum(PROTOCOL_NAMES as [(typeof PROTOCOL_NAMES)[number], ...typeof PROTOCOL_NAMES]);
/** Chance of a false alarm that is accepted. */
export const alpha = z.number().gt(0).max(0.5).default(0.05);
/** Confidence of an interval. */
export const level = z.number().min(0.5).max(0.999).default(0.95);
export const intervalKind = z.enum(INTERVAL_KINDS as [(typeof INTERVAL_KINDS)[number]]).default('exact');
export const seed = z.int().min(0).max(2_000_000_000).default(1);
/** How large a difference is assumed. */
export const effect = z
  .union([
    z.strictObject({ d_prime: z.number().min(0).max(10) }),
    z.strictObject({ discriminators: z.number().min(0).max(1) }),
  ])
  .default({ d_prime: 1.5 });
/** A score. */
export const score = z.number().min(-1000).max(1000);
/** Hours on a clock. */
export const hours = z.number().min(0).max(100_000);
