import type { Revision, SyncState } from './api.ts';
import { seedDemo } from './demo.ts';
import { backoff, sendingOrder } from './kernels/receive.ts';
import type { Replica } from './replica.ts';
import { about, pull, push, pushAttachment, readRevision } from './wire.ts';

/**
 * Keeps the replica and the server together. Only one tab of a browser does this at a time (a Web Lock); the others
 * hear of it from that tab. Without locks (plain http on a local network) every tab does it, which the client-made
 * ids make harmless.
 */
export class Sync {
  readonly #replica: Replica;
  readonly #lock: string;
  #events: EventSource | undefined;
  #first: ReturnType<typeof about> | undefined;
  #attempt = 0;
  #retry: ReturnType<typeof setTimeout> | undefined;
  #working: Promise<void> = Promise.resolve();
  #again = false;
  #closed = false;
  #release: () => void = () => {};

  /** @param first the first look at who is there, begun while the database was still opening */
  constructor(replica: Replica, lock: string, first: ReturnType<typeof about>) {
    this.#replica = replica;
    this.#lock = lock;
    this.#first = first;
  }

  /** Waits for its turn to lead, then leads until {@link close}. */
  async start(): Promise<void> {
    addEventListener('online', this.#hurry);
    document.addEventListener('visibilitychange', this.#hurry);
    if (!navigator.locks) return this.#lead();
    await navigator.locks.request(this.#lock, async () => {
      if (this.#closed) return;
      await this.#lead();
      await new Promise<void>((release) => {
        this.#release = release;
      });
    });
  }

  close(): void {
    this.#closed = true;
    removeEventListener('online', this.#hurry);
    document.removeEventListener('visibilitychange', this.#hurry);
    clearTimeout(this.#retry);
    this.#events?.close();
    this.#release();
  }

  /** Tries at once instead of waiting out the pause. */
  #hurry = (): void => {
    if (!this.#replica.leading || this.#closed || document.visibilityState === 'hidden') return;
    if (this.#replica.sync().state !== 'offline') return;
    this.#attempt = 0;
    void this.#connect();
  };

  async #lead(): Promise<void> {
    this.#replica.leading = true;
    this.#replica.onWaiting = () => void this.#work();
    await this.#connect();
  }

  /** Finds out who is there, catches up, and listens. */
  async #connect(): Promise<void> {
    if (this.#closed) return;
    clearTimeout(this.#retry);
    const { store } = this.#replica;
    const found = await (this.#first ?? about());
    this.#first = undefined;
    if (found === 'pourline') {
      await store.setMeta('server_seen', true);
      this.#attempt = 0;
      this.#listen();
      return this.#work();
    }
    if (await store.meta('server_seen')) return this.#lost();
    await seedDemo(this.#replica);
    this.#replica.setSync({ state: 'local' });
  }

  #listen(): void {
    this.#events?.close();
    const events = new EventSource('api/events');
    this.#events = events;
    events.addEventListener('revision', (event) => {
      const revision = readRevision(JSON.parse(event.data));
      if (revision) void this.#queue(() => this.#take([revision]));
    });
    // What was missed between the last answer and this stream is fetched once it stands.
    events.addEventListener('open', () => void this.#work());
    events.addEventListener('error', () => {
      if (this.#events !== events) return;
      events.close();
      this.#events = undefined;
      void this.#lost();
    });
  }

  async #lost(): Promise<void> {
    this.#events?.close();
    this.#events = undefined;
    const waiting = (await this.#replica.store.waiting()).length;
    this.#replica.setSync({ state: 'offline', waiting });
    clearTimeout(this.#retry);
    if (this.#closed) return;
    this.#retry = setTimeout(() => void this.#connect(), backoff(this.#attempt, Math.random()));
    this.#attempt += 1;
  }

  #queue(task: () => Promise<void>): Promise<void> {
    this.#working = this.#working.then(task).catch((error: unknown) => {
      console.error(error);
      return this.#lost();
    });
    return this.#working;
  }

  /** Catches up and empties the outbox; calls that come in meanwhile make it run once more. */
  #work(): Promise<void> {
    if (this.#again) return this.#working;
    this.#again = true;
    return this.#queue(async () => {
      this.#again = false;
      if (this.#events === undefined) {
        if (this.#replica.sync().state === 'offline') await this.#count();
        return;
      }
      if ((await this.#catchUp()) && (await this.#sendAttachments()) && (await this.#drain())) return;
      await this.#lost();
    });
  }

  async #count(): Promise<void> {
    const waiting = (await this.#replica.store.waiting()).length;
    this.#replica.setSync({ state: 'offline', waiting });
  }

  async #catchUp(): Promise<boolean> {
    const { store } = this.#replica;
    const since = (await store.meta('seq')) ?? 0;
    let page = await pull(since);
    if (page.answer !== 'ok') return false;
    const history = await store.meta('history_id');
    if (history !== page.value.history_id || page.value.seq < since) {
      if (history !== undefined) await store.distrustServer();
      await store.setMeta('history_id', page.value.history_id);
      if (since > 0) page = await pull(0);
      if (page.answer !== 'ok') return false;
    }
    await this.#take(page.value.revisions);
    await store.setMeta('seq', page.value.seq);
    return true;
  }

  async #take(revisions: readonly Revision[]): Promise<void> {
    await this.#replica.changed(await this.#replica.store.receiveAll(revisions));
  }

  async #sendAttachments(): Promise<boolean> {
    const { store } = this.#replica;
    for (const attachment of await store.waitingAttachments()) {
      if (!(await pushAttachment(attachment.name, attachment.media_type, attachment.data))) return false;
      await store.keepAttachment({ ...attachment, waiting: 0 });
    }
    return true;
  }

  /** Sends what waits, one by one and in order. False when the server fell silent. */
  async #drain(): Promise<boolean> {
    const { store } = this.#replica;
    const campaignOf = (id: string): string => this.#replica.record(id)?.campaign_id ?? '';
    for (;;) {
      const waiting = await store.waiting();
      const next = sendingOrder(waiting, campaignOf)[0];
      this.#replica.setSync(this.#standing(waiting.length));
      if (!next) return true;
      const revision = await store.revision(next.revision_id);
      if (!revision) throw new Error(`drain: revision ${next.revision_id} is in the outbox but not kept`);
      const reply = await push(revision);
      if (reply.reply === 'silent') return false;
      if (reply.reply === 'refused') await store.refuse(revision.revision_id, reply.problems);
      else await store.receiveAll([reply.reply === 'taken' ? reply.revision : reply.current]);
      if (reply.reply === 'clash' && (await this.#stillWaits(revision.revision_id)))
        await store.refuse(revision.revision_id, []);
      await this.#replica.changed([revision.document_id]);
    }
  }

  async #stillWaits(revision_id: string): Promise<boolean> {
    return (await this.#replica.store.waiting()).some((entry) => entry.revision_id === revision_id);
  }

  #standing(waiting: number): SyncState {
    return waiting === 0 ? { state: 'saved' } : { state: 'sending', waiting };
  }
}
