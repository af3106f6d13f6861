import type { Revision } from '../api.ts';
import { sameJson } from './equal.ts';

/** One document in the replica: the newest state the server has, and what waits here on top of it, oldest first. */
export interface Shelf {
  accepted: Revision | null;
  chain: readonly Revision[];
}

/** What to do with a revision that came from the server. */
export type Receipt =
  /** Already known or older than what we have: keep it for the history only. */
  | { act: 'ignore' }
  /** Nothing waits here: it becomes the head. */
  | { act: 'advance' }
  /** It is one of ours come back: the first `count` of the chain are on the server's disk. */
  | { act: 'acknowledge'; count: number }
  /** What waits here already grew from it: the chain stays, on top of it. */
  | { act: 'rebase' }
  /** It says what we meant to say: what waits here is dropped, and it becomes the head. */
  | { act: 'agree' }
  /** Somebody else was faster: what waits here is set aside until the person chooses. */
  | { act: 'clash' };

/**
 * Decides how an incoming revision meets a document. Revisions of one document arrive in the order of `seq`.
 * @param grewFrom whether the first of the chain grew from `incoming`, or from a state that says the same
 */
export function receive(shelf: Shelf, incoming: Revision, grewFrom: boolean): Receipt {
  const mine = shelf.chain.findIndex((waiting) => waiting.revision_id === incoming.revision_id);
  if (mine >= 0) return { act: 'acknowledge', count: mine + 1 };
  if (isOlder(incoming, shelf.accepted)) return { act: 'ignore' };
  if (shelf.chain.length === 0) return { act: 'advance' };
  if (grewFrom) return { act: 'rebase' };
  return sameJson(shelf.chain.at(-1)?.body, incoming.body) ? { act: 'agree' } : { act: 'clash' };
}

function isOlder(incoming: Revision, accepted: Revision | null): boolean {
  if (!accepted) return false;
  if (accepted.revision_id === incoming.revision_id) return true;
  return accepted.seq !== null && incoming.seq !== null && incoming.seq <= accepted.seq;
}

/** One waiting entry of the outbox; `n` rises with time. */
export interface Waiting {
  n: number;
  revision_id: string;
  document_id: string;
}

/**
 * The order in which to send. Time order, except that a campaign goes before the documents that belong to it, so
 * that the server never sees a document of a campaign it does not know; one document's own states keep their order.
 */
export function sendingOrder(
  outbox: readonly Waiting[],
  campaignOf: (document_id: string) => string,
): Waiting[] {
  const rank = (entry: Waiting): number => (campaignOf(entry.document_id) === entry.document_id ? 0 : 1);
  return [...outbox].sort((a, b) => rank(a) - rank(b) || a.n - b.n);
}

/** Wait before the next try to reach the server [ms]: doubles from 1 s to 30 s, spread so that tabs do not knock together. */
export function backoff(attempt: number, random: number): number {
  return Math.min(30_000, 1_000 * 2 ** Math.min(attempt, 5)) * (0.75 + 0.5 * random);
}
