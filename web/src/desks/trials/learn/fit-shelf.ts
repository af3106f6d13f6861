import type { Fit, FitState } from '@pourline/core';
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

/**
 * What was worked out in this browser: results and unfinished work, by coffee. No documents: everything here can be worked out again, and
 * carries the fingerprint of what it came from.
 */
interface Schema extends DBSchema {
  fits: { key: string; value: { coffee_id: string; fit: Fit; at: string } };
  begun: { key: string; value: { coffee_id: string; state: FitState } };
}

let shelf: Promise<IDBPDatabase<Schema>> | null = null;

const open = (): Promise<IDBPDatabase<Schema>> => {
  shelf ??= openDB<Schema>('pourline-fits', 1, {
    upgrade(db) {
      db.createObjectStore('fits', { keyPath: 'coffee_id' });
      db.createObjectStore('begun', { keyPath: 'coffee_id' });
    },
  });
  return shelf;
};

/** The last fit of a coffee, and where an unfinished one stands; null for what there is not. */
export async function fromShelf(coffeeId: string): Promise<{ fit: Fit | null; begun: FitState | null }> {
  const db = await open();
  const [fit, begun] = await Promise.all([db.get('fits', coffeeId), db.get('begun', coffeeId)]);
  return { fit: fit?.fit ?? null, begun: begun?.state ?? null };
}

/** Keeps a finished fit; what was begun is done with. */
export async function keepFit(fit: Fit): Promise<void> {
  const db = await open();
  await db.put('fits', { coffee_id: fit.coffee_id, fit, at: new Date().toISOString() });
  await db.delete('begun', fit.coffee_id);
}

/** Keeps where a stopped fit stands. */
export async function keepBegun(coffee_id: string, state: FitState): Promise<void> {
  await (await open()).put('begun', { coffee_id, state });
}

/** Forgets unfinished work. */
export async function dropBegun(coffee_id: string): Promise<void> {
  await (await open()).delete('begun', coffee_id);
}
