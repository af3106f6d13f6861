/** A place in a document: object keys and array indices. */
export type Place = readonly (string | number)[];

/**
 * Sets the value at a place of a JSON tree, in place, as `JSON.parse` would: `__proto__` is a key like any other. `undefined`
 * takes the key away.
 * @throws Error when the place does not exist but for its last step: the test is wrong then.
 */
export function put(tree: unknown, place: Place, value: unknown): void {
  let node = tree;
  for (const step of place.slice(0, -1)) node = inside(node, step);
  const last = place.at(-1);
  if (last === undefined || typeof node !== 'object' || node === null)
    throw new Error(`put: no place ${place.join('.')}`);
  if (value === undefined) Reflect.deleteProperty(node, last);
  else Object.defineProperty(node, last, { value, enumerable: true, writable: true, configurable: true });
}

function inside(node: unknown, step: string | number): unknown {
  if (typeof node === 'object' && node !== null && Object.hasOwn(node, step)) return Reflect.get(node, step);
  throw new Error(`put: nothing at ${step}`);
}
