/**
 * Runs jobs one at a time and keeps at most one waiting: the newest. A job under way is never thrown away, because its
 * answer is still nearer the finger than nothing.
 */
export interface LatestWins<Input> {
  /** Asks for `input`; replaces whatever was waiting. */
  ask(input: Input): void;
  /** Drops what waits. What runs still answers. */
  clear(): void;
  readonly running: boolean;
  readonly waiting: boolean;
}

/** Makes a queue of one over `run`. Answers and failures come in the order in which jobs were started. */
export function latestWins<Input, Output>(
  run: (input: Input) => Promise<Output>,
  answer: (output: Output, input: Input) => void,
  failed: (reason: unknown, input: Input) => void,
): LatestWins<Input> {
  let running = false;
  let next: { input: Input } | null = null;

  const start = async (input: Input): Promise<void> => {
    running = true;
    try {
      answer(await run(input), input);
    } catch (reason) {
      failed(reason, input);
    } finally {
      running = false;
      const waiting = next;
      next = null;
      if (waiting) void start(waiting.input);
    }
  };

  return {
    ask(input) {
      if (running) next = { input };
      else void start(input);
    },
    clear() {
      next = null;
    },
    get running() {
      return running;
    },
    get waiting() {
      return next !== null;
    },
  };
}
