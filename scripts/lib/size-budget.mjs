import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { ROOT } from './run.mjs';

/** Most compressed JavaScript that the first page may load [bytes]. */
export const BUDGET = 350_000;

/** Name of the chunk of the desk that opens first. */
const FIRST_DESK = 'brew-desk';

/** Scripts that a page loads before anything is asked of it: its module scripts and what they preload. */
export function initialScripts(html) {
  const found = [];
  for (const [tag] of html.matchAll(/<(?:script|link)\b[^>]*>/g)) {
    const wanted = tag.startsWith('<script') || /rel="?modulepreload/.test(tag);
    const address = /(?:src|href)="([^"]+\.js)"/.exec(tag)?.[1];
    if (wanted && address) found.push(address.replace(/^\.?\//, ''));
  }
  return found;
}

/** Scripts that a script loads before it runs. */
export const importsOfScript = (source) =>
  [
    ...source.matchAll(/(?:^|[;}\s])(?:import|export)\s*(?:[\w*${}\s,]+?from\s*)?["']\.\/([^"']+\.js)["']/g),
  ].map((m) => m[1]);

/** Everything that `first` scripts of a folder load before they run, themselves included. */
function closure(folder, first) {
  const found = new Set();
  const queue = [...first];
  for (const name of queue) {
    if (found.has(name)) continue;
    found.add(name);
    queue.push(...importsOfScript(readFileSync(join(folder, name), 'utf8')));
  }
  return [...found];
}

/**
 * Checks what the browser loads until the first desk stands against the budget: the page's own scripts, and the chunk
 * of the desk that opens first, with all that they import. Prints the sum either way.
 */
export function sizeWithinBudget(dist = join(ROOT, 'web/dist')) {
  const page = join(dist, 'index.html');
  if (!existsSync(page)) {
    console.error(`No built page at ${page}.`);
    return false;
  }
  const assets = join(dist, 'assets');
  const scripts = initialScripts(readFileSync(page, 'utf8'));
  const desk = readdirSync(assets).filter((name) => new RegExp(`^${FIRST_DESK}-.*\\.js$`).test(name));
  const entries = scripts
    .filter((name) => name.startsWith('assets/'))
    .map((name) => name.slice('assets/'.length));
  const beside = scripts.filter((name) => !name.startsWith('assets/')).map((name) => join(dist, name));
  const files = [...beside, ...closure(assets, [...entries, ...desk]).map((name) => join(assets, name))];
  const sum = files.reduce((total, file) => total + gzipSync(readFileSync(file), { level: 9 }).length, 0);
  console.log(
    `JavaScript until the first desk stands: ${(sum / 1000).toFixed(1)} kB compressed in ${files.length} files (budget ${BUDGET / 1000} kB)`,
  );
  if (entries.length === 0) console.error('The page has no script.');
  if (desk.length === 0) console.error(`There is no chunk of the first desk, ${FIRST_DESK}.`);
  return entries.length > 0 && desk.length > 0 && sum < BUDGET;
}
