import type { RunEvent } from '@pourline/core';
import type { LiveDatabase, StoredAnchor, StoredRun, StoredSound } from './db.ts';

/** Everything after this key belongs to the next run. */
const MOST = Number.POSITIVE_INFINITY;

/**
 * What is written down of runs. An event counts as written when its transaction has been committed with the strictest durability that the browser
 * offers; nothing is ever overwritten.
 */
export class RunLog {
  readonly #db: LiveDatabase;
  constructor(db: LiveDatabase) {
    this.#db = db;
  }

  async prepare(run: StoredRun): Promise<void> {
    await this.#db.put('runs', run);
  }

  run(run_id: string): Promise<StoredRun | undefined> {
    return this.#db.get('runs', run_id);
  }

  async runs(): Promise<StoredRun[]> {
    return (await this.#db.getAll('runs')).sort((a, b) => b.prepared_at.localeCompare(a.prepared_at));
  }

  async events(run_id: string): Promise<RunEvent[]> {
    const rows = await this.#db.getAll('events', IDBKeyRange.bound([run_id, 0], [run_id, MOST]));
    return rows.map(({ event }) => event);
  }

  anchor(run_id: string): Promise<StoredAnchor | undefined> {
    return this.#db.get('anchors', run_id);
  }

  /**
   * Writes one event, with the clock it was read from, and returns once both are on disk.
   * @throws when the number is taken: somebody else writes this run
   */
  async append(run_id: string, event: RunEvent, anchor: StoredAnchor | null): Promise<void> {
    const tx = this.#db.transaction(['events', 'anchors'], 'readwrite', { durability: 'strict' });
    await Promise.all([
      tx.objectStore('events').add({ run_id, n: event.n, event }),
      ...(anchor ? [tx.objectStore('anchors').put(anchor)] : []),
      tx.done,
    ]);
  }

  /** Keeps the clock as it stands; called every second, so no more than a second of watching is ever missing. */
  async keepAnchor(anchor: StoredAnchor): Promise<void> {
    await this.#db.put('anchors', anchor);
  }

  async close(run_id: string, closed: NonNullable<StoredRun['closed']>): Promise<void> {
    const tx = this.#db.transaction('runs', 'readwrite');
    const run = await tx.store.get(run_id);
    if (run) await tx.store.put({ ...run, closed });
    await tx.done;
  }

  /** A run that was kept goes on after all. */
  async reopen(run_id: string): Promise<void> {
    const tx = this.#db.transaction('runs', 'readwrite');
    const run = await tx.store.get(run_id);
    if (run) await tx.store.put({ ...run, closed: null });
    await tx.done;
  }

  async change(run_id: string, change: Partial<Pick<StoredRun, 'settings' | 'name'>>): Promise<void> {
    const tx = this.#db.transaction('runs', 'readwrite');
    const run = await tx.store.get(run_id);
    if (run) await tx.store.put({ ...run, ...change });
    await tx.done;
  }

  async keepSound(sound: StoredSound): Promise<void> {
    await this.#db.put('sounds', sound);
  }

  sounds(run_id: string): Promise<StoredSound[]> {
    return this.#db.getAll('sounds', IDBKeyRange.bound([run_id, 0, 0], [run_id, MOST, MOST]));
  }

  async dropSounds(run_id: string): Promise<void> {
    await this.#db.delete('sounds', IDBKeyRange.bound([run_id, 0, 0], [run_id, MOST, MOST]));
  }
}
