import { LIMITS } from './limits.ts';
import { ProblemError, problemDetails } from './problem.ts';

/** Bounds how many large bodies are held in memory at once. */
export class Uploads {
  #running = 0;

  /** @throws ProblemError 429 when too many are running */
  async run<T>(work: () => Promise<T>): Promise<T> {
    if (this.#running >= LIMITS.uploads_at_once)
      throw new ProblemError(
        problemDetails(
          429,
          'too-many-uploads',
          'Too many uploads',
          `There are ${LIMITS.uploads_at_once} uploads under way already. Send this one again in a moment.`,
        ),
        { 'retry-after': '2' },
      );
    this.#running++;
    try {
      return await work();
    } finally {
      this.#running--;
    }
  }
}
