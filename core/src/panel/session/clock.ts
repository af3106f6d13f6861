/** One exchange with the server, as a device saw it [ms]: its own clock when it asked and when the answer came, the server's in the answer. */
export interface ClockExchange {
  sent: number;
  received: number;
  server: number;
}

/**
 * How far the server's clock is ahead of a device's [ms], from exchanges: of the one with the shortest way there and back, whose middle is
 * least in doubt (Cristian 1989); half that way bounds the error. Null without exchanges.
 */
export function clockOffset(
  exchanges: readonly ClockExchange[],
): { offset_ms: number; doubt_ms: number } | null {
  const shortest = [...exchanges].sort((a, b) => a.received - a.sent - (b.received - b.sent))[0];
  if (!shortest) return null;
  const way = Math.max(0, shortest.received - shortest.sent);
  return { offset_ms: Math.round(shortest.server - shortest.sent - way / 2), doubt_ms: way / 2 };
}
