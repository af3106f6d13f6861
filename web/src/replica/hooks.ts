import {
  type AnyDocument,
  type Campaign,
  type Checked,
  checkDocument,
  type DocumentOf,
  type Kind,
  type Lookup,
} from '@pourline/core';
import { useCallback, useEffect, useMemo, useState, useSyncExternalStore } from 'react';
import type { Clash, Draft, NewDocument, RevisionInfo, SyncState } from './api.ts';
import { running } from './boot.ts';
import { campaignStore } from './campaign.ts';
import { newId } from './ids.ts';
import {
  defaultSide,
  differences,
  type FieldDifference,
  mergeByField,
  pathKey,
  type Side,
} from './kernels/merge.ts';
import { pullHistory } from './wire.ts';

/** Re-renders with every change of the replica and gives its version, for use as a memo key. */
function useVersion(): number {
  const { replica } = running();
  return useSyncExternalStore(replica.subscribe, replica.version);
}

const nothing = { subscribe: () => () => {}, view: () => null };

/**
 * The draft of a document, shared by everything on this page that edits it. Null when `id` is null or there is no
 * such document of this kind.
 */
export function useDraft<K extends Kind>(kind: K, id: string | null): Draft<K> | null {
  useVersion();
  const { drafts } = running();
  const store = (id === null ? null : drafts.open(kind, id)) ?? nothing;
  return useSyncExternalStore<Draft<K> | null>(store.subscribe, store.view);
}

/** The campaign's documents of one kind, by name; archived ones only when asked for. Campaigns: all there are. */
export function useDocuments<K extends Kind>(
  kind: K,
  options: { archived?: boolean } = {},
): readonly DocumentOf<K>[] {
  const version = useVersion();
  const { campaignId } = useCampaign();
  const archived = options.archived ?? false;
  return useMemo(() => {
    const found = running()
      .replica.allAt(version)
      .filter(
        (document) =>
          document.kind === kind &&
          document.archived === archived &&
          (kind === 'campaign' || document.campaign_id === campaignId),
      );
    return found.sort(byName) as unknown as DocumentOf<K>[];
  }, [version, kind, campaignId, archived]);
}

/** One for all: `localeCompare` with options makes a new one for every pair, which thousands of documents would feel. */
const names = new Intl.Collator(undefined, { numeric: true });

const byName = (a: AnyDocument, b: AnyDocument): number =>
  names.compare(a.name, b.name) || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);

/** One document as saved, or null. */
export function useDocument<K extends Kind>(kind: K, id: string | null): DocumentOf<K> | null {
  useVersion();
  const document = id === null ? undefined : running().replica.read(id);
  return document?.kind === kind ? (document as DocumentOf<K>) : null;
}

/**
 * Finds any document by id as it stands on screen: the last valid state of its draft when it is being edited, else
 * what is saved. A new function whenever an answer may have changed, so it can key a memo.
 */
export function useLookup(): Lookup {
  const { replica, drafts } = running();
  const version = useSyncExternalStore(
    useCallback(
      (tell: () => void) => {
        const leave = [replica.subscribe(tell), drafts.subscribe(tell)];
        return () => {
          for (const off of leave) off();
        };
      },
      [replica, drafts],
    ),
    () => replica.version() + drafts.version(),
  );
  return useMemo(() => {
    // A new function for every version: who holds it in a memo must ask again.
    const asOf = version;
    return (id: string) => (asOf >= 0 ? (drafts.opened(id)?.document ?? replica.read(id)) : undefined);
  }, [version, drafts, replica]);
}

/** The campaign in view, the others, and a way to change over. */
export function useCampaign(): {
  campaignId: string | null;
  campaign: Campaign | null;
  campaigns: readonly Campaign[];
  select(id: string): void;
} {
  const version = useVersion();
  const chosen = useSyncExternalStore(campaignStore.subscribe, campaignStore.get);
  return useMemo(() => {
    const campaigns = running()
      .replica.allAt(version)
      .filter((document): document is Campaign => document.kind === 'campaign' && !document.archived)
      .sort(byName);
    const campaign = campaigns.find((entry) => entry.id === chosen) ?? campaigns[0] ?? null;
    return { campaignId: campaign?.id ?? null, campaign, campaigns, select: campaignStore.set };
  }, [version, chosen]);
}

/** How the replica stands with the server. */
export function useSync(): SyncState {
  useVersion();
  return running().replica.sync();
}

/** Clashes that wait for the person, of one document or of all. */
export function useClashes(documentId?: string): readonly Clash[] {
  useVersion();
  const clashes = running().replica.clashes();
  return useMemo(
    () => (documentId === undefined ? clashes : clashes.filter((clash) => clash.document_id === documentId)),
    [clashes, documentId],
  );
}

/** Saved states of a document, newest first: what is kept here at once, what the server knows when it answers. */
export function useHistory(
  kind: Kind,
  id: string | null,
): { revisions: readonly RevisionInfo[]; complete: boolean } {
  const version = useVersion();
  const [fetched, setFetched] = useState({ id: '', at: 0 });
  const [kept, setKept] = useState<{ id: string; revisions: readonly RevisionInfo[] }>(EMPTY_HISTORY);
  const present = id !== null && running().replica.record(id)?.kind === kind ? id : null;
  useEffect(() => {
    let stale = false;
    if (present === null || running().replica.sync().state === 'local') return;
    void pullHistory(present).then(async (answer) => {
      if (answer.answer !== 'ok') return;
      await running().replica.store.keepHistory(answer.value);
      if (!stale) setFetched((now) => ({ id: present, at: now.at + 1 }));
    });
    return () => {
      stale = true;
    };
  }, [present]);
  // Read again when the replica changed or the server's part has come in.
  const reading = present === null ? null : `${present} ${version} ${fetched.at}`;
  useEffect(() => {
    let stale = false;
    const document = reading?.split(' ')[0];
    if (!document) return;
    void historyOf(document).then((revisions) => {
      if (!stale) setKept({ id: document, revisions });
    });
    return () => {
      stale = true;
    };
  }, [reading]);
  const local = running().replica.sync().state === 'local';
  if (present === null || kept.id !== present) return { revisions: [], complete: false };
  return { revisions: kept.revisions, complete: local || fetched.id === present };
}

