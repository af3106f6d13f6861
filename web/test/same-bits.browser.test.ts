import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DEMO_BITS } from '../../core/src/brew/testing/demo-bits.ts';
import { demoBundle } from '../../core/src/brew/testing/demo-bundle.ts';
import { resultBits } from '../../core/src/brew/testing/result-bits.ts';
import { BROWSER, device, launch, openApp, serveApp, type TestServer } from './harness.ts';

/** Asks a worker of the engine for a prediction, by Comlink's messages, and returns every number of it in order. */
async function numbersFrom({ url, bundle }: { url: string; bundle: unknown }): Promise<number[]> {
  const worker = new Worker(url, { type: 'module' });
  const answer = await new Promise<{ type: string; value: unknown }>((resolve, reject) => {
    worker.onerror = (event) => reject(new Error(event.message));
    worker.onmessage = ({ data }) => resolve(data);
    const argumentList = [bundle, 'standard'].map((value) => ({ type: 'RAW', value }));
    worker.postMessage({ id: '1', type: 'APPLY', path: ['run'], argumentList });
  });
  worker.terminate();
  if (answer.type !== 'RAW') throw new Error(`the worker answers with ${answer.type}`);
  const found: number[] = [];
  const walk = (part: unknown): void => {
    if (typeof part === 'number') found.push(part);
    else if (part instanceof Float64Array || Array.isArray(part)) for (const entry of part) walk(entry);
    else if (typeof part === 'object' && part !== null) for (const entry of Object.values(part)) walk(entry);
  };
  walk(answer.value);
  return found;
}

describe.runIf(BROWSER)('the engine in the browser', { timeout: 120_000 }, () => {
  let browser: Browser;
  let server: TestServer;
  beforeAll(async () => {
    browser = await launch();
    server = await serveApp();
  });
  afterAll(async () => {
    await browser.close();
    await server.dispose();
  });

  it('gives the bits that it gives in Node', async () => {
    const { context, watch } = await device(browser);
    const page = await openApp(context, server.url);
    await page.locator('.cup .main-figures').waitFor({ timeout: 60_000 });
    const [engine] = page.workers();
    const numbers = await page.evaluate(numbersFrom, { url: engine!.url(), bundle: demoBundle() });
    expect(numbers.length).toBeGreaterThan(1_000);
    expect(resultBits(numbers)).toBe(DEMO_BITS);
    expect(watch.errors).toEqual([]);
    expect(watch.violations).toEqual([]);
    await context.close();
  });
});
