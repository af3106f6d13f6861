import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Campaign } from '@pourline/core';
import type { Revision, Store } from '@pourline/store';
import type { Command } from 'commander';
import { pick } from './archive.ts';
import { inCheckout } from './checkout.ts';
import { EXIT, Stop } from './exit.ts';

/** Name of the database inside the data folder. */
export const DATABASE = 'pourline.sqlite';

/** Where the data is when nobody says otherwise: `POURLINE_DATA`, or `data` in the checkout. */
export const defaultData = (): string => process.env.POURLINE_DATA || inCheckout('data');

/** Adds `--data` to a verb that works on the saved campaigns. */
export const withData = (command: Command): Command =>
  command.option(
    '-d, --data <folder>',
    'folder of the database (default: POURLINE_DATA, or data/ in the checkout)',
  );

/** Path of the database a verb works on. */
export const databaseOf = (options: { data?: string }): string =>
  join(options.data ?? defaultData(), DATABASE);

/** What to type, where the store's own sentence cannot know. */
const HINTS: Readonly<Record<string, readonly string[]>> = {
  file_exists: ['On the command line: another --out for a backup, or --replace for a restore.'],
};

/** Turns what the store says of disk and files into a sentence and an exit code. */
export async function tellStoreFaults<T>(work: () => Promise<T>): Promise<T> {
  const { StoreError } = await import('@pourline/store');
  try {
    return await work();
  } catch (error) {
    if (error instanceof StoreError)
      throw new Stop(EXIT.notFound, error.message, ...(HINTS[error.code] ?? []));
    throw error;
  }
}

/**
 * Opens the database for one piece of work and closes it after.
 * @param make Make the database when it is not there; otherwise its absence stops the verb.
 */
export async function withStore<T>(
  options: { data?: string },
  work: (store: Store) => Promise<T>,
  make = false,
): Promise<T> {
  const file = databaseOf(options);
  if (!make && !existsSync(file))
    throw new Stop(EXIT.notFound, `There is no database at ${file}. Say where it is with --data.`);
  return tellStoreFaults(async () => {
    const { openStore } = await import('@pourline/store');
    const store = await openStore({ file });
    try {
      return await work(store);
    } finally {
      await store.close();
    }
  });
}

/** The campaign that `wanted` names by id or by name; without `wanted`, the only one there is. */
export async function campaignIn(store: Store, wanted: string | undefined): Promise<Campaign> {
  const { revisions } = await store.latest();
  const campaigns = revisions.filter((r: Revision) => r.kind === 'campaign').map((r) => r.body as Campaign);
  return pick('campaign', campaigns, wanted);
}
