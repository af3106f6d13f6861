/** A list of numbers that grows by doubling, for streams whose length is not known. */
export class Growing {
  #held: Float64Array = new Float64Array(1_024);
  #length = 0;

  get length(): number {
    return this.#length;
  }

  push(value: number): void {
    if (this.#length === this.#held.length) {
      const wider = new Float64Array(2 * this.#held.length);
      wider.set(this.#held);
      this.#held = wider;
    }
    this.#held[this.#length++] = value;
  }

  /** The numbers so far; a view that the next push may leave behind. */
  values(): Float64Array {
    return this.#held.subarray(0, this.#length);
  }
}
