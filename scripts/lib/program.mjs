import { existsSync, mkdirSync, mkdtempSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { hashOf } from './build.mjs';
import { ROOT } from './run.mjs';

/** What the command line, the server and the store are made from. */
const SOURCES = [
  'cli/src',
  'server/src',
  'store/src',
  'core/src',
  'package-lock.json',
  'scripts/lib/program.mjs',
];
/** Libraries that stay outside: they are old-style modules, or load parts of themselves by path. */
const OUTSIDE = ['libsql', 'fastify', '@fastify/static', 'commander', 'pngjs', 'jpeg-js'];

/**
 * Gathers command line, server, store and core into a few files when they changed: they start in a third of the time
 * that their several hundred sources take. The folder is named by the hash of the sources and appears whole, so any
 * number of processes may ask at once. It stands as deep in the checkout as the sources, which find the checkout from
 * there.
 * @returns the path of the file to load
 */
async function ensureProgram() {
  const stamps = join(ROOT, '.stamp');
  const folder = join(stamps, `program-${hashOf(SOURCES).slice(0, 16)}`);
  const file = join(folder, 'index.js');
  if (existsSync(file)) return file;
  const { build } = await import('esbuild');
  mkdirSync(stamps, { recursive: true });
  const part = mkdtempSync(join(stamps, 'part-'));
  try {
    await build({
      absWorkingDir: ROOT,
      entryPoints: ['cli/src/index.ts'],
      outdir: part,
      bundle: true,
      splitting: true,
      platform: 'node',
      format: 'esm',
      target: 'node20',
      external: OUTSIDE,
      logLevel: 'error',
    });
    sweep();
    try {
      renameSync(part, folder);
    } catch (error) {
      // Another process was first.
      if (!existsSync(file)) throw error;
    }
  } finally {
    rmSync(part, { recursive: true, force: true });
  }
  return file;
}

/** Removes what older sources were gathered into, once no process that began with it can still be reading it. */
function sweep() {
  const stamps = join(ROOT, '.stamp');
  const yesterday = Date.now() - 86_400_000;
  for (const name of readdirSync(stamps)) {
    const path = join(stamps, name);
    if (/^(program|part)-/.test(name) && statSync(path).mtimeMs < yesterday)
      rmSync(path, { recursive: true, force: true });
  }
}

/** Loads the program (`main`, `serve`, …), or says why it cannot be and resolves to null. */
export async function loadProgram() {
  if (!existsSync(join(ROOT, 'node_modules/esbuild'))) {
    console.error(
      'The packages are not installed. Run `npm ci` in the checkout (or `npm start`, which does it).',
    );
    return null;
  }
  try {
    return await import(pathToFileURL(await ensureProgram()).href);
  } catch (error) {
    console.error(error instanceof Error ? (error.stack ?? error.message) : error);
    console.error('The program could not be put together from its sources; see the lines above.');
    return null;
  }
}
