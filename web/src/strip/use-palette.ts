import { type RefObject, useEffect, useState } from 'react';
import { type Palette, readPalette } from './draw/palette.ts';

/** The colours in force on an element; read anew when the theme changes or the text font has loaded. */
export function usePalette(root: RefObject<HTMLElement | null>): Palette | null {
  const [palette, setPalette] = useState<Palette | null>(null);
  useEffect(() => {
    const read = (): void => {
      if (root.current) setPalette(readPalette(root.current));
    };
    read();
    const watch = new MutationObserver(read);
    watch.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme', 'class'] });
    void document.fonts?.ready.then(read);
    return () => watch.disconnect();
  }, [root]);
  return palette;
}
