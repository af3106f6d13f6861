import { taster } from '../words/en/taster.ts';

/** A sentence of the taster's page. */
export type Key = keyof typeof taster;

/** The words for a key with values filled in. This page has its own small catalogue, so that a phone loads nothing else. */
export function say(key: Key, values: Readonly<Record<string, string | number>> = {}): string {
  return taster[key].replaceAll(/\{(\w+)\}/g, (whole, name: string) =>
    name in values ? String(values[name]) : whole,
  );
}

/** Minutes and seconds until a moment, rounded up: `3:05`. */
export function clock(ms: number): string {
  const seconds = Math.max(0, Math.ceil(ms / 1_000));
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}
