import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  BROWSER,
  device,
  launch,
  openApp,
  SCREENSHOTS,
  serveApp,
  type TestServer,
  VIEWPORTS,
} from './harness.ts';

const panel = (page: Page, title: string) =>
  page.locator('.cup .panel', { has: page.getByRole('heading', { name: title, exact: true }) });

const check = (page: Page, label: string) => page.locator('.check', { hasText: label });

describe.runIf(BROWSER)('what surrounds a brew, on the Brew desk', { timeout: 120_000 }, () => {
  let browser: Browser;
  let server: TestServer;

  beforeAll(async () => {
    browser = await launch();
    server = await serveApp();
    await mkdir(SCREENSHOTS, { recursive: true });
  });
  afterAll(async () => {
    await browser.close();
    await server.dispose();
  });

  it('follows a kettle, chills the first part and serves cups when told to', async () => {
    const { context, watch } = await device(browser);
    const page = await openApp(context, server.url, '#/brew');
    const cups = panel(page, 'In the cups');
    await cups.locator('.around-drawing').waitFor({ timeout: 60_000 });
    await check(page, 'Serve in cups').click();
    await cups.waitFor({ state: 'detached', timeout: 30_000 });
    await check(page, 'Serve in cups').click();
    await cups.locator('tbody tr').first().waitFor({ timeout: 30_000 });
    await page.getByRole('textbox', { name: 'Cups', exact: true }).fill('3');
    await expect.poll(() => cups.locator('tbody tr').count(), { timeout: 30_000 }).toBe(3);
    await check(page, 'Chill the first part').click();
    await panel(page, 'Chilled first part').waitFor({ timeout: 30_000 });
    await check(page, 'Follow Kettle A').click();
    const water = page.getByRole('textbox', { name: 'Water at the start', exact: true });
    await water.fill('120');
    await page.locator('.remarks', { hasText: 'Kettle A is empty' }).waitFor({ timeout: 30_000 });
    await water.fill('2000');
    await page.locator('.standing', { hasText: 'holds 1000 g' }).waitFor({ timeout: 30_000 });
    expect(await water.inputValue()).toBe('2000');
    expect(watch).toEqual({ violations: [], strays: [], errors: [] });
    await context.close();
  });

  it.each(Object.keys(VIEWPORTS) as (keyof typeof VIEWPORTS)[])('fits a %s', async (size) => {
    const touch = size !== 'desktop';
    const { context, watch } = await device(browser, {
      viewport: VIEWPORTS[size],
      hasTouch: touch,
      isMobile: size === 'phone',
    });
    const page = await openApp(context, server.url, '#/brew');
    await panel(page, 'Kettles').waitFor({ state: 'attached', timeout: 60_000 });
    await check(page, 'Follow Kettle B').scrollIntoViewIfNeeded();
    await page.screenshot({ path: join(SCREENSHOTS, `around-${size}.png`) });
    expect(
      await page.evaluate(() => document.documentElement.scrollWidth - screen.width),
    ).toBeLessThanOrEqual(0);
    expect(watch).toEqual({ violations: [], strays: [], errors: [] });
    await context.close();
  });
});
