import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** Address of the taster's page, and the file it is. */
export const TASTER_PAGE = '/taste';
const TASTER_FILE = 'taste.html';

/** Files of the built app that the taster's page needs, with `/` before them. */
export interface TasterFiles {
  /** Path of the page itself; null when it is not built. */
  page: string | null;
  /** Everything that may be served beside it. */
  files: ReadonlySet<string>;
}

/**
 * What of the built app belongs to the taster's page: every file that the page names, and every file that those name, and so on. File names
 * carry a hash of their content, so a name cannot stand in a file by accident.
 */
export function tasterFiles(webRoot: string | undefined): TasterFiles {
  if (webRoot === undefined || !existsSync(join(webRoot, TASTER_FILE)))
    return { page: null, files: new Set() };
  const assets = join(webRoot, 'assets');
  const names = existsSync(assets) ? readdirSync(assets) : [];
  const found = new Set<string>();
  const open = [join(webRoot, TASTER_FILE)];
  for (let file = open.pop(); file !== undefined; file = open.pop()) {
    const text = readFileSync(file, 'utf8');
    for (const name of names) {
      if (found.has(name) || !text.includes(name)) continue;
      found.add(name);
      if (/\.(?:js|css|mjs)$/.test(name)) open.push(join(assets, name));
    }
  }
  return { page: TASTER_FILE, files: new Set([...found].map((name) => `/assets/${name}`)) };
}
