import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { BINARY, pourline } from './run-pourline.ts';

interface Serving {
  child: ChildProcess;
  url: string;
  /** All that it said. */
  told: { sharing: { shared: boolean; says: string[]; addresses: string[] } };
  /** Resolves to the exit code. */
  ended: Promise<number | null>;
}

const started: ChildProcess[] = [];
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pourline-serve-'));
});
afterAll(() => {
  for (const child of started) child.kill('SIGKILL');
  rmSync(folder, { recursive: true });
});

/** Starts the real program on any free port and waits until it says where. */
function serve(data: string, ...more: string[]): Promise<Serving> {
  const args = [BINARY, 'serve', '--data', data, '--port', '0', '--json', ...more];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] });
  started.push(child);
  const ended = new Promise<number | null>((resolve) => child.on('exit', resolve));
  return new Promise((resolve, reject) => {
    let out = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      out += text;
      if (out.endsWith('}\n')) resolve({ child, url: JSON.parse(out).url, told: JSON.parse(out), ended });
    });
    void ended.then((code) => reject(new Error(`ended with ${code}`)));
  });
}

const documentsAt = async (url: string) =>
  (await (await fetch(new URL('api/documents', url))).json()).revisions.length;

describe('serve', { timeout: 60_000 }, () => {
  test('shows the demo on first start, refuses a second server on the same data, stops when asked', async () => {
    const data = join(folder, 'one');
    const { child, url, ended } = await serve(data);
    expect(new URL(url).hostname).toBe('localhost');
    expect(await documentsAt(url)).toBeGreaterThan(10);
    const second = await pourline(['serve', '--data', data, '--port', '0']);
    expect(second.code).toBe(3);
    expect(second.err).toContain(url);
    child.kill('SIGTERM');
    expect(await ended).toBe(0);
    expect(existsSync(join(data, 'serving.json'))).toBe(false);
  });

  test('--no-demo leaves an empty database empty', async () => {
    const { child, url, ended } = await serve(join(folder, 'two'), '--no-demo');
    expect(await documentsAt(url)).toBe(0);
    child.kill('SIGINT');
    expect(await ended).toBe(0);
  });

  test('--share opens a door for tasters and nothing else, and says so', async () => {
    const args = ['--no-demo', '--share', '127.0.0.1', '--share-port', '0'];
    const { child, told, ended } = await serve(join(folder, 'shared'), ...args);
    expect(told.sharing.shared).toBe(true);
    expect(told.sharing.says.join(' ')).toMatch(/can reach the tasters’ page at http.*To stop/);
    const [address] = told.sharing.addresses as [string];
    const ask = async (path: string) => (await fetch(new URL(path, address))).status;
    expect(await ask('/api/taster/hello')).toBe(200);
    expect(await ask('/api/documents')).toBe(403);
    child.kill('SIGTERM');
    expect(await ended).toBe(0);
    await expect(fetch(address)).rejects.toThrow();
  });

  test('starts again after it was killed', async () => {
    const data = join(folder, 'three');
    const first = await serve(data);
    first.child.kill('SIGKILL');
    await first.ended;
    expect(existsSync(join(data, 'serving.json'))).toBe(true);
    const again = await serve(data);
    expect(await documentsAt(again.url)).toBeGreaterThan(10);
    again.child.kill('SIGTERM');
    expect(await again.ended).toBe(0);
  });

  test('says that a port is taken', async () => {
    const taken = await new Promise<Server>((resolve) => {
      const server = createServer().listen(0, '127.0.0.1', () => resolve(server));
    });
    const { port } = taken.address() as { port: number };
    const { code, err } = await pourline(['serve', '--data', join(folder, 'four'), '--port', String(port)]);
    taken.close();
    expect(code).toBe(3);
    expect(err).toContain(`Port ${port} is taken`);
  });

  test('lets no other machine in without being told which', async () => {
    const { code, err } = await pourline([
      'serve',
      '--data',
      join(folder, 'five'),
      '--host',
      '0.0.0.0',
      '--port',
      '0',
    ]);
    expect(code).toBe(3);
    expect(err).toContain('no login');
  });

  test.each(['70000', 'http', '-1', '47.5'])('refuses %s as a port', async (port) => {
    const { code, err } = await pourline(['serve', `--port=${port}`]);
    expect(code).toBe(2);
    expect(err).toContain('is not a port');
  });

  test('says that a file is no database', async () => {
    const data = mkdtempSync(join(folder, 'bad-'));
    writeFileSync(
      join(data, 'pourline.sqlite'),
      'only words, and enough of them to look like a header of something else',
    );
    const { code, err } = await pourline(['serve', '--data', data, '--port', '0']);
    expect(code).toBe(3);
    expect(err).toContain('not a database');
  });
});
