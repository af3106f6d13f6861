import {
  type AnyDocument,
  type Checked,
  checkDocument,
  checkKind,
  type DocumentOf,
  type Kind,
} from '@pourline/core';
import type { Clash, NewDocument, Revision, SyncState } from './api.ts';
import type { StoredDocument, StoredDraft } from './db.ts';
import { newId } from './ids.ts';
import type { ReplicaStore, SaveOutcome, SaveRequest, Signature } from './replica-store.ts';

/** What tabs of one browser tell each other. */
type Note =
  | { note: 'changed'; ids: string[] }
  | { note: 'sync'; state: SyncState }
  | { note: 'sync?' }
  | { note: 'drain' };

export interface ReplicaOptions {
  store: ReplicaStore;
  /** Names the broadcast channel; tabs with one name share one database. */
  name: string;
  signature: () => Signature;
  /** Now, ISO 8601 with offset. */
  now: () => string;
  tabId: string;
}

/**
 * The documents of this browser in memory, kept true to its database and to the other tabs. Everything a screen shows
 * comes from here; everything a person saves goes through here.
 */
export class Replica {
  readonly store: ReplicaStore;
  readonly tabId: string;
  readonly #options: ReplicaOptions;
  readonly #channel: BroadcastChannel;
  readonly #records = new Map<string, StoredDocument>();
  readonly #parsed = new Map<string, { head: string; checked: Checked<AnyDocument> }>();
  readonly #listeners = new Set<() => void>();
  readonly #headListeners = new Set<(id: string) => void>();
  #clashes: readonly Clash[] = [];
  #adopted: StoredDraft[] = [];
  #sync: SyncState = { state: 'starting' };
  #version = 0;
  #list: { version: number; documents: readonly AnyDocument[] } = { version: -1, documents: [] };
  /** Set by the part that talks to the server; called when something waits. */
  onWaiting: () => void = () => {};
  /** This tab is the one that talks to the server. */
  leading = false;

  private constructor(options: ReplicaOptions) {
    this.#options = options;
    this.store = options.store;
    this.tabId = options.tabId;
    this.#channel = new BroadcastChannel(options.name);
    this.#channel.onmessage = (event: MessageEvent<Note>) => void this.#hear(event.data);
  }

  /** Reads everything in. `adopt` says which typed but unsaved drafts belong to this tab now. */
  static async open(options: ReplicaOptions, adopt: (draft: StoredDraft) => boolean): Promise<Replica> {
    const replica = new Replica(options);
    for (const record of await options.store.documents()) replica.#records.set(record.document_id, record);
    replica.#clashes = await options.store.clashes();
    replica.#adopted = (await options.store.drafts()).filter(adopt);
    replica.#tell({ note: 'sync?' });
    return replica;
  }

  close(): void {
    this.#channel.close();
    this.#listeners.clear();
  }

  // ——— what screens read ———

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  /** Rises with every change; a cheap snapshot for screens. */
  version = (): number => this.#version;
  sync = (): SyncState => this.#sync;
  clashes = (): readonly Clash[] => this.#clashes;

  /** Calls `listener` with the id of every document whose head changed. */
  onHead(listener: (id: string) => void): () => void {
    this.#headListeners.add(listener);
    return () => this.#headListeners.delete(listener);
  }

  record(id: string): StoredDocument | undefined {
    return this.#records.get(id);
  }

  /** The head of a document in its newest shape, or undefined when it is not there or cannot be read. */
  read(id: string): AnyDocument | undefined {
    const record = this.#records.get(id);
    if (!record) return undefined;
    const kept = this.#parsed.get(id);
    const current =
      kept?.head === record.head.revision_id
        ? kept
        : { head: record.head.revision_id, checked: checkDocument(record.head.body) };
    this.#parsed.set(id, current);
    return current.checked.ok ? current.checked.value : undefined;
  }

