import type { Kind, Problem } from '@pourline/core';
import { descends, movedOn } from './ancestry.ts';
import type { Clash, Revision } from './api.ts';
import type {
  Database,
  Meta,
  Standing,
  StoredAttachment,
  StoredDocument,
  StoredDraft,
  Transaction,
} from './db.ts';
import { newId } from './ids.ts';
import { sameJson } from './kernels/equal.ts';
import { receive, type Waiting } from './kernels/receive.ts';

/** Who saves, and on what. */
export interface Signature {
  author: string;
  device: string;
}

/** A body to be saved on top of the state it grew from. */
export interface SaveRequest {
  kind: Kind;
  document_id: string;
  campaign_id: string;
  base_revision_id: string | null;
  body: unknown;
  at: string;
  /** A clash that this save settles. */
  settles?: string;
  /** The draft that becomes this revision. */
  draft_key?: string;
}

export type SaveOutcome =
  | { outcome: 'saved'; revision: Revision }
  /** Nothing new in it. */
  | { outcome: 'same'; revision: Revision }
  /** It is what the person started from, and the document has moved on since: nothing of theirs to keep. */
  | { outcome: 'behind'; head: Revision }
  /** The document had moved on; the body was set aside as a clash. */
  | { outcome: 'clash'; clash: Clash; head: Revision };

type ReceiveTransaction = Transaction<('documents' | 'revisions' | 'outbox' | 'clashes')[]>;

/**
 * The browser's database as the replica uses it: every method is one transaction, so two tabs and a closed lid
 * cannot leave it half done. It knows no network and no screen.
 */
export class ReplicaStore {
  readonly #db: Database;
  constructor(db: Database) {
    this.#db = db;
  }

  documents(): Promise<StoredDocument[]> {
    return this.#db.getAll('documents');
  }

  document(id: string): Promise<StoredDocument | undefined> {
    return this.#db.get('documents', id);
  }

  clashes(): Promise<Clash[]> {
    return this.#db.getAll('clashes');
  }

  drafts(): Promise<StoredDraft[]> {
    return this.#db.getAll('drafts');
  }

  async keepDraft(draft: StoredDraft): Promise<void> {
    await this.#db.put('drafts', draft);
  }

  async dropDraft(key: string): Promise<void> {
    await this.#db.delete('drafts', key);
  }

  waiting(): Promise<Waiting[]> {
    return this.#db.getAll('outbox');
  }

  revision(id: string): Promise<(Revision & { standing: Standing }) | undefined> {
    return this.#db.get('revisions', id);
  }

  history(document_id: string): Promise<(Revision & { standing: Standing })[]> {
    return this.#db.getAllFromIndex('revisions', 'document', document_id);
  }

