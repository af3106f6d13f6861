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

const KINDS = ['coffee', 'water', 'grinder', 'setup', 'venue'] as const;

describe.runIf(BROWSER)('the shelf on every size of screen', { timeout: 90_000 }, () => {
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

  const cases = Object.keys(VIEWPORTS).flatMap((size) =>
    (['light', 'dark'] as const).map((scheme) => [size as keyof typeof VIEWPORTS, scheme] as const),
  );

  it.each(cases)(
    'fits a %s in %s: nothing is cut off, every target is large enough',
    async (size, scheme) => {
      const touch = size !== 'desktop';
      const { context, watch } = await device(browser, {
        viewport: VIEWPORTS[size],
        colorScheme: scheme,
        hasTouch: touch,
        isMobile: size === 'phone',
      });
      const page = await openApp(context, server.url, '#/shelf/coffee');
      for (const kind of KINDS) {
        await page.goto(`${server.url}#/shelf/${kind}`);
        await page.locator('.shelf-link').first().click();
        await page.locator('.shelf-form').waitFor();
        await page.screenshot({ path: join(SCREENSHOTS, `shelf-${kind}-${size}-${scheme}.png`) });
        const overflow = await page.evaluate(() => document.documentElement.scrollWidth - screen.width);
        expect(overflow, `${kind}: the page scrolls sideways`).toBeLessThanOrEqual(0);
        if (touch) expect(await smallTargets(page), kind).toEqual([]);
      }
      expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe(scheme);
      expect(watch).toEqual({ violations: [], strays: [], errors: [] });
      await context.close();
    },
  );
});

/** Controls that a finger could miss: less than 44 px in either direction (24 px for one set in a frame of its own). */
function smallTargets(page: Awaited<ReturnType<typeof openApp>>): Promise<string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('button, a, .field-box, .check')]
      .filter((control) => !control.closest('.field-box') || control.matches('.field-box'))
      .map((control) => ({ control, box: control.getBoundingClientRect() }))
      .filter(
        ({ control, box }) =>
          box.width > 0 && !control.matches('.skip') && (box.width < 43.5 || box.height < 43.5),
      )
      .map(({ control, box }) => `${control.className} ${Math.round(box.width)}×${Math.round(box.height)}`),
  );
}
