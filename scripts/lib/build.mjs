import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { npm, ROOT } from './run.mjs';

const LEFT_OUT = /(^|\/)(node_modules|dist|test|testing|screenshots)(\/|$)|\.test\.tsx?$/;

/** What the built pages are made from. */
const SOURCES = [
  'web/src',
  'web/public',
  'web/index.html',
  'web/vite.config.ts',
  'web/package.json',
  'core/src',
  'examples',
  'package-lock.json',
];
const RESULT = join(ROOT, 'web/dist/index.html');
const STAMP = join(ROOT, '.stamp/web-build');

function* filesUnder(path) {
  const name = relative(ROOT, path).replaceAll('\\', '/');
  if (LEFT_OUT.test(name)) return;
  if (!statSync(path).isDirectory()) yield [name, path];
  else for (const entry of readdirSync(path).sort()) yield* filesUnder(join(path, entry));
}

/** One hash over the names and contents of files and folders. */
export function hashOf(sources) {
  const sum = createHash('sha256').update(process.versions.node);
  for (const source of sources) {
    if (!existsSync(join(ROOT, source))) continue;
    for (const [name, path] of filesUnder(join(ROOT, source)))
      sum.update(`${name}\0`).update(readFileSync(path)).update('\0');
  }
  return sum.digest('hex');
}

/** Builds the pages when their sources changed since the last time. Resolves to false when that failed. */
export async function ensureBuilt() {
  const hash = hashOf(SOURCES);
  if (existsSync(RESULT) && existsSync(STAMP) && readFileSync(STAMP, 'utf8') === hash) return true;
  console.log('Building the pages …');
  rmSync(STAMP, { force: true });
  // Whoever starts this may run for tests; what is built is what people use.
  const env = { NODE_ENV: 'production' };
  if ((await npm(['run', 'build', '--workspace', 'web', '--silent'], { env })) !== 0) {
    console.error('Building the pages failed; see the lines above.');
    return false;
  }
  mkdirSync(join(ROOT, '.stamp'), { recursive: true });
  writeFileSync(STAMP, hash);
  return true;
}
