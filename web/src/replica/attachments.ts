import { running } from './boot.ts';

/** A file kept whole beside the documents, by the hash of its content. */
export interface KeptFile {
  attachment: string;
  media_type: string;
  name: string;
}

/** Largest file that is kept [bytes]; the server takes no more. */
export const MAX_FILE_BYTES = 32 * 1024 * 1024;

async function hashOf(data: ArrayBuffer): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', data);
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** Why a file cannot be kept. */
export type FileRefused = { refused: 'too_large'; bytes: number } | { refused: 'no_crypto' };

/**
 * Keeps a file in this browser and sends it to the server with the next revision; put the answer into a document and save that.
 * The browser hashes only where the page came over https or from this machine.
 */
export async function keepFile(file: File): Promise<KeptFile | FileRefused> {
  if (file.size > MAX_FILE_BYTES) return { refused: 'too_large', bytes: file.size };
  // Over plain http from another machine a browser has no such thing, whatever its types say.
  if (!('subtle' in crypto)) return { refused: 'no_crypto' };
  const data = await file.arrayBuffer();
  const attachment = await hashOf(data);
  const media_type = (file.type || 'application/octet-stream').slice(0, 120);
  const name = file.name.slice(-200) || 'file';
  const { store } = running().replica;
  // What the server has already need not be sent again.
  const known = await store.attachment(attachment);
  if (!known) await store.keepAttachment({ hash: attachment, media_type, name, data, waiting: 1 });
  return { attachment, media_type, name };
}

/** A kept file: from this browser, else from the server; null when neither has it. */
export async function readFile(kept: KeptFile): Promise<Blob | null> {
  const { store } = running().replica;
  const here = await store.attachment(kept.attachment);
  if (here) return new Blob([here.data], { type: here.media_type });
  try {
    const response = await fetch(`api/attachments/${kept.attachment}`);
    if (!response.ok) return null;
    const data = await response.arrayBuffer();
    const { attachment: hash, media_type, name } = kept;
    await store.keepAttachment({ hash, media_type, name, data, waiting: 0 });
    return new Blob([data], { type: media_type });
  } catch {
    return null;
  }
}
