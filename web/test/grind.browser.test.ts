import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import {
  BROWSER,
  device,
  launch,
  openApp,
  PATIENCE,
  SCREENSHOTS,
  serveApp,
  syncSays,
  type TestServer,
  VIEWPORTS,
} from './harness.ts';

const PLAN = 'Four pours, cool then hot';

/** A figure of the open measurement, once it is there. */
async function figure(page: Page, name: string): Promise<number> {
  const value = page.locator(`[data-figure="${name}"] .grind-figure-value`);
  await value.waitFor();
  return Number.parseFloat(((await value.textContent()) ?? '').replaceAll(',', ''));
}

/** A picture of dark discs on a white sheet, drawn in the page: rows of one diameter each [px], well apart. */
async function pictureOfDiscs(page: Page, diameters: readonly number[], each: number): Promise<Buffer> {
  const url = await page.evaluate(
    ([sizes, count]) => {
      const canvas = document.createElement('canvas');
      canvas.width = 1_200;
      canvas.height = 900;
      const pen = canvas.getContext('2d')!;
      pen.fillStyle = '#f4f4f2';
      pen.fillRect(0, 0, 1_200, 900);
      pen.fillStyle = '#2e2620';
      sizes.forEach((diameter, row) => {
        for (let i = 0; i < count; i++) {
          pen.beginPath();
          const x = 60 + (1_080 * (i + 0.5)) / count + (row % 2) * 7;
          pen.arc(x, 80 + (740 * (row + 0.5)) / sizes.length, diameter / 2, 0, 7);
          pen.fill();
        }
      });
      return canvas.toDataURL('image/png');
    },
    [[...diameters], each] as const,
  );
  return Buffer.from(url.slice(url.indexOf(',') + 1), 'base64');
}

