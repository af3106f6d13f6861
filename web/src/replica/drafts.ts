import { checkKind, type DocumentOf, type Kind } from '@pourline/core';
import type { Draft } from './api.ts';
import {
  type Check,
  changeDraft,
  closeStep,
  type DraftState,
  followDraft,
  isTouched,
  openDraft,
  redoDraft,
  reopenDraft,
  savedDraft,
  undoDraft,
} from './kernels/draft.ts';
import type { Replica } from './replica.ts';

/** Typing that pauses for less than this makes one undo step and one revision [ms]. */
const QUIET_ms = 600;

/** One document under edit in this tab, shared by every part of the screen that shows it. */
export class DraftStore<K extends Kind> {
  readonly #replica: Replica;
  readonly #kind: K;
  readonly #id: string;
  readonly #check: Check<DocumentOf<K>>;
  readonly #listeners = new Set<() => void>();
  #state: DraftState<DocumentOf<K>>;
  #view: Draft<K>;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #saving: Promise<void> = Promise.resolve();

  constructor(replica: Replica, kind: K, document: DocumentOf<K>) {
    this.#replica = replica;
    this.#kind = kind;
    this.#id = document.id;
    this.#check = (body) => checkKind(kind, body);
    const head = replica.revisionOf(document.id)?.revision_id ?? '';
    const left = replica.takeDraft(document.id);
    this.#state = left
      ? reopenDraft(left.base_revision_id, document, left.body as DocumentOf<K>, this.#check)
      : openDraft(head, document);
    this.#view = this.#draw();
    if (left) {
      void replica.store.dropDraft(left.key).then(() => this.#keep());
      this.#schedule();
    }
  }

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  view = (): Draft<K> => this.#view;

  /** Saves at once what would be saved after a pause; for a page that is about to go away. */
  async flush(): Promise<void> {
    clearTimeout(this.#timer);
    await this.#commit();
  }

  /** The head changed: follows it when nothing is typed here; otherwise the next save finds the clash. */
  headMoved(): void {
    const head = this.#replica.revisionOf(this.#id);
    const document = this.#replica.read(this.#id);
    if (!head || document?.kind !== this.#kind || head.revision_id === this.#state.base) return;
    if (isTouched(this.#state)) return;
    this.#set(followDraft(this.#state, head.revision_id, document as DocumentOf<K>));
  }

  #change = (body: DocumentOf<K>, options?: { settled?: boolean }): void => {
    const settled = options?.settled ?? true;
    this.#set(changeDraft(this.#state, body, settled, this.#check));
    if (settled && this.#state.unsaved) this.#later();
  };

  #undo = (): void => {
    this.#set(undoDraft(this.#state, this.#check));
    if (isTouched(this.#state)) this.#later();
    else this.headMoved();
  };

  #redo = (): void => {
    this.#set(redoDraft(this.#state, this.#check));
    this.#later();
  };

  #later(): void {
    void this.#keep();
    this.#schedule();
  }

  #schedule(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.#commit(), QUIET_ms);
  }

  get #key(): string {
    return `${this.#id}|${this.#replica.tabId}`;
  }

  /** Writes down what is typed, valid or not, so that a reload finds it. */
  async #keep(): Promise<void> {
    if (!this.#state.unsaved) return;
    await this.#replica.store.keepDraft({
      key: this.#key,
      document_id: this.#id,
      tab_id: this.#replica.tabId,
      kind: this.#kind,
      base_revision_id: this.#state.base,
      body: this.#state.body,
      at: new Date().toISOString(),
    });
  }

  #commit(): Promise<void> {
    this.#set(closeStep(this.#state));
    this.#saving = this.#saving.then(() => this.#save());
    return this.#saving;
  }

  async #save(): Promise<void> {
    const { body, base, unsaved, problems } = this.#state;
    if (!unsaved || problems.length > 0 || this.#state.gestureFrom !== null) return;
    const checked = this.#check(body);
    if (!checked.ok) return;
    const outcome = await this.#replica.save({
      kind: this.#kind,
      document_id: this.#id,
      campaign_id: checked.value.campaign_id,
      base_revision_id: base,
      body: checked.value,
      draft_key: this.#key,
    });
    if (outcome.outcome === 'clash' || outcome.outcome === 'behind') {
      if (this.#state.body !== body) return this.#later();
      const head = this.#replica.read(this.#id);
      if (head?.kind === this.#kind)
        this.#set(
          outcome.outcome === 'behind'
            ? followDraft({ ...this.#state, unsaved: false }, outcome.head.revision_id, head as DocumentOf<K>)
            : openDraft(outcome.head.revision_id, head as DocumentOf<K>),
        );
      return;
    }
    this.#set(savedDraft(this.#state, outcome.revision.revision_id, body));
    if (this.#state.unsaved) this.#later();
    else this.headMoved();
  }

  #set(state: DraftState<DocumentOf<K>>): void {
    if (state === this.#state) return;
    this.#state = state;
    this.#view = this.#draw();
    for (const listener of this.#listeners) listener();
  }

  #draw(): Draft<K> {
    const { body, document, problems, past, future, gestureFrom } = this.#state;
    return {
      body,
      document,
      problems,
      change: this.#change,
      undo: this.#undo,
      redo: this.#redo,
      canUndo: past.length > 0 || gestureFrom !== null,
      canRedo: future.length > 0 && gestureFrom === null,
    };
  }
}

/** All drafts of one tab, one store a document. */
export class Drafts {
  readonly #replica: Replica;
  readonly #stores = new Map<string, DraftStore<Kind>>();
  readonly #listeners = new Set<() => void>();
  #version = 0;

  constructor(replica: Replica) {
    this.#replica = replica;
    replica.onHead((id) => this.#stores.get(id)?.headMoved());
  }

  /** The draft of a document, opened on first use; null when there is no such document of this kind. */
  open<K extends Kind>(kind: K, id: string): DraftStore<K> | null {
    const kept = this.#stores.get(id) as DraftStore<K> | undefined;
    if (kept) return kept.view().document.kind === kind ? kept : null;
    const document = this.#replica.read(id);
    if (document?.kind !== kind) return null;
    const made = new DraftStore(this.#replica, kind, document as DocumentOf<K>);
    this.#stores.set(id, made as unknown as DraftStore<Kind>);
    made.subscribe(() => {
      this.#version += 1;
      for (const listener of this.#listeners) listener();
    });
    return made;
  }

  /** Rises with every change of any draft. */
  version = (): number => this.#version;

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  /** The draft of a document when it is open. */
  opened(id: string): Draft<Kind> | undefined {
    return this.#stores.get(id)?.view();
  }

  async flush(): Promise<void> {
    await Promise.all([...this.#stores.values()].map((store) => store.flush()));
  }
}
