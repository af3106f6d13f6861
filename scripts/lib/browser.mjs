import { spawn } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import { run } from './run.mjs';

const runnable = (path) => {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
};

/** Full path of the first of these programs on the path, or null. */
export function onPath(...names) {
  for (const name of names)
    for (const folder of (process.env.PATH ?? '').split(delimiter))
      if (folder && runnable(join(folder, name))) return join(folder, name);
  return null;
}

/** A Chromium to test with: `CHROMIUM_PATH`, or one of the usual places; null when there is none. */
export function findChromium() {
  const said = process.env.CHROMIUM_PATH;
  if (said) return runnable(said) ? said : null;
  return (
    onPath('chromium', 'chromium-browser', 'google-chrome-stable', 'google-chrome') ??
    [
      '/Applications/Chromium.app/Contents/MacOS/Chromium',
      '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
      'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
    ].find(runnable) ??
    null
  );
}

/** Finds a Chromium, or installs one through the system's packages where that is allowed; null with a sentence when not. */
export async function ensureChromium() {
  const found = findChromium();
  if (found) return found;
  if (process.env.CHROMIUM_PATH) {
    console.error(`CHROMIUM_PATH is ${process.env.CHROMIUM_PATH}, but no program can be run there.`);
    return null;
  }
  const root = process.getuid?.() === 0;
  const apt = onPath('apt-get');
  if (apt && (root || (onPath('sudo') && (await run('sudo', ['-n', 'true'], { quiet: true })) === 0))) {
    console.log('Installing Chromium through apt-get …');
    const asRoot = (args) =>
      root
        ? run(apt, args, { env: { DEBIAN_FRONTEND: 'noninteractive' }, quiet: true })
        : run('sudo', ['-n', apt, ...args], { quiet: true });
    // The fonts are for pages that hold Chinese, Japanese or Korean; without them a browser prints boxes.
    const install = ['install', '-y', '--no-install-recommends', 'chromium', 'fonts-noto-cjk'];
    if ((await asRoot(install)) !== 0) {
      await asRoot(['update']);
      if ((await asRoot(install)) !== 0) await asRoot(install.slice(0, -1));
    }
    const installed = findChromium();
    if (installed) return installed;
  }
  console.error(
    'No Chromium found and none could be installed: install it through your system (package `chromium`), or set CHROMIUM_PATH to its program.',
  );
  return null;
}

/** Opens an address in the person's browser where there is a screen to show it on. Never fails. */
export function openBrowser(address) {
  if (process.env.CI) return;
  const screen = process.env.DISPLAY || process.env.WAYLAND_DISPLAY;
  const [command, args] =
    process.platform === 'darwin'
      ? ['open', [address]]
      : process.platform === 'win32'
        ? ['cmd', ['/c', 'start', '', address]]
        : [screen ? onPath('xdg-open') : null, [address]];
  if (!command) return;
  const child = spawn(command, args, { stdio: 'ignore', detached: true });
  child.on('error', () => {});
  child.unref();
}
