import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
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

describe.runIf(BROWSER)('what matters for a plan', { timeout: 240_000 }, () => {
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

  it('is computed when asked for, shown while it grows, kept when stopped, and called old after a change', async () => {
    const { context, watch } = await device(browser, { viewport: VIEWPORTS.phone, hasTouch: true });
    const page = await openApp(context, server.url);
    await page.locator('.cup .main-figures').waitFor({ timeout: 60_000 });
    const panel = page.locator('details.panel', { hasText: 'What matters here?' });
    await panel.locator('summary').first().tap();
    expect(await panel.locator('.matters-rows').count()).toBe(0);

    await panel.getByRole('button', { name: 'Work it out' }).tap();
    await panel.locator('[data-input="dose"]').waitFor({ timeout: 120_000 });
    await panel.getByRole('button', { name: 'Stop and keep this' }).tap();
    await panel.getByRole('button', { name: 'Work it out again' }).waitFor();
    const dose = panel.locator('[data-input="dose"]');
    expect(await dose.locator('.matters-name').textContent()).toBe('1 g more coffee');
    expect(await dose.locator('.matters-effect').textContent()).toMatch(/^\+0\.\d\d\s%$/);

    await panel.getByText('Hottest in the bed').tap();
    await panel
      .getByRole('button', { name: /Show \d+ more/ })
      .first()
      .tap();
    const kettle = panel.locator('[data-input="pour_kettle.4"] .matters-effect');
    expect(await kettle.textContent()).toMatch(/^\+\d\.\d\s°C$/);
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(width).toBeLessThanOrEqual(VIEWPORTS.phone.width);
    await page.screenshot({ path: join(SCREENSHOTS, 'phone-what-matters.png') });

    const start = page.getByRole('textbox', { name: 'Pour 4: Start', exact: true });
    await start.fill('95');
    await start.press('Enter');
    await panel.getByText('Worked out for the plan before it was changed.').waitFor();
    expect(watch.errors).toEqual([]);
    expect(watch.violations).toEqual([]);
    await context.close();
  });
});
