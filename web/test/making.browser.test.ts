import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  BROWSER,
  device,
  launch,
  openApp,
  SCREENSHOTS,
  serveApp,
  syncSays,
  type TestServer,
  VIEWPORTS,
  type Watch,
} from './harness.ts';
import { readPdf } from './pdf-text.ts';

const CLEAN: Watch = { violations: [], strays: [], errors: [] };

/** Opens the table of the demo's order and starts one more batch of its first water. */
async function atTheTable(context: BrowserContext, url: string): Promise<Page> {
  const page = await openApp(context, url, '#/water/table');
  const before = page.locator('.making-start button');
  await before.or(page.locator('.making-step')).first().waitFor();
  if (await before.isVisible()) await before.click();
  else await page.getByRole('button', { name: 'Start another batch' }).click();
  await page.locator('.making-progress', { hasText: /^0 of/ }).waitFor();
  return page;
}

const step = (page: Page, text: string | RegExp) => page.locator('.making-step', { hasText: text });
const figure = (page: Page, name: string) =>
  page.locator('.making-figures tr', { hasText: name }).locator('td').last();

describe.runIf(BROWSER)('making a water at the table', { timeout: 120_000 }, () => {
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

  it('keeps ticks and weighed amounts over a reload, scales to the litres, and works the water out from what went in', async () => {
    const { context, watch } = await device(browser);
    const page = await atTheTable(context, server.url);
    await step(page, 'Calcium bottle and mix').locator('.making-tick').click();
    await expect.poll(() => page.locator('.making-progress').textContent()).toMatch(/^1 of \d steps done$/);
    expect(await step(page, 'Calcium bottle and mix').locator('.making-amount').textContent()).toBe(
      '10.1 mL',
    );

    await page.getByLabel('Litres wanted').fill('1');
    await expect
      .poll(() => step(page, 'Calcium bottle and mix').locator('.making-amount').textContent())
      .toMatch(/^5\.[01] mL$/);
    await page.getByLabel('Litres wanted').fill('2');
    const hardness = async (): Promise<number> =>
      Number.parseFloat((await figure(page, 'Hardness').textContent()) ?? '');
    await expect.poll(hardness).toBeCloseTo(35, 0);

    await page.getByRole('group', { name: 'Calcium bottle' }).getByLabel('Came out as').fill('12');
    await expect.poll(hardness).toBeGreaterThan(38);
    expect(await step(page, 'Calcium bottle and mix').locator('.making-off').textContent()).toMatch(
      /20\.0 % over/,
    );
    expect(await page.locator('.making-side .notice').textContent()).toContain('Nothing is lost');

    await syncSays(page, /saved/i);
    await page.reload();
    await page.locator('.making-step').first().waitFor();
    expect(await page.locator('.making-progress').textContent()).toMatch(/^1 of \d steps done$/);
    expect(
      await page.getByRole('group', { name: 'Calcium bottle' }).getByLabel('Came out as').inputValue(),
    ).toBe('12');

    // More of everything is the same water again.
    await page.getByRole('button', { name: 'Make that much' }).click();
    await expect.poll(hardness).toBeLessThan(35.6);
    expect(await page.getByLabel('Litres wanted').inputValue()).toBe('2.4');

    await page.getByRole('group', { name: 'Calcium bottle' }).getByLabel('Came out as').fill('ten');
    expect(await page.locator('.making-given .field-problem').textContent()).toContain(
      '“ten” is not a number',
    );
    expect(watch).toEqual(CLEAN);
    await context.close();
  });

  it('takes a good reading, refuses a bad one and says what would read like it', async () => {
    const { context, watch } = await device(browser);
    const page = await atTheTable(context, server.url);
    const shows = page.getByLabel('It shows');
    const verdict = page.locator('.making-verdict');
    await page.locator('.making-expected').waitFor();
    const expected = Number.parseFloat((await page.locator('.making-expected').textContent()) ?? '');
    await shows.fill(String(expected));
    await expect.poll(() => verdict.textContent()).toContain('Accepted');
    await shows.fill(String(Math.round(expected * 1.4)));
    await expect.poll(() => verdict.textContent()).toContain('Too high');
    expect(await verdict.textContent()).toContain('another scale');
    await shows.fill(String(Math.round(expected * 0.72)));
    await expect.poll(() => verdict.textContent()).toMatch(/Too low[\s\S]*without/);
    await page.getByLabel('Sample').fill('60');
    await expect.poll(() => page.locator('.making-side').textContent()).toContain('above 36 °C');
    await page.getByLabel('Sample').fill('21');
    await shows.fill(String(Math.round(expected * 0.72)));
    expect(watch).toEqual(CLEAN);
    await context.close();
  });

  it.each(Object.keys(VIEWPORTS) as (keyof typeof VIEWPORTS)[])('fits a %s', async (size) => {
    const touch = size !== 'desktop';
    const { context, watch } = await device(browser, {
      viewport: VIEWPORTS[size],
      hasTouch: touch,
      isMobile: size === 'phone',
    });
    const page = await atTheTable(context, server.url);
    await page.locator('.making-tick').nth(0).click();
    await page.locator('.making-tick').nth(1).click();
    await page.getByLabel('It shows').fill('63');
    await page.locator('.making-verdict').waitFor();
    await page.screenshot({ path: join(SCREENSHOTS, `making-${size}.png`), fullPage: true });
    expect(
      await page.evaluate(() => document.documentElement.scrollWidth - screen.width),
    ).toBeLessThanOrEqual(0);
    for (const box of await page.locator('.making-tick').all())
      expect((await box.boundingBox())!.height).toBeGreaterThanOrEqual(64);
    expect(watch).toEqual(CLEAN);
    await context.close();
  });
});

