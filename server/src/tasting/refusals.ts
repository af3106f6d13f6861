import type { Problem } from '@pourline/core';
import { ProblemError, problemDetails, unprocessable } from '../problem.ts';

/** 409: not possible as things stand; says why. */
export const notNow = (problems: readonly Problem[]): ProblemError =>
  new ProblemError(
    problemDetails(409, 'not-now', 'Not now', problems[0]?.sentence ?? 'This is not possible now.', {
      problems,
    }),
  );

/** 422 */
export const notValid = (problems: readonly Problem[]): ProblemError =>
  new ProblemError(unprocessable(problems));

/** 403: a person may not take part. */
export const notAdmitted = (problems: readonly Problem[]): ProblemError =>
  new ProblemError(
    problemDetails(403, 'not-admitted', 'Not admitted', problems[0]?.sentence ?? 'You cannot take part.', {
      problems,
    }),
  );

/** 403: the same for a code that never was and one that is over. */
export const codeRefused = (): ProblemError =>
  new ProblemError(
    problemDetails(
      403,
      'code-refused',
      'Code refused',
      'This code opens nothing here, or its time is over. Look at the host’s screen again.',
    ),
  );

/** 429 for codes. */
export const tooManyCodes = (seconds: number): ProblemError =>
  new ProblemError(
    problemDetails(
      429,
      'too-many-codes',
      'Too many codes',
      'Too many wrong codes came in. Wait a few minutes, then type the code as it stands on the host’s screen.',
    ),
    { 'retry-after': String(seconds) },
  );

/** 401: no token, or one that does not hold (any more). */
export const noToken = (): ProblemError =>
  new ProblemError(
    problemDetails(
      401,
      'not-joined',
      'Not joined',
      'This device does not sit at the table, or its seat was given to another device. Join with the host’s code.',
    ),
    { 'www-authenticate': 'Bearer realm="tasting"' },
  );

/** 403 at any address that is not for who asks, whether or not there is anything. */
export const notForYou = (): ProblemError =>
  new ProblemError(
    problemDetails(403, 'not-for-you', 'Not for you', 'This address is not open to you here. Ask the host.'),
  );
