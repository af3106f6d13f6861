import { guessedPxPerMm } from '@pourline/core';
import { type RefObject, useEffect, useLayoutEffect, useState } from 'react';

const KEY = 'pourline.live.glass';

/** How large the glass is and from how far it is read; kept for this device. */
export interface GlassChoice {
  px_per_mm: number;
  /** Held against a card, not guessed. */
  measured: boolean;
  distance_m: number;
}

function read(): GlassChoice {
  const guess: GlassChoice = {
    px_per_mm: guessedPxPerMm({
      touch: matchMedia('(pointer: coarse)').matches,
      short_px: Math.min(screen.width, screen.height),
    }),
    measured: false,
    distance_m: 2,
  };
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEY) ?? 'null');
    if (typeof kept !== 'object' || kept === null) return guess;
    const { px_per_mm, distance_m, measured } = kept as Partial<GlassChoice>;
    return {
      px_per_mm: within(px_per_mm, 1.5, 14) ?? guess.px_per_mm,
      measured: measured === true,
      distance_m: within(distance_m, 0.3, 6) ?? 2,
    };
  } catch {
    return guess;
  }
}

const within = (value: unknown, low: number, high: number): number | null =>
  typeof value === 'number' && value >= low && value <= high ? value : null;

/** The choice for this device, and the way to change it. */
export function useGlass(): [GlassChoice, (next: GlassChoice) => void] {
  const [glass, setGlass] = useState(read);
  useEffect(() => {
    try {
      if (glass.measured || glass.distance_m !== 2) localStorage.setItem(KEY, JSON.stringify(glass));
    } catch {
      // It then holds until the page closes.
    }
  }, [glass]);
  return [glass, setGlass];
}

/** Size of an element as it stands [px]. */
export function useSize(ref: RefObject<HTMLElement | null>): { width: number; height: number } {
  const [size, setSize] = useState({ width: innerWidth, height: innerHeight });
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element) return;
    const measure = (): void => setSize({ width: element.clientWidth, height: element.clientHeight });
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    measure();
    return () => observer.disconnect();
  }, [ref]);
  return size;
}
