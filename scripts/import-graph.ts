import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize, relative } from 'node:path';

/** One import of one file. */
export interface Import {
  /** File it stands in, from the root of the checkout. */
  from: string;
  /** As written. */
  specifier: string;
  /** File it leads to, from the root of the checkout; null for a package. */
  to: string | null;
  /** Gone after type checking. */
  typeOnly: boolean;
}

export const PACKAGES = ['core', 'store', 'server', 'web', 'cli'] as const;
export type PackageName = (typeof PACKAGES)[number];

const IMPORT =
  /(?:^|[;}\s])(?:import|export)\s+(type\s+)?(?:[\w*{][^'"`;]*?\sfrom\s*)?['"]([^'"]+)['"]|\bimport\(\s*['"]([^'"]+)['"]\s*\)|\bnew URL\(\s*['"](\.[^'"]+)['"]\s*,\s*import\.meta\.url/g;

/** Source with its comments blanked. Good enough for imports: no string of ours holds a comment mark before one. */
const withoutComments = (source: string): string =>
  source.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|[^:'"`\\])\/\/[^\n]*/g, '$1');

/** Imports, re-exports, dynamic imports and worker addresses of one source. */
export function importsOf(from: string, source: string): Import[] {
  return [...withoutComments(source).matchAll(IMPORT)].map(([, type, plain, dynamic, address]) => {
    const specifier = plain ?? dynamic ?? address ?? '';
    const to = specifier.startsWith('.')
      ? normalize(join(dirname(from), specifier)).replaceAll('\\', '/')
      : null;
    return { from, specifier, to: to?.replace(/\?.*$/, '') ?? null, typeOnly: type !== undefined };
  });
}

/** Source files of a package, tests left out, from the root of the checkout. */
export function sourcesOf(root: string, name: PackageName): string[] {
  return readdirSync(join(root, name), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.(ts|tsx|mjs)$/.test(entry.name))
    .map((entry) => relative(root, join(entry.parentPath, entry.name)).replaceAll('\\', '/'))
    .filter(
      (path) => /^\w+\/(src|bin)\//.test(path) && !/\/(node_modules|test|testing)\/|\.test\.tsx?$/.test(path),
    )
    .sort();
}

/** All imports of a package. */
export const importsIn = (root: string, name: PackageName): Import[] =>
  sourcesOf(root, name).flatMap((path) => importsOf(path, readFileSync(join(root, path), 'utf8')));

/** Loops among files, each as the list of files it goes through. */
export function cycles(imports: readonly Import[]): string[][] {
  const next = new Map<string, string[]>();
  for (const { from, to, typeOnly } of imports) {
    if (to === null || typeOnly) continue;
    next.set(from, [...(next.get(from) ?? []), to]);
  }
  const found: string[][] = [];
  const done = new Set<string>();
  const walk = (file: string, trail: string[]): void => {
    const at = trail.indexOf(file);
    if (at >= 0) found.push(trail.slice(at));
    if (at >= 0 || done.has(file)) return;
    for (const to of next.get(file) ?? []) walk(to, [...trail, file]);
    done.add(file);
  };
  for (const file of next.keys()) walk(file, []);
  return found;
}
