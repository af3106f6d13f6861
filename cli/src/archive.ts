import {
  type AnyDocument,
  type Archive,
  type BrewBundle,
  bundlePlan,
  type Checked,
  checkArchive,
  type Plan,
} from '@pourline/core';
import { EXIT, Stop } from './exit.ts';
import { readJson, stopWithProblems } from './io.ts';

/** Reads and checks an archive, or stops with everything that is wrong with it. */
export function readArchive(path: string, json: boolean): Archive {
  const checked = checkArchive(readJson(path));
  return checked.ok ? checked.value : stopWithProblems(checked.problems, json);
}

/** The one document of a list that `wanted` names by id or by name; without `wanted`, the only one there is. */
export function pick<D extends { id: string; name: string }>(
  what: string,
  documents: readonly D[],
  wanted: string | undefined,
): D {
  const names = documents.map((d) => `"${d.name}"`).join(', ');
  if (documents.length === 0) throw new Stop(EXIT.notFound, `There is no ${what} in it.`);
  if (wanted === undefined) {
    if (documents.length === 1) return documents[0]!;
    throw new Stop(
      EXIT.usage,
      `There are ${documents.length} ${what}s: choose one with --${what}. They are ${names}.`,
    );
  }
  const byId = documents.find((d) => d.id === wanted);
  if (byId) return byId;
  const plain = wanted.trim().toLowerCase();
  const byName = documents.filter((d) => d.name.toLowerCase() === plain);
  if (byName.length === 1) return byName[0]!;
  if (byName.length > 1)
    throw new Stop(
      EXIT.usage,
      `${byName.length} ${what}s are called "${wanted}": choose by id. They are ${byName.map((d) => d.id).join(', ')}.`,
    );
  throw new Stop(EXIT.notFound, `There is no ${what} "${wanted}". There are ${names}.`);
}

/** The plan of an archive with all that it points to. */
export function bundleFrom(archive: Archive, wanted: string | undefined): Checked<BrewBundle> {
  const byId = new Map<string, AnyDocument>(archive.documents.map((d) => [d.id, d]));
  const plans = archive.documents.filter((d): d is Plan => d.kind === 'plan' && !d.archived);
  return bundlePlan(pick('plan', plans, wanted), (id) => byId.get(id));
}
