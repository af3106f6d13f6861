import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const START = fileURLToPath(new URL('./start.mjs', import.meta.url));
const running: ChildProcess[] = [];
let data: string;
beforeAll(() => {
  data = mkdtempSync(join(tmpdir(), 'pourline-start-'));
});
afterAll(() => {
  for (const child of running) child.kill('SIGKILL');
  rmSync(data, { recursive: true });
});

interface Started {
  url: string;
  said: string;
  /** From launch to the first page that is answered [ms]. */
  took_ms: number;
  stop(): Promise<number | null>;
}

/** Runs what `npm start` runs, on any free port, and waits for the first page. */
async function start(): Promise<Started> {
  const began = performance.now();
  const child = spawn(process.execPath, [START, '--no-open', '--port', '0', '--data', data], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  running.push(child);
  const ended = new Promise<number | null>((resolve) => child.on('exit', resolve));
  let said = '';
  const url = await new Promise<string>((resolve, reject) => {
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      said += text;
      const found = /Pourline: (http:\S+)/.exec(said);
      if (found) resolve(found[1]!);
    });
    void ended.then((code) => reject(new Error(`ended with ${code} after: ${said}`)));
  });
  const page = await fetch(url);
  expect(page.status).toBe(200);
  expect(await page.text()).toContain('<div id="app">');
  const stop = () => {
    child.kill('SIGINT');
    return ended;
  };
  return { url, said, took_ms: performance.now() - began, stop };
}

describe.skipIf(process.env.POURLINE_SLOW !== '1')('npm start', { timeout: 180_000 }, () => {
  test('shows the demo the first time, then starts again in under 3 s', async () => {
    const first = await start();
    expect(first.said).toContain('The demo campaign is in.');
    const again = spawnSync(process.execPath, [START, '--no-open', '--data', data], { encoding: 'utf8' });
    expect(again.status).toBe(0);
    expect(again.stdout).toContain(`Pourline runs already: ${first.url}`);
    expect(await first.stop()).toBe(0);
    const times: number[] = [];
    for (let i = 0; i < 3; i++) {
      const next = await start();
      expect(next.said).not.toContain('demo');
      times.push(next.took_ms);
      expect(await next.stop()).toBe(0);
    }
    console.log(`starts again in [ms]: ${times.map(Math.round).join(', ')}`);
    // Three seconds on a machine that has nothing else to do, held when POURLINE_TIMED is 1; a hang fails always.
    expect(Math.min(...times)).toBeLessThan(process.env.POURLINE_TIMED === '1' ? 3_000 : 30_000);
  });

  test.each([
    [['--port', 'http'], 'is not a port'],
    [['--prot', '4700'], "Unknown option '--prot'"],
  ])('refuses %j with a sentence and its help', (args, sentence) => {
    const { status, stderr } = spawnSync(process.execPath, [START, ...args], { encoding: 'utf8' });
    expect(status).toBe(2);
    expect(stderr).toContain(sentence);
    expect(stderr).toContain('npm start -- [options]');
  });
});
