import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import {
  BROWSER,
  device,
  launch,
  openApp,
  PATIENCE,
  readyForOffline,
  serveApp,
  syncSays,
  type TestServer,
  type Watch,
} from './harness.ts';

const field = (page: Page, label: string) => page.getByRole('textbox', { name: label, exact: true });

/** Waits for something that takes a pause of typing and a way over the wire. */
const soon = <T>(read: () => T) => expect.poll(read, { timeout: 15_000 });

/** Opens the first venue of the demo. */
async function openVenue(page: Page, url: string): Promise<void> {
  await page.goto(`${url}#/shelf/venue`);
  await page.getByRole('link', { name: 'Training room' }).click();
  await field(page, 'Air temperature').waitFor();
}

/** Opens the first venue in a new page of a context. */
async function venuePage(context: Parameters<typeof openApp>[0], url: string): Promise<Page> {
  const page = await openApp(context, url);
  await openVenue(page, url);
  return page;
}

async function expectValue(page: Page, label: string, value: string): Promise<void> {
  await page.waitForFunction(
    ([name, wanted]) =>
      [...document.querySelectorAll('label')].some(
        (text) =>
          text.textContent === name &&
          (document.getElementById(text.htmlFor) as HTMLInputElement | null)?.value === wanted,
      ),
    [label, value] as const,
  );
}

