/** What the exit code says. */
export const EXIT = {
  ok: 0,
  /** The input was read and something in it is wrong. */
  problems: 1,
  /** The command line itself is wrong. */
  usage: 2,
  /** Something named is not there, or cannot be read or written. */
  notFound: 3,
  /** A fault of the program. */
  fault: 4,
} as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** Ends a verb with sentences for the person and an exit code. */
export class Stop extends Error {
  readonly code: ExitCode;
  readonly sentences: readonly string[];

  constructor(code: ExitCode, ...sentences: string[]) {
    super(sentences.join('\n'));
    this.name = 'Stop';
    this.code = code;
    this.sentences = sentences;
  }
}
