import { useEffect, useState } from 'react';
import type { Keeper } from './keeper.ts';

/** The server's clock, drawn anew every half second. */
export function useNow(keeper: Keeper): number {
  const [now, setNow] = useState(() => keeper.now());
  useEffect(() => {
    const timer = setInterval(() => setNow(keeper.now()), 500);
    return () => clearInterval(timer);
  }, [keeper]);
  return now;
}