describe.runIf(BROWSER)('the replica in a browser', { timeout: 60_000 }, () => {
  let browser: Browser;
  let server: TestServer;
  const watches: Watch[] = [];
  const newDevice = async () => {
    const made = await device(browser);
    watches.push(made.watch);
    return made.context;
  };

  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(async () => {
    await browser.close();
  });
  beforeEach(async () => {
    server = await serveApp();
  });
  afterEach(async () => {
    for (const context of browser.contexts()) await context.close();
    await server.dispose();
    const seen = watches.splice(0);
    expect(seen.flatMap((watch) => watch.violations)).toEqual([]);
    expect(seen.flatMap((watch) => watch.strays)).toEqual([]);
    expect(seen.flatMap((watch) => watch.errors)).toEqual([]);
  });

  /** The venue as the server has it. */
  const onServer = async (): Promise<Record<string, unknown>> => {
    const { revisions } = await server.running().store.latest(0);
    const found = revisions.find((revision) => (revision.body as { name?: string }).name === 'Training room');
    return (found?.body ?? {}) as Record<string, unknown>;
  };

  it('shows the demo on first start, saves an edit, and has it after a reload', async () => {
    const context = await newDevice();
    const page = await venuePage(context, server.url);
    await syncSays(page, 'Saved');
    await field(page, 'Air temperature').fill('23.5');
    await soon(async () => (await onServer()).air_C).toBe(23.5);
    await syncSays(page, 'Saved');
    await page.reload();
    await expectValue(page, 'Air temperature', '23.5');
  });

  it('keeps what was typed when it is wrong, says so beside the field, and still has it after a reload', async () => {
    const context = await newDevice();
    const page = await venuePage(context, server.url);
    await field(page, 'Air temperature').fill('2l');
    const problem = page.locator('.field-problem');
    await problem.waitFor();
    expect(await problem.textContent()).toBe('Air temperature is "2l"; it must be a number.');
    await page.waitForTimeout(200);
    await page.reload();
    await expectValue(page, 'Air temperature', '2l');
    await field(page, 'Air temperature').fill('24');
    await soon(async () => (await onServer()).air_C).toBe(24);
  });

  it('undoes and redoes, and each is saved', async () => {
    const context = await newDevice();
    const page = await venuePage(context, server.url);
    const before = await field(page, 'Altitude').inputValue();
    await field(page, 'Altitude').fill('250');
    await soon(async () => (await onServer()).altitude_m).toBe(250);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expectValue(page, 'Altitude', before);
    await soon(async () => (await onServer()).altitude_m).toBe(Number(before));
    await page.getByRole('button', { name: 'Redo' }).click();
    await soon(async () => (await onServer()).altitude_m).toBe(250);
  });

  it('opens and edits with the server stopped, and sends when it is back', async () => {
    const context = await newDevice();
    const page = await venuePage(context, server.url);
    await syncSays(page, 'Saved');
    await readyForOffline(page);
    await server.stop();
    await page.reload();
    await expectValue(page, 'Air temperature', await field(page, 'Air temperature').inputValue());
    await syncSays(page, 'Offline: everything is saved');
    await field(page, 'Air temperature').fill('25');
    await syncSays(page, 'Offline: 1 change kept in this browser');
    await field(page, 'Altitude').fill('90');
    await syncSays(page, 'Offline: 2 changes kept in this browser');
    await page.reload();
    await expectValue(page, 'Altitude', '90');
    await server.start();
    await syncSays(page, /^Saved$/);
    expect(await onServer()).toMatchObject({ air_C: 25, altitude_m: 90 });
    const { revisions } = await server.running().store.latest(0);
    const id = (await onServer()).id as string;
    expect(revisions.filter((revision) => revision.document_id === id)).toHaveLength(1);
    expect(await server.running().store.history(id)).toHaveLength(3);
  });

  it('shows in one tab at once what another saved', async () => {
    const context = await newDevice();
    const one = await venuePage(context, server.url);
    const two = await venuePage(context, server.url);
    await field(one, 'Air temperature').fill('26');
    await expectValue(two, 'Air temperature', '26');
    await field(two, 'Air temperature').fill('27');
    await expectValue(one, 'Air temperature', '27');
    await soon(async () => (await onServer()).air_C).toBe(27);
  });

  it('keeps both versions when two tabs change one document, and merges them by field', async () => {
    const context = await newDevice();
    const one = await venuePage(context, server.url);
    const two = await venuePage(context, server.url);
    // The first tab has something wrong in it, so it cannot be saved while the second goes ahead.
    await field(one, 'Air temperature').fill('99');
    await one.locator('.field-problem').waitFor();
    await field(two, 'Relative humidity').fill('71');
    await soon(async () => (await onServer()).humidity_pct).toBe(71);
    await field(one, 'Air temperature').fill('28');
    await one.getByRole('button', { name: 'Choose…' }).waitFor();
    // The document stands as the second tab saved it; the first one's version waits beside it, and survives.
    await expectValue(one, 'Relative humidity', '71');
    await one.reload();
    await one.getByRole('button', { name: 'Choose…' }).click();
    await one.getByRole('button', { name: 'Save the merge' }).click();
    await soon(onServer).toMatchObject({ humidity_pct: 71, air_C: 28 });
    await expectValue(one, 'Air temperature', '28');
    await expectValue(two, 'Air temperature', '28');
    expect(await one.getByRole('button', { name: 'Choose…' }).count()).toBe(0);
  });

  it('keeps both versions when two devices change one document while one of them is away', async () => {
    const away = await newDevice();
    const home = await newDevice();
    const one = await venuePage(away, server.url);
    await syncSays(one, 'Saved');
    await away.setOffline(true);
    await field(one, 'Air temperature').fill('29');
    await syncSays(one, /^Offline: 1 change/);
    const two = await venuePage(home, server.url);
    await field(two, 'Air temperature').fill('17');
    await soon(async () => (await onServer()).air_C).toBe(17);
    await away.setOffline(false);
    const choose = one.getByRole('button', { name: 'Choose…' });
    await choose.waitFor();
    await expectValue(one, 'Air temperature', '17');
    await choose.click();
    await one.getByRole('button', { name: 'Keep mine' }).click();
    await soon(async () => (await onServer()).air_C).toBe(29);
    await expectValue(two, 'Air temperature', '29');
    const history = await server.running().store.history((await onServer()).id as string);
    expect(history.map((revision) => (revision.body as { air_C: number }).air_C).slice(-2)).toEqual([17, 29]);
  });

  it('takes the demo away with one press and brings it back from the archive', async () => {
    const context = await newDevice();
    const page = await openApp(context, server.url, '#/shelf/venue');
    await syncSays(page, 'Saved');
    await page.getByRole('button', { name: 'Remove the demo' }).click();
    await page.getByRole('heading', { name: 'No campaign yet' }).waitFor();
    await syncSays(page, /^Saved$/);
    await page.getByRole('button', { name: 'Archived…' }).click();
    await page.getByRole('button', { name: /^Bring back/ }).click();
    await page.keyboard.press('Escape');
    await page.getByRole('link', { name: 'Training room' }).waitFor();
  });

  it('is ready to work within 1.5 s of the first visit', async () => {
    const times: number[] = [];
    // The best of a few first visits, each in a profile of its own: what other programs take away is not ours.
    for (let run = 0; run < 3 && !times.some((time) => time < 1_500); run++) {
      const context = await newDevice();
      const page = await context.newPage();
      await page.addInitScript(markWhenThere, '.shelf-link');
      await page.goto(`${server.url}#/shelf/venue`);
      await page.getByRole('link', { name: 'Training room' }).waitFor();
      times.push(await page.evaluate(() => performance.getEntriesByName('there')[0]!.startTime));
      await context.close();
    }
    console.log(`first visit to a list of venues [ms]: ${times.map(Math.round).join(', ')}`);
    expect(Math.min(...times)).toBeLessThan(1_500 * PATIENCE);
  });
});

/** In the page: notes the moment, since the visit began, at which something matches. */
function markWhenThere(selector: string): void {
  const observer = new MutationObserver(() => {
    if (!document.querySelector(selector)) return;
    performance.mark('there');
    observer.disconnect();
  });
  observer.observe(document, { childList: true, subtree: true });
}
