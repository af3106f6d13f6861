import { MAX_ATTACHMENT_BYTES } from '@pourline/store';

const MB = 1024 * 1024;

/** Every limit of the server in one place. */
export const LIMITS = {
  /** Largest revision that may be sent [bytes]. The largest document the schemas allow is well below. */
  revision_bytes: 8 * MB,
  /** Largest attachment [bytes]. */
  attachment_bytes: MAX_ATTACHMENT_BYTES,
  /** Largest archive that may be sent [bytes]; the command line takes larger ones. */
  archive_bytes: 64 * MB,
  /** Uploads of attachments or archives taken in at the same time; each is held in memory. */
  uploads_at_once: 4,
  /** How long a refused upload is still read, and thrown away, so that its sender can hear the answer [ms]. */
  linger_ms: 5_000,
  /** How long a request may take to arrive [ms]. */
  request_ms: 120_000,
  /** How long running requests may take when the server is asked to stop [ms]. */
  closing_ms: 3_000,
  /** Pause between two signs of life on an event stream [ms]. */
  heartbeat_ms: 15_000,
  /** How often open event streams look for what other processes saved [ms]. */
  watch_ms: 1_000,
  /** Unread bytes after which an event stream is cut; its page comes back and resumes. */
  stream_backlog_bytes: 16 * MB,
  /** Problems listed in one answer; their total number is given beside. */
  listed_problems: 100,
} as const;

/** A number of bytes as people say it: `33554432` is `'32 MB'`. */
export function inMegabytes(bytes: number): string {
  const megabytes = bytes / MB;
  return `${megabytes >= 10 ? Math.round(megabytes) : Math.round(megabytes * 10) / 10} MB`;
}
