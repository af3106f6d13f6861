import type { ServerResponse } from 'node:http';
import { LIMITS } from '../limits.ts';

/** Open event streams of one sort, by session. */
export class Streams<Of> {
  readonly #open = new Map<ServerResponse, { session_id: string; of: Of }>();
  #heartbeat: NodeJS.Timeout | undefined;

  get size(): number {
    return this.#open.size;
  }

  /** Adds a stream whose head was sent. `gone` is called once when it ends, however it ends. */
  add(stream: ServerResponse, session_id: string, of: Of, gone: () => void): void {
    this.#open.set(stream, { session_id, of });
    this.#heartbeat ??= setInterval(() => this.#beat(), LIMITS.heartbeat_ms).unref();
    stream.once('close', () => {
      this.#open.delete(stream);
      if (this.#open.size === 0) {
        clearInterval(this.#heartbeat);
        this.#heartbeat = undefined;
      }
      gone();
    });
  }

  /** Streams of a session. */
  of(session_id: string): { stream: ServerResponse; of: Of }[] {
    return [...this.#open].flatMap(([stream, entry]) =>
      entry.session_id === session_id ? [{ stream, of: entry.of }] : [],
    );
  }

  /** Sessions that somebody listens to. */
  sessions(): string[] {
    return [...new Set([...this.#open.values()].map((entry) => entry.session_id))];
  }

  /** Ends every stream. */
  close(): void {
    for (const stream of [...this.#open.keys()]) stream.end();
  }

  #beat(): void {
    for (const stream of this.#open.keys()) write(stream, ':\n\n');
  }
}

/** One event of a stream. */
export function sendEvent(stream: ServerResponse, event: string, data: unknown, id?: number): void {
  write(stream, `${id === undefined ? '' : `id: ${id}\n`}event: ${event}\ndata: ${JSON.stringify(data)}\n\n`);
}

/** A device that does not read is cut off; it comes back and fetches what stands. */
function write(stream: ServerResponse, text: string): void {
  if (stream.writableLength > LIMITS.stream_backlog_bytes / 16) stream.destroy();
  else if (!stream.writableEnded && !stream.destroyed) stream.write(text);
}
