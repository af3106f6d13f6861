import { readFile } from 'node:fs/promises';
import type { Problem } from '@pourline/core';
import type { Store } from '@pourline/store';

export type SeedResult =
  /** The archive was taken in. */
  | { outcome: 'seeded'; documents: number }
  /** There is a campaign already, archived or not; nothing was done. */
  | { outcome: 'not_empty' }
  /** The file is not there or is not JSON; the store stays empty. */
  | { outcome: 'unreadable'; sentence: string }
  | { outcome: 'invalid'; problems: Problem[] };

/**
 * Gives an empty store its first campaign. Safe to call at every start.
 * @param archive an archive, or the path of one
 */
export async function seedIfEmpty(store: Store, archive: unknown): Promise<SeedResult> {
  if ((await store.countCampaigns()) > 0) return { outcome: 'not_empty' };
  let content = archive;
  if (typeof archive === 'string') {
    try {
      content = JSON.parse(await readFile(archive, 'utf8'));
    } catch (error) {
      const why = error instanceof Error ? error.message : 'it cannot be read';
      return { outcome: 'unreadable', sentence: `The demo campaign ${archive} could not be read: ${why}.` };
    }
  }
  const result = await store.importArchive(content, { author: '', device: 'demo' });
  if (result.outcome === 'invalid') return result;
  return { outcome: 'seeded', documents: result.saved };
}
