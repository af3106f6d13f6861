import { sameJson } from './equal.ts';

/**
 * Comparing two states of a document that grew from one. Lists whose rows all carry an `id` are compared row by row;
 * any other list is one value, because its rows have no identity.
 */

type Row = { id: string } & Record<string, unknown>;
type Fields = Record<string, unknown>;

/** Where a field stands. A string step after a list is the `id` of a row. */
export type MergePath = readonly string[];

/** One field in which the two states differ. `undefined` stands for: not there (a row added or removed). */
export interface FieldDifference {
  path: MergePath;
  base: unknown;
  mine: unknown;
  theirs: unknown;
  /** Who changed it since the base. Only `both` needs a person. */
  changed: 'mine' | 'theirs' | 'both';
}

export type Side = 'mine' | 'theirs';

const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const isRows = (value: unknown): value is Row[] =>
  Array.isArray(value) && value.every((row) => isFields(row) && typeof row.id === 'string');

const byId = (rows: readonly Row[]): Fields => Object.fromEntries(rows.map((row) => [row.id, row]));

/** Lists every field in which `mine` and `theirs` differ, in the order of the fields of `theirs`, then `mine`. */
export function differences(
  base: unknown,
  mine: unknown,
  theirs: unknown,
  path: MergePath = [],
): FieldDifference[] {
  if (sameJson(mine, theirs)) return [];
  const walkable = (value: unknown): Fields | null =>
    isFields(value) ? value : isRows(value) ? byId(value) : null;
  const left = walkable(mine);
  const right = walkable(theirs);
  if (!left || !right || Array.isArray(mine) !== Array.isArray(theirs)) {
    const changed = sameJson(base, theirs) ? 'mine' : sameJson(base, mine) ? 'theirs' : 'both';
    return [{ path, base, mine, theirs, changed }];
  }
  const before = walkable(base) ?? {};
  const order = Array.isArray(mine) ? orderDifference(base, mine as Row[], theirs as Row[], path) : [];
  const keys = [...new Set([...Object.keys(right), ...Object.keys(left)])];
  const found = keys.flatMap((key) => differences(before[key], left[key], right[key], [...path, key]));
  return [...found, ...order];
}

/** The pseudo-field under which the order of a list's rows is compared. */
export const ORDER = '#order';

function orderDifference(base: unknown, mine: Row[], theirs: Row[], path: MergePath): FieldDifference[] {
  const shared = (rows: Row[], other: Row[]): string[] =>
    rows.map((row) => row.id).filter((id) => other.some((row) => row.id === id));
  const left = shared(mine, theirs);
  const right = shared(theirs, mine);
  if (sameJson(left, right)) return [];
  const before = isRows(base) ? base.map((row) => row.id).filter((id) => left.includes(id)) : undefined;
  const changed = sameJson(before, right) ? 'mine' : sameJson(before, left) ? 'theirs' : 'both';
  return [{ path: [...path, ORDER], base: before, mine: left, theirs: right, changed }];
}

/** The side a field takes when nobody chooses: the one that changed it; where both did, `both`. */
export const defaultSide = (difference: FieldDifference, both: Side): Side =>
  difference.changed === 'both' ? both : difference.changed;

/** A stable key for a path, for choices kept by field. */
export const pathKey = (path: MergePath): string => JSON.stringify(path);

/**
 * Builds the merged document: `theirs`, with every difference whose side is `mine` taken from `mine`. `choose` gives
 * the side of each. The result may break the schema (two pours that now overlap); check it before saving.
 */
export function mergeByField(
  base: unknown,
  mine: unknown,
  theirs: unknown,
  choose: (difference: FieldDifference) => Side,
): unknown {
  let merged = theirs;
  for (const difference of differences(base, mine, theirs))
    if (choose(difference) === 'mine') merged = put(merged, difference.path, difference.mine, mine);
  return merged;
}

/** {@link mergeByField} without asking: each side's own changes, and `mine` where both changed the same field. */
export function mergeOver(base: unknown, mine: unknown, theirs: unknown): unknown {
  return mergeByField(base, mine, theirs, (difference) => defaultSide(difference, 'mine'));
}

function put(target: unknown, path: MergePath, value: unknown, whole: unknown): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return value;
  if (isRows(target)) {
    if (step === ORDER) return reorder(target, value as string[]);
    const at = target.findIndex((row) => row.id === step);
    if (rest.length === 0 && value === undefined) return target.filter((row) => row.id !== step);
    const source = isRows(whole) ? whole.find((row) => row.id === step) : undefined;
    if (at < 0) return insertLikeMine(target, (rest.length === 0 ? value : source) as Row, whole);
    return target.map((row, i) => (i === at ? put(row, rest, value, source) : row));
  }
  const fields = isFields(target) ? { ...target } : {};
  if (rest.length === 0 && value === undefined) delete fields[step];
  else fields[step] = put(fields[step], rest, value, isFields(whole) ? whole[step] : undefined);
  return fields;
}

/** Puts a row that only `mine` has after the row it follows there. */
function insertLikeMine(target: Row[], row: Row, whole: unknown): Row[] {
  const mine = isRows(whole) ? whole : [];
  const before = mine[mine.findIndex((entry) => entry.id === row.id) - 1];
  const at = before ? target.findIndex((entry) => entry.id === before.id) + 1 : 0;
  return [...target.slice(0, at), row, ...target.slice(at)];
}

function reorder(target: Row[], order: string[]): Row[] {
  const moved = new Set(order);
  const queue = order.flatMap((id) => target.filter((row) => row.id === id));
  return target.map((row) => (moved.has(row.id) ? (queue.shift() ?? row) : row));
}
