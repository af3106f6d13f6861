import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { ROOT } from './run.mjs';

/** Most compressed JavaScript that the first page may load [bytes]. */
export const BUDGET = 350_000;

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

/** Checks the built pages against the budget; prints the sum either way. */
export function sizeWithinBudget(dist = join(ROOT, 'web/dist')) {
  const page = join(dist, 'index.html');
  if (!existsSync(page)) {
    console.error(`No built page at ${page}.`);
    return false;
  }
  const scripts = initialScripts(readFileSync(page, 'utf8'));
  const sizes = scripts.map((name) => gzipSync(readFileSync(join(dist, name)), { level: 9 }).length);
  const sum = sizes.reduce((total, size) => total + size, 0);
  const all = readdirSync(dist, { recursive: true }).filter((name) => name.endsWith('.js')).length;
  console.log(
    `Initial JavaScript: ${(sum / 1000).toFixed(1)} kB compressed in ${scripts.length} of ${all} files (budget ${BUDGET / 1000} kB)`,
  );
  return scripts.length > 0 && sum < BUDGET;
}
