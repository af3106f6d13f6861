import {
  type AnyDocument,
  type Archive,
  checkArchive,
  makeArchive,
  type Problem,
  problem,
} from '@pourline/core';
import { running } from './boot.ts';
import { newId } from './ids.ts';
import { sameJson } from './kernels/equal.ts';
import { fetchArchive } from './wire.ts';

export interface Exported {
  file: string;
  text: string;
  documents: number;
  /** Attached files are in it as well. */
  complete: boolean;
}

/** The whole campaign as one readable file: from the server with its attachments, or from here without them. */
export async function exportCampaign(campaignId: string): Promise<Exported> {
  const { replica, drafts } = running();
  await drafts.flush();
  const own = replica.all().filter((document) => document.campaign_id === campaignId);
  const campaign = own.find((document) => document.id === campaignId);
  const at = new Date().toISOString();
  const fetched = replica.sync().state === 'saved' ? await fetchArchive(campaignId) : null;
  const archive = fetched ?? makeArchive(own, at);
  return {
    file: `${fileName(campaign?.name ?? '')}-${at.slice(0, 10)}.json`,
    text: `${JSON.stringify(archive, null, 2)}\n`,
    documents: archive.documents.length,
    complete: fetched !== null || !own.some(hasAttachments),
  };
}

const hasAttachments = (document: AnyDocument): boolean =>
  document.kind === 'trial' && document.traces.length + document.photographs.length > 0;

/** A name for a file from a name for people: letters and figures of any script, joined by dashes. */
export function fileName(name: string): string {
  const plain = name
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replaceAll(/^-+|-+$/g, '');
  return plain.slice(0, 60) || 'campaign';
}

export type Reading =
  | { read: 'ok'; archive: Archive }
  | { read: 'not_json'; detail: string }
  | { read: 'problems'; problems: readonly Problem[] };

/** Reads the text of a file; says everything that is wrong with it. */
export function readArchive(text: string): Reading {
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch (error) {
    return { read: 'not_json', detail: error instanceof Error ? error.message : '' };
  }
  const checked = checkArchive(parsed);
  if (!checked.ok) return { read: 'problems', problems: checked.problems };
  if (checked.value.documents.length === 0)
    return { read: 'problems', problems: [problem(['documents'], 'too_few', { value: 'empty', limit: 1 })] };
  return { read: 'ok', archive: checked.value };
}

export interface ImportPlan {
  archive: Archive;
  /** Documents that are not here yet. */
  fresh: number;
  /** Documents that say the same as what is here. */
  same: number;
  /** Documents that are here and say something else. */
  changed: number;
}

/** What an import would meet here. Changes nothing. */
export function planImport(archive: Archive): ImportPlan {
  const plan = { archive, fresh: 0, same: 0, changed: 0 };
  for (const document of archive.documents) {
    const here = running().replica.read(document.id);
    if (!here) plan.fresh += 1;
    else if (sameJson(here, document)) plan.same += 1;
    else plan.changed += 1;
  }
  return plan;
}

/**
 * Brings an archive in: as a separate copy with new identities, or as new documents and new revisions under the
 * identities it has. Gives the id of a campaign to show.
 */
export async function importArchive(archive: Archive, way: 'copy' | 'revisions'): Promise<string | null> {
  const { replica, drafts } = running();
  await drafts.flush();
  for (const { hash, media_type, name, base64 } of archive.attachments) {
    const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
    await replica.store.keepAttachment({ hash, media_type, name, data: bytes.buffer, waiting: 1 });
  }
  const documents = way === 'copy' ? withNewIds(archive.documents) : archive.documents;
  for (const document of campaignsFirst(documents)) await replica.put(document);
  const campaign = documents.find((document) => document.kind === 'campaign') ?? documents[0];
  return campaign?.campaign_id ?? null;
}

const campaignsFirst = (documents: readonly AnyDocument[]): AnyDocument[] =>
  [...documents].sort((a, b) => Number(b.kind === 'campaign') - Number(a.kind === 'campaign'));

/** The same documents under new ids, with every reference among them carried along. */
export function withNewIds(documents: readonly AnyDocument[]): AnyDocument[] {
  const renamed = new Map<string, string>();
  for (const document of documents) {
    renamed.set(document.id, renamed.get(document.id) ?? newId());
    renamed.set(document.campaign_id, renamed.get(document.campaign_id) ?? newId());
  }
  const walk = (value: unknown): unknown => {
    if (typeof value === 'string') return renamed.get(value) ?? value;
    if (Array.isArray(value)) return value.map(walk);
    if (typeof value !== 'object' || value === null) return value;
    return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, walk(inner)]));
  };
  return documents.map((document) => walk(document) as AnyDocument);
}
