import type { Problem } from '@pourline/core';
import { LIMITS } from './limits.ts';

/** Problem details, RFC 9457. */
export interface ProblemDetails {
  /** Stable name of the kind of problem. */
  type: string;
  title: string;
  status: number;
  /** A sentence for a person. */
  detail: string;
  [extension: string]: unknown;
}

/** Thrown in a route to answer with a problem. */
export class ProblemError extends Error {
  readonly problem: ProblemDetails;
  readonly headers: Readonly<Record<string, string>>;

  constructor(problem: ProblemDetails, headers: Readonly<Record<string, string>> = {}) {
    super(problem.detail);
    this.name = 'ProblemError';
    this.problem = problem;
    this.headers = headers;
  }
}

/**
 * Makes problem details. `name` ends the type, `urn:pourline:problem:<name>`, and stays the same for good.
 */
export function problemDetails(
  status: number,
  name: string,
  title: string,
  detail: string,
  more: Record<string, unknown> = {},
): ProblemDetails {
  return { type: `urn:pourline:problem:${name}`, title, status, detail, ...more };
}

/** 422: what was sent can be read but does not hold. Lists the first problems and says how many there are. */
export function unprocessable(problems: readonly Problem[]): ProblemDetails {
  const first = problems[0]?.sentence ?? 'What was sent is not valid.';
  const rest = problems.length - 1;
  const detail =
    rest > 0 ? `${first} There ${rest === 1 ? 'is 1 more problem' : `are ${rest} more problems`}.` : first;
  return problemDetails(422, 'not-valid', 'Not valid', detail, {
    problems: problems.slice(0, LIMITS.listed_problems),
    problems_total: problems.length,
  });
}

/** 400: what was sent cannot be read. */
export const unreadable = (detail: string): ProblemDetails =>
  problemDetails(400, 'not-readable', 'Not readable', detail);

/** 404 */
export const notFound = (detail: string): ProblemDetails =>
  problemDetails(404, 'not-found', 'Not found', detail);

/** 413: names the limit. */
export const tooLarge = (detail: string, limit_bytes: number): ProblemDetails =>
  problemDetails(413, 'too-large', 'Too large', detail, { limit_bytes });
