/** Buffers of all typed arrays inside a result, each once, so that they can be handed over instead of copied. */
export function buffersOf(value: unknown): ArrayBuffer[] {
  const found = new Set<ArrayBuffer>();
  collect(value, found);
  return [...found];
}

function collect(value: unknown, found: Set<ArrayBuffer>): void {
  if (ArrayBuffer.isView(value)) {
    if (value.buffer instanceof ArrayBuffer) found.add(value.buffer);
  } else if (Array.isArray(value)) for (const entry of value) collect(entry, found);
  else if (typeof value === 'object' && value !== null)
    for (const entry of Object.values(value)) collect(entry, found);
}
