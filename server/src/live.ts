import type { ServerResponse } from 'node:http';
import type { Store } from '@pourline/store';
import { LIMITS } from './limits.ts';

interface Listener {
  stream: ServerResponse;
  /** Last revision this page was told of. */
  seq: number;
}

/** Tells open pages what is saved, in the order it was saved. */
export class Live {
  readonly #store: Store;
  readonly #listeners = new Set<Listener>();
  readonly #onFailure: (error: unknown) => void;
  #watch: NodeJS.Timeout | undefined;
  #heartbeat: NodeJS.Timeout | undefined;
  #telling = false;
  #more = false;

  constructor(store: Store, onFailure: (error: unknown) => void) {
    this.#store = store;
    this.#onFailure = onFailure;
  }

  /** Number of open streams. */
  get open(): number {
    return this.#listeners.size;
  }

  /** Adds a stream whose head has been sent; it hears of everything after `since`, old and new. */
  add(stream: ServerResponse, since: number): void {
    const listener = { stream, seq: since };
    this.#listeners.add(listener);
    stream.once('close', () => this.#remove(listener));
    this.#watch ??= setInterval(() => void this.tell(), LIMITS.watch_ms).unref();
    this.#heartbeat ??= setInterval(() => this.#write(':\n\n'), LIMITS.heartbeat_ms).unref();
    void this.tell();
  }

  /** Looks for what is new and sends it. Safe to call at any time; calls while one runs make it run once more. */
  async tell(): Promise<void> {
    this.#more = true;
    if (this.#telling) return;
    this.#telling = true;
    try {
      while (this.#more && this.#listeners.size > 0) {
        this.#more = false;
        await this.#tellOnce();
      }
    } catch (error) {
      this.#onFailure(error);
    } finally {
      this.#telling = false;
    }
  }

  /** Ends every stream. */
  close(): void {
    for (const { stream } of [...this.#listeners]) stream.end();
    this.#listeners.clear();
    this.#rest();
  }

  async #tellOnce(): Promise<void> {
    const from = Math.min(...[...this.#listeners].map((listener) => listener.seq));
    if ((await this.#store.lastSeq()) <= from) return;
    const { revisions } = await this.#store.latest(from);
    for (const revision of revisions) {
      const message = `id: ${revision.seq}\nevent: revision\ndata: ${JSON.stringify(revision)}\n\n`;
      for (const listener of [...this.#listeners]) {
        if (listener.seq >= revision.seq) continue;
        listener.seq = revision.seq;
        this.#send(listener.stream, message);
      }
    }
  }

  #write(text: string): void {
    for (const { stream } of [...this.#listeners]) this.#send(stream, text);
  }

  /** A page that does not read is cut off rather than kept in memory; it resumes by the id it saw last. */
  #send(stream: ServerResponse, text: string): void {
    if (stream.writableLength > LIMITS.stream_backlog_bytes) stream.destroy();
    else if (!stream.writableEnded && !stream.destroyed) stream.write(text);
  }

  #remove(listener: Listener): void {
    this.#listeners.delete(listener);
    if (this.#listeners.size === 0) this.#rest();
  }

  #rest(): void {
    clearInterval(this.#watch);
    clearInterval(this.#heartbeat);
    this.#watch = undefined;
    this.#heartbeat = undefined;
  }
}
