import { useCallback, useEffect, useState } from 'react';

/** Puts a paper on the page while it is printed: true from the wish until the browser is done. */
export function usePrinting(): [boolean, () => void] {
  const [printing, setPrinting] = useState(false);
  useEffect(() => {
    if (!printing) return;
    const done = (): void => setPrinting(false);
    addEventListener('afterprint', done);
    globalThis.print();
    return () => removeEventListener('afterprint', done);
  }, [printing]);
  return [printing, useCallback(() => setPrinting(true), [])];
}