/** Sizes of paper [pt], as a page box in a file holds them. */
const PAPERS = { a4: [595, 842], a5: [420, 595], letter: [612, 792] } as const;
/** What stands outside the printed part of a page, both sides together [mm]. */
const MARGINS_MM = { a4: [28, 26], a5: [20, 18], letter: [28, 26] } as const;
const PX_PER_MM = 96 / 25.4;

describe.runIf(BROWSER)('weigh sheets and labels on paper', { timeout: 120_000 }, () => {
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

  it.each(Object.keys(PAPERS) as (keyof typeof PAPERS)[])(
    'stand on %s: every page the right size, all text there, none below 9 pt, nothing cut off',
    async (paper) => {
      const { context, watch } = await device(browser, { colorScheme: 'dark' });
      const page = await atTheTable(context, server.url);
      await page.getByRole('button', { name: 'Labels and weigh sheet' }).click();
      await page.getByRole('radio', { name: new RegExp(`^${paper}$`, 'i') }).check({ force: true });
      await page.locator(`.paper-preview .paper-${paper} .paper-label`).first().waitFor();
      await page.screenshot({ path: join(SCREENSHOTS, `paper-${paper}.png`), fullPage: true });

      const pdf = await page.pdf({
        preferCSSPageSize: true,
        printBackground: true,
        path: join(SCREENSHOTS, `paper-${paper}.pdf`),
      });
      const file = readPdf(pdf);
      // Two waters, each a sheet, and five labels; on small paper a sheet runs on to a second page, and labels stand two on one.
      if (paper === 'a5') expect(file.pages.length).toBeLessThanOrEqual(2 * 2 + 3);
      else expect(file.pages).toHaveLength(3);
      // No page without anything on it.
      for (const text of file.perPage) expect(text.trim()).not.toBe('');
      for (const { width, height } of file.pages) {
        expect(Math.abs(width - PAPERS[paper][0])).toBeLessThan(1.5);
        expect(Math.abs(height - PAPERS[paper][1])).toBeLessThan(1.5);
      }

      // The same layout as the printer's: print rules, in a window as wide as what is printed on.
      const [wide, high] = PAPERS[paper].map(
        (pt, i) => ((pt / 72) * 25.4 - MARGINS_MM[paper][i]!) * PX_PER_MM,
      ) as [number, number];
      await page.setViewportSize({ width: Math.floor(wide), height: Math.floor(high) });
      await page.emulateMedia({ media: 'print' });
      const seen = await page.evaluate(() => {
        const root = document.querySelector('.paper-root')!;
        const shown = [...document.body.children].filter((child) => child.getClientRects().length > 0);
        const texts = [...root.querySelectorAll<HTMLElement>('*')].filter((element) =>
          [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent!.trim() !== ''),
        );
        return {
          others: shown.filter((child) => child !== root).map((child) => child.className),
          said: texts.flatMap((element) =>
            [...element.childNodes]
              .filter((node) => node.nodeType === 3)
              .map((node) => node.textContent ?? ''),
          ),
          small: texts
            .map((element) => (Number.parseFloat(getComputedStyle(element).fontSize) * 72) / 96)
            .filter((pt) => pt < 9 - 1e-6),
          dark: texts.map((element) => getComputedStyle(element).color),
          beyond: [...root.querySelectorAll('*')]
            .filter((element) => {
              const { left, right } = element.getBoundingClientRect();
              return left < -0.5 || right > innerWidth + 0.5;
            })
            .map((element) => element.className),
          cut: [...root.querySelectorAll<HTMLElement>('*')]
            .filter((element) => element.scrollWidth > element.clientWidth + 1 && element.clientWidth > 0)
            .map((element) => `${element.tagName} ${element.className}`),
          tallest: Math.max(
            ...[...root.querySelectorAll('.paper-label, .paper-block, .paper-steps tr, .paper-head')].map(
              (element) => element.getBoundingClientRect().height,
            ),
          ),
        };
      });
      // Every letter that stands in the pages stands in the file.
      const bare = (text: string): string => text.replaceAll(/\s/g, '');
      expect(seen.said.length).toBeGreaterThan(80);
      for (const text of seen.said) expect(bare(file.text)).toContain(bare(text));
      expect(seen.others).toEqual([]);
      expect(seen.small).toEqual([]);
      expect(seen.beyond).toEqual([]);
      expect(seen.cut).toEqual([]);
      // What must not break across pages fits on one.
      expect(seen.tallest).toBeLessThan(high);
      for (const text of [
        'Water 75',
        'Water 90',
        'Potassium bicarbonate',
        'Concentrate. Never drink it.',
        'Calcium bottle',
        'Food-grade salts only',
        'Keep from children',
        'ask your local poison centre',
        'Made on',
        'Use by',
        '2026-12-18',
        'mg/L as CaCO₃',
        'CaCl₂·2H₂O',
      ])
        expect(bare(file.text)).toContain(bare(text));
      // Ink on white whatever the theme: every colour dark.
      for (const colour of new Set(seen.dark)) {
        const [r, g, b] = colour.match(/\d+/g)!.map(Number);
        expect(Math.max(r!, g!, b!), colour).toBeLessThan(110);
      }
      expect(watch).toEqual(CLEAN);
      await context.close();
    },
  );

  it('say so when the meter refused the batch', async () => {
    const { context, watch } = await device(browser);
    const page = await atTheTable(context, server.url);
    await page.getByLabel('It shows').fill('120');
    await page.locator('.making-verdict', { hasText: 'Too high' }).waitFor();
    await page.getByRole('button', { name: 'Labels and weigh sheet' }).click();
    await page.locator('.paper-preview .paper-label').first().waitFor();
    const { text } = readPdf(await page.pdf({ preferCSSPageSize: true }));
    expect(text.match(/The meter refused this batch: do not use it/g)).toHaveLength(2);
    // Back at the steps, a good reading takes it away again.
    await page.getByRole('button', { name: 'Back to the steps' }).click();
    await page.getByLabel('It shows').fill('64');
    await page.locator('.making-verdict', { hasText: 'Accepted' }).waitFor();
    await page.getByRole('button', { name: 'Labels and weigh sheet' }).click();
    await page.locator('.paper-preview .paper-label').first().waitFor();
    expect(readPdf(await page.pdf({ preferCSSPageSize: true })).text).not.toContain('refused');
    expect(watch).toEqual(CLEAN);
    await context.close();
  });
});