describe.runIf(BROWSER)('grinds', { timeout: 180_000 }, () => {
  let browser: Browser;
  let server: TestServer;

  beforeAll(async () => {
    browser = await launch();
    await mkdir(SCREENSHOTS, { recursive: true });
  });
  beforeEach(async () => {
    server = await serveApp();
  });
  afterEach(async () => {
    await Promise.all(browser.contexts().map((context) => context.close()));
    await server.dispose();
  });
  afterAll(async () => {
    await browser.close();
  });

  it('are sieved, with the problem at the field and nothing lost', async () => {
    const { context, watch } = await device(browser);
    const page = await openApp(context, server.url, '#/grind');
    await page.locator('.size-band').nth(3).waitFor();
    expect(await figure(page, 'd50_um')).toBeCloseTo(582, -1);
    expect(await page.locator('[data-figure="d50_um"] .grind-figure-band').textContent()).toMatch(
      /^\d+ to \d+$/,
    );

    await page.getByRole('button', { name: 'Sieves', exact: true }).click();
    await page.locator('.grind-remark-problem', { hasText: 'Nothing was found on the sieves' }).waitFor();
    await page.getByLabel('Put on the stack').fill('31');
    const on = (row: number): string => `Weighed, row ${row}`;
    for (const [row, mass] of [
      [1, '0.3'],
      [2, '4.2'],
      [3, '9.6'],
      [4, '7.3'],
      [5, '3.6'],
    ] as const)
      await page.getByLabel(on(row), { exact: true }).fill(mass);
    await page.getByLabel('Weighed: Pan', { exact: true }).fill('4,4');
    await page.locator('.sieve-table tfoot', { hasText: '29.40' }).waitFor();
    await page.locator('.grind-remark', { hasText: 'is missing' }).waitFor();
    // The stack is that of the last sieving: 14.1 of 29.4 g lie above 1180 µm, 7.3 more above 1000 µm; straight in the logarithm.
    const median = 1180 * (1000 / 1180) ** (0.6 / 7.3);
    await expect.poll(async () => Math.abs((await figure(page, 'd50_um')) - median)).toBeLessThan(1);

    await page.getByLabel('Opening, row 3', { exact: true }).fill('1500');
    await page.locator('.field-problem', { hasText: 'listed from the coarsest down' }).waitFor();
    await page.getByLabel('Opening, row 3', { exact: true }).fill('1180');
    await page.getByLabel(on(2), { exact: true }).fill('4.2g');
    await page.locator('.field-problem', { hasText: 'it must be a number' }).waitFor();
    // What is typed is written down at once, but not within the same breath.
    await page.waitForTimeout(1_500);
    await page.reload();
    await page.locator('.field-problem').first().waitFor();
    expect(await page.getByLabel(on(2), { exact: true }).inputValue()).toBe('4.2g');
    await page.getByLabel(on(2), { exact: true }).fill('4.2');
    await expect.poll(() => page.locator('.field-problem').count()).toBe(0);
    await syncSays(page, 'Saved');
    expect(watch).toEqual({ violations: [], strays: [], errors: [] });
  });

  it('are read from a table as it comes, and a broken one says what to do', async () => {
    const { context, watch } = await device(browser);
    const page = await openApp(context, server.url, '#/grind/sizes/table');
    const paste = page.getByLabel('Table as text');
    await paste.fill('Size (µm);Volume (%)\n100;12,5\n400;-3\n800;60');
    await page.locator('.grind-problems', { hasText: 'negative' }).waitFor();
    await page.reload();
    expect(await paste.inputValue()).toContain('400;-3');
    await paste.fill(
      'Size (µm);Undersize (%)\n50;4,0\n100;10,5\n300;14,0\n500;31,5\n700;58,0\n1000;84,5\n1400;97,0\n2000;100',
    );
    await page.locator('.grind-remark', { hasText: 'is read as sizes' }).waitFor();
    await page.locator('.grind-rows li', { hasText: '58.00 %' }).waitFor();
    await page.getByLabel('Name', { exact: true }).fill('Table of the test');
    await page.getByRole('button', { name: 'Keep as a measurement' }).click();
    await page.locator('.sizing-row[data-open]', { hasText: 'Table of the test' }).waitFor();
    // Between 500 and 700 µm, 18.5 of 26.5 % on, in the logarithm of size.
    await expect.poll(() => figure(page, 'd50_um')).toBeCloseTo(500 * (700 / 500) ** (18.5 / 26.5), -1);
    await page.locator('summary', { hasText: 'As it came' }).click();
    expect(await page.locator('.grind-text').textContent()).toContain('300;14,0');
    expect(watch).toEqual({ violations: [], strays: [], errors: [] });
  });

  it('are photographed: found, taken out by a touch, and kept', async () => {
    const { context, watch } = await device(browser, { viewport: VIEWPORTS.tablet, hasTouch: true });
    const page = await openApp(context, server.url, '#/grind/sizes/photo');
    const buffer = await pictureOfDiscs(page, [24, 32, 40], 16);
    await page
      .locator('.grind-file input')
      .setInputFiles({ name: 'discs.png', mimeType: 'image/png', buffer });
    await page.locator('.picture img').waitFor();
    await page.getByText('Known pixel').click();
    await page.getByLabel('A pixel is').fill('20');
    await page.getByRole('button', { name: 'Find the grains', exact: true }).click();
    await page.locator('[role="status"]', { hasText: '48 grains counted.' }).waitFor();
    const median = page.locator('.grind-pairs div', { hasText: 'D50' }).locator('dd');
    // Volumes go as 24³ : 32³ : 40³ = 12 : 29 : 58, so that the median lies among the largest, 40 px of 20 µm.
    expect(Math.abs(Number.parseFloat((await median.textContent()) ?? '') / 800 - 1)).toBeLessThan(0.05);
    const box = (await page.locator('.picture svg').boundingBox())!;
    const scale = box.width / 1_200;
    await page.touchscreen.tap(
      box.x + (60 + 1_080 * (3.5 / 16)) * scale,
      box.y + (80 + 740 * (2.5 / 3)) * scale,
    );
    await page.locator('[role="status"]', { hasText: '47 grains counted, 1 taken out by hand.' }).waitFor();
    expect(await page.locator('.outline[data-out]').count()).toBe(1);
    await page.screenshot({ path: join(SCREENSHOTS, 'grind-photo-tablet.png'), fullPage: true });
    // A second picture of the same grounds counts together with the first.
    const second = await pictureOfDiscs(page, [28, 36], 12);
    await page.getByText('Add a picture of the same grounds…').waitFor();
    await page
      .locator('.grind-file', { hasText: 'Add a picture' })
      .locator('input')
      .setInputFiles({ name: 'more.png', mimeType: 'image/png', buffer: second });
    await page.locator('.grain-list', { hasText: 'discs.png' }).waitFor();
    await page.getByRole('button', { name: 'Find the grains', exact: true }).click();
    await page
      .locator('[role="status"]', {
        hasText: '71 grains counted, 1 taken out by hand. In 2 pictures together.',
      })
      .waitFor();
    await page.getByRole('button', { name: 'Keep as a measurement' }).click();
    await page.locator('.grain-sheet .grain[data-out]').waitFor();
    await page.getByText('71 of 72 grains are counted').waitFor();
    await page.locator('.grain-list button', { hasText: 'Put back' }).first().click();
    await page.getByText('72 of 72 grains are counted').waitFor();
    // The pictures were kept with it, here and at the server.
    await syncSays(page, 'Saved');
    await page.getByRole('button', { name: 'Show the picture' }).last().click();
    const image = page.locator('.grain-sheet image');
    await image.waitFor({ state: 'attached' });
    expect(await image.getAttribute('width')).toBe('1200');
    await page.screenshot({ path: join(SCREENSHOTS, 'grind-photo-kept-tablet.png'), fullPage: true });
    expect(watch).toEqual({ violations: [], strays: [], errors: [] });
  });

  it('are mixed with the cup following the slider, and go into a plan', async () => {
    const { context, watch } = await device(browser);
    const page = await openApp(context, server.url, '#/grind/mix');
    const strength = page.locator('.mix-cup [data-figure="strength"] dd');
    await expect.poll(() => strength.textContent(), { timeout: 30_000 }).toMatch(/^\d\.\d\d/);
    await page.locator('.pure-table:not([data-stale])').waitFor({ timeout: 30_000 });
    const before = await strength.textContent();
    const slider = page.getByRole('slider', { name: 'Share of part 1 in the mix' });
    await slider.focus();
    const began = performance.now();
    for (let i = 0; i < 20; i++) await page.keyboard.press('ArrowLeft');
    await expect.poll(() => strength.textContent()).not.toBe(before);
    const took = performance.now() - began;
    console.info(`20 steps of the slider and a new cup: ${took.toFixed(0)} ms`);
    expect(took).toBeLessThan(2_000 * PATIENCE);
    expect(await page.getByLabel('Share', { exact: true }).first().inputValue()).toBe('55');
    expect(await page.locator('.weigh-table tbody tr').first().textContent()).toContain('8.30 g');
    await page.getByRole('button', { name: 'Set this mix on the plan' }).click();
    await page.locator('.notice', { hasText: `${PLAN} grinds this mix now` }).waitFor();
    await page.getByRole('link', { name: 'See it in the plan' }).click();
    await page.locator('.share-row .select-value', { hasText: '7.0, above 250 µm' }).waitFor();
    await syncSays(page, 'Saved');
    expect(watch).toEqual({ violations: [], strays: [], errors: [] });
  });

  it('are set on a dial for a size, after cleaning, and by brews of another grinder', async () => {
    const { context, watch } = await device(browser);
    const page = await openApp(context, server.url, '#/grind/grinder');
    const answer = page.locator('.dial-answer');
    await page.locator('.dial-next').waitFor();
    await page.getByLabel('D50', { exact: true }).fill('760');
    await answer.waitFor();
    expect(Number.parseFloat((await answer.locator('strong').textContent()) ?? '')).toBeCloseTo(8, 0);
    await page.getByText('after cleaning', { exact: true }).click();
    await page.getByLabel('Dial', { exact: true }).fill('8.5');
    await page.getByLabel('D50', { exact: true }).fill('760');
    await page.locator('.dial-answer', { hasText: 'Zero has moved by 0.' }).waitFor();
    await page.getByRole('button', { name: /^Note: burrs touch at 0\.\d+ now/ }).click();
    await page.locator('.notice', { hasText: 'Noted in the record' }).waitFor();
    await page.locator('summary', { hasText: 'From another grinder' }).click();
    await page.getByText('a few brews', { exact: true }).click();
    const fill = (label: string, nth: number, value: string): Promise<void> =>
      page.getByLabel(label, { exact: true }).nth(nth).fill(value);
    await fill('Drawdown', 0, '150');
    await fill('Drawdown', 1, '170');
    await fill('Drawdown', 2, '130');
    await fill('Dial', 1, '7');
    await fill('Dial', 2, '9');
    await page.getByRole('button', { name: 'Work it out' }).click();
    const found = page.locator('.grind-stack .dial-answer strong').last();
    await expect.poll(async () => Number.parseFloat((await found.textContent()) ?? '')).toBeCloseTo(8, 0);
    expect(watch).toEqual({ violations: [], strays: [], errors: [] });
  });

  it('have a card to print alone, and every page stands at every size', async () => {
    const { context, watch } = await device(browser);
    const page = await openApp(context, server.url, '#/grind/guide');
    await page.evaluate(() => {
      globalThis.print = () => document.body.setAttribute('data-printed', 'yes');
    });
    await page.getByRole('button', { name: 'Print the card' }).click();
    await page.locator('body[data-printed]').waitFor();
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.card-root img').isVisible()).toBe(true);
    expect(await page.locator('.app').isVisible()).toBe(false);
    // 60 mm between marks and what stands around them: 60 + 2 · (3.5 + 3) modules of 0.8 mm = 70.4 mm at 96 px an inch.
    const width = await page.locator('.card-root img').evaluate((img) => img.getBoundingClientRect().width);
    expect((width / 96) * 25.4).toBeCloseTo(70.4, 0);
    await page.emulateMedia({ media: 'screen' });
    await page.evaluate(() => dispatchEvent(new Event('afterprint')));
    for (const [size, viewport] of Object.entries(VIEWPORTS))
      for (const desk of ['sizes', 'mix', 'grinder', 'guide']) {
        await page.setViewportSize(viewport);
        await page.goto(`${server.url}#/grind/${desk}`);
        await page.locator('.grind-page[aria-current]').waitFor();
        await page.waitForTimeout(1_200);
        const over = await page.evaluate(() => document.documentElement.scrollWidth - screen.width);
        expect(over, `${desk} on a ${size} runs over its edge`).toBeLessThanOrEqual(0);
        await page.screenshot({ path: join(SCREENSHOTS, `grind-${desk}-${size}.png`), fullPage: true });
      }
    expect(watch).toEqual({ violations: [], strays: [], errors: [] });
  });
});
