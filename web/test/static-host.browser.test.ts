import { readFile } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import {
  BROWSER,
  device,
  launch,
  openApp,
  readyForOffline,
  serveStatic,
  syncSays,
  type Watch,
} from './harness.ts';

const altitude = (page: Page) => page.getByRole('textbox', { name: 'Altitude', exact: true });

async function openVenue(page: Page, url: string): Promise<void> {
  await page.goto(`${url}#/shelf/venue`);
  await page.getByRole('link', { name: 'Training room' }).click();
  await altitude(page).waitFor();
}

describe.runIf(BROWSER)('the app on a static host, in a sub-folder', { timeout: 60_000 }, () => {
  let browser: Browser;
  let host: Awaited<ReturnType<typeof serveStatic>>;
  let watch: Watch;
  let page: Page;

  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(async () => {
    await browser.close();
  });
  beforeEach(async () => {
    host = await serveStatic();
    const made = await device(browser, { acceptDownloads: true });
    watch = made.watch;
    page = await openApp(made.context, host.url);
  });
  afterEach(async () => {
    for (const context of browser.contexts()) await context.close();
    await host.close();
    expect(watch).toEqual({ violations: [], strays: [], errors: [] });
  });

  it('says that this browser is the store, shows the demo, and keeps an edit', async () => {
    await syncSays(page, 'No server: kept in this browser');
    await page.getByText('There is no server at this address').waitFor();
    await openVenue(page, host.url);
    await altitude(page).fill('321');
    await page.waitForTimeout(900);
    await page.reload();
    await altitude(page).waitFor();
    expect(await altitude(page).inputValue()).toBe('321');
  });

  it('opens again when the host is gone', async () => {
    await syncSays(page, 'No server');
    await readyForOffline(page);
    await host.close();
    await page.reload();
    await openVenue(page, host.url);
    await syncSays(page, 'No server: kept in this browser');
    expect(await page.title()).toBe('Pourline');
  });

  it('exports the campaign as a file and imports it as a copy, changing nothing that is there', async () => {
    await openVenue(page, host.url);
    await altitude(page).fill('654');
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('menuitem', { name: 'Export this campaign…' }).click();
    const file = await (await download).path();
    const archive = JSON.parse(await readFile(file, 'utf8'));
    const venue = archive.documents.find((document: { name: string }) => document.name === 'Training room');
    expect(venue.altitude_m).toBe(654);
    await page.getByRole('button', { name: 'Done' }).click();

    await altitude(page).fill('111');
    await page.waitForTimeout(900);
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('menuitem', { name: 'Import an archive…' }).click();
    await page.locator('input[type=file]').setInputFiles({
      name: 'campaign.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(archive)),
    });
    await page.getByText('1 that differ from what is here').waitFor();
    await page.getByRole('button', { name: 'Import', exact: true }).click();
    await page.getByText(/^Imported \d+ documents\.$/).waitFor();
    await page.getByRole('button', { name: 'Close' }).click();
    await openVenue(page, host.url);
    expect(await altitude(page).inputValue()).toBe('654');
    // The first campaign still has its own figure.
    await page.getByRole('button', { name: /^Campaign:/ }).click();
    expect(await page.getByRole('menuitem', { name: /^Demo/ }).count()).toBe(2);
    await page.keyboard.press('Escape');
  });

  it('says what is wrong with a file and takes nothing from it', async () => {
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('menuitem', { name: 'Import an archive…' }).click();
    const give = (text: string) =>
      page.locator('input[type=file]').setInputFiles({
        name: 'broken.json',
        mimeType: 'application/json',
        buffer: Buffer.from(text),
      });
    await give('{ not json');
    await page.getByText(/^This file could not be read as JSON/).waitFor();
    const broken = { kind: 'venue', version: 1, name: '', air_C: 900 };
    await give(JSON.stringify({ format: 'pourline-archive', version: 1, documents: [broken] }));
    await page.getByText('Nothing was imported').waitFor();
    const sentences = await page.locator('.problems li').allTextContents();
    expect(sentences.some((sentence) => sentence.includes('900'))).toBe(true);
    expect(await page.getByRole('button', { name: 'Import', exact: true }).count()).toBe(0);
  });
});
