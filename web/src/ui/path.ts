/** A place in a document: field names and row numbers. */
export type Path = readonly (string | number)[];

/** What stands at a path, or undefined. */
export function getAt(value: unknown, path: Path): unknown {
  let at = value;
  for (const step of path) {
    if (typeof at !== 'object' || at === null) return undefined;
    at = (at as Record<string | number, unknown>)[step];
  }
  return at;
}

/** A copy with `next` at the path; everything beside the path is shared with the original. */
export function setAt<T>(value: T, path: Path, next: unknown): T {
  const [step, ...rest] = path;
  if (step === undefined) return next as T;
  if (Array.isArray(value)) {
    const copy = [...value];
    copy[Number(step)] = setAt(copy[Number(step)], rest, next);
    return copy as T;
  }
  const fields = (typeof value === 'object' && value !== null ? value : {}) as Record<string, unknown>;
  return { ...fields, [step]: setAt(fields[step], rest, next) } as T;
}

/** Whether two paths lead to the same place. */
export function samePath(a: Path, b: Path): boolean {
  return a.length === b.length && a.every((step, i) => step === b[i]);
}
