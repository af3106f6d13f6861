import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { npm, ROOT } from './run.mjs';

/**
 * What stands in the way of using the installed packages: null when they are those of the lock file, otherwise a
 * few words. Packages for other machines (optional ones) may be missing.
 */
export function installGap(root = ROOT) {
  const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')).packages;
  let installed;
  try {
    installed = JSON.parse(readFileSync(join(root, 'node_modules/.package-lock.json'), 'utf8')).packages;
  } catch {
    return 'nothing is installed yet';
  }
  for (const [path, wanted] of Object.entries(lock)) {
    if (!path.includes('node_modules/')) continue;
    const found = installed[path];
    if (!found && !wanted.optional) return `${path} is missing`;
    if (found && found.version !== wanted.version)
      return `${path} is ${found.version}, not ${wanted.version}`;
  }
  return null;
}

/** Installs the packages of the lock file when they are not there. Returns false when that failed. */
export async function ensureInstalled() {
  const gap = installGap();
  if (gap === null) return true;
  console.log(`Installing packages (${gap}) …`);
  const code = await npm(['ci', '--no-audit', '--no-fund', '--loglevel=error']);
  if (code === 0) return true;
  console.error(
    'Installing failed. See the lines above; most often there is no way to the package registry. Try `npm ci` by hand, then start again.',
  );
  return false;
}
