import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { npm, ROOT } from './run.mjs';

const LEFT_OUT = /(^|\/)(node_modules|dist|test|testing|screenshots)(\/|$)|\.test\.tsx?$/;

/** What the built pages are made from. */
const PAGES = {
  sources: ['web', 'core/src', 'core/package.json', 'examples', 'package-lock.json'],
  result: 'web/dist/index.html',
  stamp: '.stamp/web-build',
};

/** The server as one file. It stands as deep in the checkout as its sources, which find the checkout from there. */
const SERVER = {
  sources: ['cli/src', 'server/src', 'store/src', 'core/src', 'package-lock.json', 'scripts/lib/build.mjs'],
  result: '.stamp/server/serving.mjs',
  stamp: '.stamp/server-build',
};

function* filesUnder(path) {
  const name = relative(ROOT, path).replaceAll('\\', '/');
  if (LEFT_OUT.test(name)) return;
  if (!statSync(path).isDirectory()) yield [name, path];
  else for (const entry of readdirSync(path).sort()) yield* filesUnder(join(path, entry));
}

/** One hash over the names and contents of files and folders. */
function hashOf(sources) {
  const sum = createHash('sha256').update(process.versions.node);
  for (const source of sources) {
    if (!existsSync(join(ROOT, source))) continue;
    for (const [name, path] of filesUnder(join(ROOT, source)))
      sum.update(`${name}\0`).update(readFileSync(path)).update('\0');
  }
  return sum.digest('hex');
}

/** Builds something when its sources changed since the last time. Resolves to false when that failed. */
async function ensure({ sources, result, stamp }, build) {
  const hash = hashOf(sources);
  const marked = join(ROOT, stamp);
  if (existsSync(join(ROOT, result)) && existsSync(marked) && readFileSync(marked, 'utf8') === hash)
    return true;
  rmSync(marked, { force: true });
  if (!(await build())) return false;
  mkdirSync(join(ROOT, '.stamp'), { recursive: true });
  writeFileSync(marked, hash);
  return true;
}

/** Builds the pages when their sources changed. Resolves to false when that failed. */
export const ensureBuilt = () =>
  ensure(PAGES, async () => {
    console.log('Building the pages …');
    if ((await npm(['run', 'build', '--workspace', 'web', '--silent'])) === 0) return true;
    console.error('Building the pages failed; see the lines above.');
    return false;
  });

/** Libraries that stay outside the one file: they load parts of themselves by path. */
const OUTSIDE = ['libsql', 'fastify', '@fastify/static'];

/**
 * Gathers server, store and core into one file when they changed: one file starts in a third of the time of several
 * hundred. Resolves to its path, or to null when that failed.
 */
export async function ensureServer() {
  const ok = await ensure(SERVER, async () => {
    const { build } = await import('esbuild');
    try {
      await build({
        absWorkingDir: ROOT,
        entryPoints: ['cli/src/serving.ts'],
        outfile: SERVER.result,
        bundle: true,
        platform: 'node',
        format: 'esm',
        target: 'node20',
        external: OUTSIDE,
        sourcemap: true,
        logLevel: 'error',
      });
      return true;
    } catch {
      console.error('The server could not be put together; see the lines above.');
      return false;
    }
  });
  return ok ? join(ROOT, SERVER.result) : null;
}
