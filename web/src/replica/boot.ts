import { openDatabase, type StoredDraft } from './db.ts';
import { Drafts } from './drafts.ts';
import { newId } from './ids.ts';
import { Replica } from './replica.ts';
import { ReplicaStore, type Signature } from './replica-store.ts';
import { Sync } from './sync.ts';
import { about } from './wire.ts';

/** The parts of the replica that the hooks work on. */
export interface Booted {
  replica: Replica;
  drafts: Drafts;
}

let booted: Booted | undefined;

/** The running replica. @throws Error when a screen asks before {@link bootReplica} is done */
export function running(): Booted {
  if (!booted) throw new Error('running: the replica is not open yet');
  return booted;
}

const PERSON_KEY = 'pourline.person';
const DEVICE_KEY = 'pourline.device';

/** Name that stands beside what is saved from this browser; empty when none was given. */
export const personName = (): string => localStorage.getItem(PERSON_KEY) ?? '';
export const setPersonName = (name: string): void => localStorage.setItem(PERSON_KEY, name.trim());

function deviceName(): string {
  const kept = localStorage.getItem(DEVICE_KEY);
  if (kept) return kept;
  const made = `browser-${newId().slice(-4)}`;
  localStorage.setItem(DEVICE_KEY, made);
  return made;
}

const signature = (): Signature => ({ author: personName() || 'brewer', device: deviceName() });

/** Opens the database, reads everything in, and begins to talk to the server in the background. */
export async function bootReplica(): Promise<Booted> {
  const folder = new URL('.', document.baseURI).pathname;
  const name = folder === '/' ? 'pourline' : `pourline:${folder}`;
  const first = about();
  const [{ tabId, adopt }, database] = await Promise.all([claimTab(name), openDatabase(name)]);
  const store = new ReplicaStore(database);
  const replica = await Replica.open(
    { store, name, signature, now: () => new Date().toISOString(), tabId },
    adopt,
  );
  const drafts = new Drafts(replica);
  booted = { replica, drafts };
  // What an earlier page left behind is saved if it can be, or waits as typed.
  for (const id of replica.draftedIds()) {
    const kind = replica.record(id)?.kind;
    if (kind) drafts.open(kind, id);
  }
  const flush = (): void => {
    if (document.visibilityState === 'hidden') void drafts.flush();
  };
  document.addEventListener('visibilitychange', flush);
  addEventListener('pagehide', () => void drafts.flush());
  void new Sync(replica, `${name}|sync`, first).start();
  void navigator.storage?.persist?.();
  return booted;
}

/**
 * Gives this tab a name that survives its reload, and finds out whose typed drafts it may take over: its own, and
 * those of tabs that are gone.
 */
async function claimTab(name: string): Promise<{ tabId: string; adopt: (draft: StoredDraft) => boolean }> {
  const key = 'pourline.tab';
  const lockOf = (tab: string): string => `${name}|tab|${tab}`;
  let tabId = sessionStorage.getItem(key) ?? newId();
  if (!navigator.locks) {
    sessionStorage.setItem(key, tabId);
    return { tabId, adopt: () => true };
  }
  // A copied tab starts with the same session storage; the lock tells the two apart. The page before a reload may
  // hold it for a moment longer.
  if (!(await hold(lockOf(tabId), 300))) {
    tabId = newId();
    await hold(lockOf(tabId), 0);
  }
  sessionStorage.setItem(key, tabId);
  const held = (await navigator.locks.query()).held ?? [];
  const alive = new Set(held.map((lock) => lock.name));
  return { tabId, adopt: (draft) => draft.tab_id === tabId || !alive.has(lockOf(draft.tab_id)) };
}

/** Takes a lock for as long as the page lives; false when another page keeps it past `wait_ms`. */
function hold(lock: string, wait_ms: number): Promise<boolean> {
  return new Promise((resolve) => {
    const signal = AbortSignal.timeout(wait_ms + 50);
    navigator.locks
      .request(lock, { signal }, () => {
        resolve(true);
        return new Promise<never>(() => {});
      })
      .catch(() => resolve(false));
  });
}
