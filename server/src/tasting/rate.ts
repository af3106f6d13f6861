import { TASTING_LIMITS } from './limits.ts';

/** Lets each address send so many requests at once and so many a second after that. */
export class Rate {
  readonly #left = new Map<string, { tokens: number; at: number }>();

  /** @param now [ms] */
  allows(address: string, now: number): boolean {
    const { burst, per_second, addresses } = TASTING_LIMITS;
    const known = this.#left.get(address) ?? { tokens: burst, at: now };
    const tokens = Math.min(burst, known.tokens + ((now - known.at) / 1000) * per_second);
    // Put at the end, so that the first of the map is the one longest silent.
    this.#left.delete(address);
    if (this.#left.size >= addresses) this.#left.delete(this.#left.keys().next().value as string);
    this.#left.set(address, { tokens: Math.max(0, tokens - 1), at: now });
    return tokens >= 1;
  }
}
