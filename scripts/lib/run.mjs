import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** Root of the checkout. */
export const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** Runs a program to its end, its output on ours. Resolves to the exit code; 1 when it was killed or is not there. */
export function run(command, args, { env = {}, quiet = false } = {}) {
  return new Promise((resolve) => {
    const child = spawn(command, args, {
      cwd: ROOT,
      stdio: ['ignore', quiet ? 'ignore' : 'inherit', quiet ? 'ignore' : 'inherit'],
      env: { ...process.env, ...env },
    });
    child.on('error', () => resolve(1));
    child.on('exit', (code) => resolve(code ?? 1));
  });
}

/** Runs npm: the one that started us, or the one on the path. */
export function npm(args, options) {
  const self = process.env.npm_execpath;
  if (self?.endsWith('.js')) return run(process.execPath, [self, ...args], options);
  return process.platform === 'win32'
    ? run(process.env.ComSpec ?? 'cmd.exe', ['/d', '/s', '/c', 'npm', ...args], options)
    : run('npm', args, options);
}

/** Runs a program of an installed package by its file, for example `bin('typescript/bin/tsc', ['-p', '.'])`. */
export const bin = (file, args, options) =>
  run(
    process.execPath,
    [fileURLToPath(new URL(`../../node_modules/${file}`, import.meta.url)), ...args],
    options,
  );

/** Milliseconds as people read them. */
export const duration = (ms) =>
  ms < 60_000 ? `${(ms / 1000).toFixed(1)} s` : `${(ms / 60_000).toFixed(1)} min`;
