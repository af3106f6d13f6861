/**
 * A fingerprint of every number in a value, to the last bit: FNV-1a (64 bit) over the bytes of each number as a double,
 * little-endian, in the order of keys, typed arrays included. Text is left out. Two results have the same one only when they
 * are the same bit for bit, wherever they were computed; every NaN counts alike. Written without imports, so that a page can be
 * given it as it stands.
 */
export function resultBits(value: unknown): string {
  const bytes = new DataView(new ArrayBuffer(8));
  const mask = (1n << 64n) - 1n;
  let hash = 0xcbf29ce484222325n;
  const take = (x: number): void => {
    bytes.setFloat64(0, Number.isNaN(x) ? Number.NaN : x, true);
    for (let i = 0; i < 8; i++) hash = ((hash ^ BigInt(bytes.getUint8(i))) * 0x100000001b3n) & mask;
  };
  const walk = (part: unknown): void => {
    if (typeof part === 'number') take(part);
    else if (part instanceof Float64Array || Array.isArray(part)) for (const entry of part) walk(entry);
    else if (typeof part === 'object' && part !== null) for (const entry of Object.values(part)) walk(entry);
  };
  walk(value);
  return hash.toString(16).padStart(16, '0');
}
