const MINUTE = 60_000;

/** Every limit of tastings and of the shared door in one place. */
export const TASTING_LIMITS = {
  /** Largest body a host's action or a taster's answer may have [bytes]. */
  body_bytes: 64 * 1024,
  /** How long a join code works [ms]. */
  join_ms: 45 * MINUTE,
  /** How long a code for a seat or for pairing works [ms]. */
  short_code_ms: 10 * MINUTE,
  /** Over how long wrong codes are counted, and how many may be tried from one address and from all [ms]. */
  refused_ms: 10 * MINUTE,
  refused_by_address: 20,
  refused_by_all: 200,
  /** Requests one address may send at once, and each second after that. A phone opens the page with some thirty. */
  burst: 400,
  per_second: 40,
  /** Addresses remembered for that. */
  addresses: 2_000,
  /** Event streams of one seat, and of all tasters. */
  streams_by_seat: 4,
  streams: 400,
  /** Connections to the shared door. */
  connections: 600,
  /** How long a request to it may take to arrive [ms]. */
  request_ms: 30_000,
  /** How far in the future a pouring may be said to be [ms]; clocks differ. */
  ahead_ms: 60_000,
  /** How long a paired device stays paired [s]. */
  paired_s: 30 * 24 * 3600,
} as const;
