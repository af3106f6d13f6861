import { useEffect, useState } from 'react';

/** The server's clock, drawn every half second. */
export function useServerNow(offset_ms: number): number {
  const [now, setNow] = useState(() => Date.now() + offset_ms);
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now() + offset_ms), 500);
    return () => clearInterval(timer);
  }, [offset_ms]);
  return now;
}
