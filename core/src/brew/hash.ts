/**
 * A short fingerprint of a value: FNV-1a (32 bit) over its JSON from two starts, 16 hex digits. For telling inputs
 * apart, not for secrecy.
 */
export function fingerprint(value: unknown): string {
  const text = JSON.stringify(value);
  return fnv(text, 0x811c9dc5) + fnv(text, 0x01234567);
}

function fnv(text: string, start: number): string {
  let hash = start;
  for (let i = 0; i < text.length; i++) {
    hash ^= text.charCodeAt(i);
    hash = Math.imul(hash, 0x01000193);
  }
  return (hash >>> 0).toString(16).padStart(8, '0');
}