  /** Every readable document, in no order. */
  all(): AnyDocument[] {
    return [...this.#records.keys()].flatMap((id) => this.read(id) ?? []);
  }

  /** {@link all} as of a version, made once for it: for screens that show many lists of one state. */
  allAt(version: number): readonly AnyDocument[] {
    if (this.#list.version !== version) this.#list = { version, documents: this.all() };
    return this.#list.documents;
  }

  /** Takes the newest draft that an earlier page left for this document; it is handed out once. */
  takeDraft(id: string): StoredDraft | undefined {
    const found = this.#adopted
      .filter((draft) => draft.document_id === id)
      .sort((a, b) => b.at.localeCompare(a.at))[0];
    if (found) this.#adopted = this.#adopted.filter((draft) => draft !== found);
    return found;
  }

  /** Documents for which an earlier page left a draft. */
  draftedIds(): string[] {
    return [...new Set(this.#adopted.map((draft) => draft.document_id))];
  }

  // ——— what people save ———

  async save(request: Omit<SaveRequest, 'at'>): Promise<SaveOutcome> {
    const outcome = await this.store.save({ ...request, at: this.#options.now() }, this.#options.signature());
    await this.changed([request.document_id]);
    if (outcome.outcome === 'saved') this.#wake();
    return outcome;
  }

  /** Makes a document from what has no default; everything else is filled in. */
  async create<K extends Kind>(
    kind: K,
    body: NewDocument<K>,
    campaign_id: string | null,
  ): Promise<Checked<DocumentOf<K>>> {
    const id = newId();
    const whole = { ...body, kind, version: 1, id, campaign_id: campaign_id ?? id };
    const checked = checkKind(kind, whole);
    if (!checked.ok) return checked;
    await this.save({
      kind,
      document_id: id,
      campaign_id: campaign_id ?? id,
      base_revision_id: null,
      body: checked.value,
    });
    return checked;
  }

  /** Saves a whole document over its present head. */
  async put(document: AnyDocument, settles?: string): Promise<SaveOutcome> {
    const head = this.#records.get(document.id)?.head;
    return this.save({
      kind: document.kind,
      document_id: document.id,
      campaign_id: document.campaign_id,
      base_revision_id: head?.revision_id ?? null,
      body: document,
      ...(settles === undefined ? {} : { settles }),
    });
  }

  async settle(clash: Clash): Promise<void> {
    await this.store.settle(clash.clash_id);
    await this.changed([clash.document_id]);
  }

  // ——— what the network part reports ———

  /** Re-reads documents whose stored state changed, tells the screens and the other tabs. */
  async changed(ids: readonly string[], from: 'here' | 'elsewhere' = 'here'): Promise<void> {
    const moved: string[] = [];
    for (const record of await Promise.all(ids.map((id) => this.store.document(id)))) {
      if (!record) continue;
      const id = record.document_id;
      if (this.#records.get(id)?.head.revision_id !== record.head.revision_id) moved.push(id);
      this.#records.set(id, record);
    }
    this.#clashes = await this.store.clashes();
    if (from === 'here' && ids.length > 0) this.#tell({ note: 'changed', ids: [...ids] });
    this.#bump();
    for (const id of moved) for (const listener of this.#headListeners) listener(id);
  }

  setSync(state: SyncState): void {
    this.#sync = state;
    this.#tell({ note: 'sync', state });
    this.#bump();
  }

  revisionOf(id: string): Revision | undefined {
    return this.#records.get(id)?.head;
  }

  #wake(): void {
    if (this.leading) this.onWaiting();
    else this.#tell({ note: 'drain' });
  }

  async #hear(note: Note): Promise<void> {
    if (note.note === 'changed') await this.changed(note.ids, 'elsewhere');
    else if (note.note === 'drain' && this.leading) this.onWaiting();
    else if (note.note === 'sync?' && this.leading) this.#tell({ note: 'sync', state: this.#sync });
    else if (note.note === 'sync' && !this.leading) {
      this.#sync = note.state;
      this.#bump();
    }
  }

  #tell(note: Note): void {
    this.#channel.postMessage(note);
  }

  #bump(): void {
    this.#version += 1;
    for (const listener of this.#listeners) listener();
  }
}