  async meta<K extends keyof Meta>(key: K): Promise<Meta[K] | undefined> {
    return (await this.#db.get('meta', key)) as Meta[K] | undefined;
  }

  async setMeta<K extends keyof Meta>(key: K, value: Meta[K]): Promise<void> {
    await this.#db.put('meta', value, key);
  }

  attachment(hash: string): Promise<StoredAttachment | undefined> {
    return this.#db.get('attachments', hash);
  }

  waitingAttachments(): Promise<StoredAttachment[]> {
    return this.#db.getAllFromIndex('attachments', 'waiting', 1);
  }

  async keepAttachment(attachment: StoredAttachment): Promise<void> {
    await this.#db.put('attachments', attachment);
  }

  /** Appends a state, or sets it aside when the document has moved on since `base_revision_id`. */
  async save(request: SaveRequest, signature: Signature): Promise<SaveOutcome> {
    const tx = this.#db.transaction(['documents', 'revisions', 'outbox', 'clashes', 'drafts'], 'readwrite');
    const stored = await tx.objectStore('documents').get(request.document_id);
    const revision: Revision = {
      revision_id: newId(),
      document_id: request.document_id,
      campaign_id: request.campaign_id,
      kind: request.kind,
      base_revision_id: request.base_revision_id,
      ...signature,
      at: request.at,
      body: request.body,
      rev: null,
      seq: null,
    };
    if (request.draft_key) await tx.objectStore('drafts').delete(request.draft_key);
    if (request.settles) await tx.objectStore('clashes').delete(request.settles);
    if (stored && sameJson(stored.head.body, request.body)) {
      await tx.done;
      return { outcome: 'same', revision: stored.head };
    }
    if (stored && stored.head.revision_id !== request.base_revision_id) {
      const base =
        request.base_revision_id && (await tx.objectStore('revisions').get(request.base_revision_id));
      if (base && sameJson(base.body, request.body)) {
        await tx.done;
        return { outcome: 'behind', head: stored.head };
      }
      const clash = movedOn(revision, stored.head, base || undefined);
      await tx.objectStore('revisions').put({ ...revision, standing: 'set_aside' });
      await tx.objectStore('clashes').put(clash);
      await tx.done;
      return { outcome: 'clash', clash, head: stored.head };
    }
    await tx.objectStore('revisions').put({ ...revision, standing: 'pending' });
    await tx.objectStore('outbox').add({
      revision_id: revision.revision_id,
      document_id: revision.document_id,
    } as Waiting);
    await tx.objectStore('documents').put({
      document_id: revision.document_id,
      campaign_id: revision.campaign_id,
      kind: revision.kind,
      accepted: stored?.accepted ?? null,
      head: revision,
    });
    await tx.done;
    return { outcome: 'saved', revision };
  }

  /**
   * Takes in states from the server, in the order given and in one transaction: each as the head, as the answer to
   * one of ours, or as the other side of a clash. Gives the ids of the documents that changed.
   */
  async receiveAll(incoming: readonly Revision[]): Promise<string[]> {
    const changed = new Set<string>();
    if (incoming.length === 0) return [];
    const tx = this.#db.transaction(['documents', 'revisions', 'outbox', 'clashes'], 'readwrite');
    for (const revision of incoming) if (await this.#receive(tx, revision)) changed.add(revision.document_id);
    await tx.done;
    return [...changed];
  }

  async #receive(tx: ReceiveTransaction, incoming: Revision): Promise<boolean> {
    const documents = tx.objectStore('documents');
    const revisions = tx.objectStore('revisions');
    const stored = await documents.get(incoming.document_id);
    const entries = await tx.objectStore('outbox').index('document').getAll(incoming.document_id);
    const chain: Revision[] = [];
    for (const entry of entries) {
      const revision = await revisions.get(entry.revision_id);
      if (revision) chain.push(revision);
    }
    const grewFrom = await descends(chain[0], incoming, (id) => revisions.get(id));
    const receipt = receive({ accepted: stored?.accepted ?? null, chain }, incoming, grewFrom);
    const known = await revisions.get(incoming.revision_id);
    if (known?.standing !== 'saved') await revisions.put({ ...incoming, standing: 'saved' });
    if (receipt.act === 'ignore') return false;
    const kept = receipt.act === 'acknowledge' ? receipt.count : receipt.act === 'rebase' ? 0 : chain.length;
    for (const revision of chain.slice(0, kept)) {
      const entry = entries.find((waiting) => waiting.revision_id === revision.revision_id);
      if (entry) await tx.objectStore('outbox').delete(entry.n);
      if (revision.revision_id === incoming.revision_id) continue;
      const standing = receipt.act === 'acknowledge' ? 'saved' : 'set_aside';
      await revisions.put({ ...revision, standing });
    }
    if (receipt.act === 'rebase')
      await revisions.put({ ...chain[0]!, base_revision_id: incoming.revision_id, standing: 'pending' });
    if (receipt.act === 'clash') {
      const grown = chain[0]!.base_revision_id;
      const base = grown === null ? undefined : await revisions.get(grown);
      await tx.objectStore('clashes').put(movedOn(chain.at(-1)!, incoming, base));
    }
    const head = chain.slice(kept).at(-1) ?? incoming;
    const { document_id, campaign_id, kind } = incoming;
    await documents.put({ document_id, campaign_id, kind, accepted: incoming, head });
    return true;
  }

  /**
   * The server now keeps another history than before (restored from a backup, or begun anew): what it was known to
   * have may be gone there, so all of it waits to be sent again; what it still has will be recognised.
   */
  async distrustServer(): Promise<void> {
    const tx = this.#db.transaction(['documents', 'revisions', 'outbox', 'meta'], 'readwrite');
    const outbox = tx.objectStore('outbox');
    for (const stored of await tx.objectStore('documents').getAll()) {
      const { accepted, document_id } = stored;
      // A state that never had a number came with the page and was nobody's work.
      if (!accepted || accepted.seq === null) continue;
      const later = await outbox.index('document').getAll(document_id);
      await tx.objectStore('revisions').put({ ...accepted, standing: 'pending' });
      await tx.objectStore('documents').put({ ...stored, accepted: null });
      for (const { revision_id } of [accepted, ...later])
        await outbox.add({ revision_id, document_id } as Waiting);
      for (const { n } of later) await outbox.delete(n);
    }
    await tx.objectStore('meta').put(0, 'seq');
    return tx.done;
  }

  /** Sets aside everything that waits for a document because the server found problems in `revision_id`. */
  async refuse(revision_id: string, problems: readonly Problem[]): Promise<void> {
    const tx = this.#db.transaction(['documents', 'revisions', 'outbox', 'clashes'], 'readwrite');
    const refused = await tx.objectStore('revisions').get(revision_id);
    const stored = refused && (await tx.objectStore('documents').get(refused.document_id));
    if (!refused || !stored) return tx.done;
    const entries = await tx.objectStore('outbox').index('document').getAll(refused.document_id);
    let mine: Revision = refused;
    for (const entry of entries) {
      const revision = await tx.objectStore('revisions').get(entry.revision_id);
      await tx.objectStore('outbox').delete(entry.n);
      if (!revision) continue;
      await tx.objectStore('revisions').put({ ...revision, standing: 'set_aside' });
      mine = revision;
    }
    await tx.objectStore('clashes').put({
      clash_id: mine.revision_id,
      document_id: mine.document_id,
      kind: mine.kind,
      reason: 'refused',
      problems,
      base: stored.accepted?.body ?? null,
      mine,
      theirs: stored.accepted,
    });
    if (stored.accepted) await tx.objectStore('documents').put({ ...stored, head: stored.accepted });
    return tx.done;
  }

  /** Puts a shipped state in as if it had always been there: not sent, nothing overwritten. */
  async seed(revisions: readonly Revision[]): Promise<void> {
    const tx = this.#db.transaction(['documents', 'revisions'], 'readwrite');
    for (const revision of revisions) {
      if (await tx.objectStore('documents').get(revision.document_id)) continue;
      await tx.objectStore('revisions').put({ ...revision, standing: 'saved' });
      await tx.objectStore('documents').put({
        document_id: revision.document_id,
        campaign_id: revision.campaign_id,
        kind: revision.kind,
        accepted: revision,
        head: revision,
      });
    }
    return tx.done;
  }

  /** Keeps older states the server told about, for the history. */
  async keepHistory(revisions: readonly Revision[]): Promise<void> {
    const tx = this.#db.transaction('revisions', 'readwrite');
    for (const revision of revisions) {
      const known = await tx.store.get(revision.revision_id);
      if (!known) await tx.store.put({ ...revision, standing: 'saved' });
    }
    return tx.done;
  }

  /** Drops a clash after the person kept the other side; the state set aside stays in the history. */
  async settle(clash_id: string): Promise<void> {
    await this.#db.delete('clashes', clash_id);
  }
}
