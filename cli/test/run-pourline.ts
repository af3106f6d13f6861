import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** What a run of the real program gave. */
export interface Ran {
  code: number | null;
  out: string;
  err: string;
}

export const BINARY = fileURLToPath(new URL('../bin/pourline.mjs', import.meta.url));

/** Runs the real program to its end. */
export function pourline(
  args: readonly string[],
  input = '',
  env: Record<string, string> = {},
): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [BINARY, ...args], {
      env: { ...process.env, NO_COLOR: '1', ...env },
    });
    let out = '';
    let err = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      out += text;
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      err += text;
    });
    child.on('error', reject);
    child.on('close', (code) => resolve({ code, out, err }));
    // The program may end before it reads its input.
    child.stdin.on('error', () => {});
    child.stdin.end(input);
  });
}