const EMPTY_HISTORY = { id: '', revisions: [] };

async function historyOf(id: string): Promise<RevisionInfo[]> {
  const kept = await running().replica.store.history(id);
  return kept
    .sort((a, b) => b.at.localeCompare(a.at) || b.revision_id.localeCompare(a.revision_id))
    .map(({ revision_id, at, author, device, standing, body }) => ({
      revision_id,
      at,
      author,
      device,
      pending: standing === 'pending',
      set_aside: standing === 'set_aside',
      body,
    }));
}

/** Makes a document in the campaign in view (a new campaign belongs to itself). Problems come back as sentences. */
export function createDocument<K extends Kind>(
  kind: K,
  body: NewDocument<K>,
  campaignId: string | null = null,
): Promise<Checked<DocumentOf<K>>> {
  return running().replica.create(kind, body, kind === 'campaign' ? null : campaignId);
}

/** Saves a whole document over its present head, outside of any draft. */
export async function saveDocument(document: AnyDocument): Promise<void> {
  await running().replica.put(document);
}

/**
 * Writes down what was typed a moment ago and waits until the server has it all: for what the server works with by itself.
 * @returns false when it does not have it within the patience
 */
export async function everythingSent(patience_ms = 10_000): Promise<boolean> {
  const { replica, drafts } = running();
  await drafts.flush();
  const until = Date.now() + patience_ms;
  // What the page says of the outbox lags behind it by a moment; the outbox itself is asked.
  while (replica.sync().state !== 'saved' || (await replica.store.waiting()).length > 0) {
    if (Date.now() > until) return false;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  return true;
}

/** Puts a document out of sight, or back. */
export async function archiveDocument(id: string, archived = true): Promise<void> {
  await running().drafts.flush();
  const document = running().replica.read(id);
  if (document) await running().replica.put({ ...document, archived });
}

/** A copy under a new id and name. */
export async function duplicateDocument(id: string, name: string): Promise<AnyDocument | null> {
  await running().drafts.flush();
  const document = running().replica.read(id);
  if (!document || document.kind === 'campaign') return null;
  const copy = { ...document, id: newId(), name: name.slice(0, 120) };
  await running().replica.put(copy);
  return copy;
}

/**
 * Archives a campaign and all that belongs to it, or brings it back with what went along; what had been archived
 * before stays archived.
 */
export async function archiveCampaign(id: string, archived = true): Promise<void> {
  const { replica, drafts } = running();
  await drafts.flush();
  const went = replica.record(id)?.head.at ?? '';
  const own = replica
    .all()
    .filter((document) => document.campaign_id === id && document.archived !== archived)
    .filter((document) => archived || (replica.record(document.id)?.head.at ?? '') >= went)
    .sort((a, b) => Number(b.id === id) - Number(a.id === id));
  for (const document of own) await replica.put({ ...document, archived });
}

/** Settles a clash: with a body, saves it as a new state over the present head; without, keeps the present head. */
export async function settleClash(clash: Clash, body?: unknown): Promise<Checked<AnyDocument> | null> {
  const { replica } = running();
  if (body === undefined) {
    await replica.settle(clash);
    return null;
  }
  const checked = checkDocument(body);
  if (!checked.ok) return checked;
  await replica.put(checked.value, clash.clash_id);
  return checked;
}

/** Brings an earlier state back as a new one. */
export async function restoreRevision(revision: RevisionInfo): Promise<Checked<AnyDocument>> {
  await running().drafts.flush();
  const checked = checkDocument(revision.body);
  if (checked.ok) await running().replica.put(checked.value);
  return checked;
}

/** What is out of sight: archived campaigns, and the archived documents of the campaign in view. */
export function useArchived(): { campaigns: readonly Campaign[]; documents: readonly AnyDocument[] } {
  const version = useVersion();
  const { campaignId } = useCampaign();
  return useMemo(() => {
    const archived = running()
      .replica.allAt(version)
      .filter((document) => document.archived)
      .sort(byName);
    return {
      campaigns: archived.filter((document): document is Campaign => document.kind === 'campaign'),
      documents: archived.filter(
        (document) => document.kind !== 'campaign' && document.campaign_id === campaignId,
      ),
    };
  }, [version, campaignId]);
}

/** The two sides of a clash as they stand now, field by field. "Theirs" is the present head of the document. */
export function clashView(clash: Clash) {
  const theirs = running().replica.revisionOf(clash.document_id) ?? clash.theirs;
  const { base, mine } = clash;
  const body = theirs?.body;
  return {
    theirs,
    differences: differences(base, mine.body, body),
    keyOf: (difference: FieldDifference): string => pathKey(difference.path),
    /** Where only one side changed a field, that side; where both did, what stands in the document now. */
    defaultOf: (difference: FieldDifference): Side => defaultSide(difference, 'theirs'),
    merge: (choose: (difference: FieldDifference) => Side): unknown =>
      mergeByField(base, mine.body, body, choose),
  };
}
