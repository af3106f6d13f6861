import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, BrowserContext, Locator, Page } from 'playwright-core';
import decodeQR from 'qr/decode.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  BROWSER,
  device,
  launch,
  openApp,
  PATIENCE,
  SCREENSHOTS,
  serveApp,
  type TestServer,
  VIEWPORTS,
  type Watch,
} from './harness.ts';
import { readPdf } from './pdf-text.ts';

const CLEAN: Watch = { violations: [], strays: [], errors: [] };
/** Names of cups that no phone may ever be sent before closing. */
const SECRETS = ['Obsidian kettle ninety', 'Feldspar kettle eighty'] as const;
const PHONE = { viewport: VIEWPORTS.phone, hasTouch: true, isMobile: true } as const;
/** Everything waits as long as a very busy machine needs. */
const LONG = { timeout: 90_000 };
const TASTERS = ['Ines', 'Joris', 'Kei', 'Lena', 'Milo', 'Ines', 'Noor', 'Oskar'] as const;

/** A device whose every step may take as long as a very busy machine needs. */
async function patient(
  browser: Browser,
  options: Parameters<typeof device>[1] = {},
): Promise<{ context: BrowserContext; watch: Watch }> {
  const made = await device(browser, options);
  made.context.setDefaultTimeout(90_000);
  made.context.setDefaultNavigationTimeout(180_000);
  return made;
}

/** A taster's phone, and everything that ever reached it. */
interface Phone {
  name: string;
  context: BrowserContext;
  page: Page;
  watch: Watch;
  /** Files and pages as they were served. */
  served: string[];
}

/** Opens the taster's page on a phone that writes down all that it hears. */
async function openPhone(browser: Browser, address: string, name: string): Promise<Phone> {
  const { context, watch } = await patient(browser, PHONE);
  const served: string[] = [];
  const page = await context.newPage();
  page.on('response', (response) => {
    if (response.headers()['content-type']?.includes('event-stream')) return;
    response.text().then(
      (text) => served.push(`${response.url()}\n${text}`),
      () => undefined,
    );
  });
  // Streams have no body for the inspector, so that the page's own reading is copied.
  await context.addInitScript(() => {
    const heard: string[] = [];
    Object.assign(globalThis, { heard });
    const plain = globalThis.fetch;
    globalThis.fetch = async (...asked) => {
      const response = await plain(...asked);
      const reader = response.clone().body?.pipeThrough(new TextDecoderStream()).getReader();
      const listen = async (): Promise<void> => {
        for (let part = await reader?.read(); part && !part.done; part = await reader?.read())
          heard.push(part.value);
      };
      listen().catch(() => undefined);
      return response;
    };
  });
  await page.goto(address, { waitUntil: 'commit' });
  return { name, context, page, watch, served };
}

/** Joins: code from the address, name, the questions of care. Whose name is taken is told so, and adds a letter. */
async function takeSeat({ page, name }: Phone, taken = false): Promise<void> {
  const seat = page.getByRole('button', { name: 'Take my seat' });
  await page.locator('#name').fill(name, LONG);
  await page.getByRole('button', { name: 'Next' }).click();
  await page.getByRole('button', { name: 'I am 18 or older' }).click();
  await seat.click();
  if (taken) {
    await page.locator('.line-problem', { hasText: `Somebody called ${name} sits` }).waitFor(LONG);
    await page.getByRole('button', { name: 'Back' }).click();
    await page.locator('#name').fill(`${name} B.`);
    await page.getByRole('button', { name: 'Next' }).click();
    await seat.click();
  }
  await page.locator('.taste-top').waitFor(LONG);
}

/** All that a phone has been told. */
async function toldTo({ page, served }: Phone): Promise<string> {
  const heard = await page.evaluate(() => (globalThis as unknown as { heard: string[] }).heard.join(''));
  return [...served, heard].join('\n');
}

const feed = (host: Page): Locator => host.locator('.feed li');

/** Taps the cup that is named and sends. */
async function answer({ page }: Phone, cup: number): Promise<void> {
  await page.locator('.cups .big').nth(cup).click(LONG);
  await page.getByRole('button', { name: 'Send', exact: true }).click();
}

/** What the host's picture says to a camera, read back from its squares. */
async function readPicture(host: Page): Promise<string> {
  const { size, path } = await host.locator('.qr').evaluate((svg) => ({
    size: Number(svg.getAttribute('viewBox')?.split(' ')[2]),
    path: svg.querySelector('path')?.getAttribute('d') ?? '',
  }));
  const scale = 4;
  const width = size * scale;
  const data = new Uint8Array(width * width * 4).fill(255);
  for (const [, x, y] of path.matchAll(/M(\d+) (\d+)h/g))
    for (let dy = 0; dy < scale; dy++)
      for (let dx = 0; dx < scale; dx++) {
        const at = ((Number(y) * scale + dy) * width + Number(x) * scale + dx) * 4;
        data.fill(0, at, at + 3);
      }
  return decodeQR({ width, height: width, data });
}

/** Sets a triangle for eight out and opens it. */
async function openTriangle(host: Page): Promise<void> {
  await host.getByRole('button', { name: 'New session' }).click(LONG);
  await host.getByLabel('Cup 1', { exact: true }).fill(SECRETS[0], LONG);
  await host.getByLabel('Cup 2', { exact: true }).fill(SECRETS[1]);
  await host.getByLabel('Tasters', { exact: true }).fill('8');
  await host.getByLabel('Repeats', { exact: true }).fill('2');
  await host.getByLabel('Rinse between cups').fill('0');
  await host.getByLabel('Break', { exact: true }).fill('0');
  await host.locator('.finding', { hasText: 'of 16 will show a difference' }).waitFor(LONG);
  await host.locator('.session-step', { hasText: 'Run' }).click();
  await host.getByRole('button', { name: 'Open the session' }).click();
  await host.locator('.join-code').waitFor(LONG);
}

describe.runIf(BROWSER)('a session on eight phones', { timeout: 600_000 }, () => {
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

  it('joins by picture, arrives live, survives offline, a restart, a reload and a leaver, and tells no phone what is in a cup', async () => {
    const { context, watch } = await patient(browser);
    const host = await openApp(context, server.url, '#/panel/sessions');
    await openTriangle(host);
    const link = await readPicture(host);
    const code = (await host.locator('.join-code').textContent()) ?? '';
    expect(link).toContain(`#code=${code}`);

    // Seven come in time, two of them with the same name; the eighth is late.
    const phones: Phone[] = [];
    for (const name of TASTERS.slice(0, 7)) {
      const phone = await openPhone(browser, link, name);
      const taken = phones.some((one) => one.name === name);
      await takeSeat(phone, taken);
      phones.push(phone);
    }
    await expect.poll(() => host.locator('.seat').count(), LONG).toBe(7);
    const names = await host.locator('.seat-name').allTextContents();
    expect(names.filter((name) => name.startsWith('Ines'))).toHaveLength(2);
    await phones[0]!.page.screenshot({ path: join(SCREENSHOTS, 'taste-wait.png') });

    await host.getByRole('button', { name: 'Begin tasting' }).click();
    await host.getByRole('button', { name: 'Poured now' }).first().click(LONG);
    const late = await openPhone(browser, link, TASTERS[7]);
    await takeSeat(late);
    phones.push(late);
    await expect.poll(() => host.locator('.seat').count(), LONG).toBe(8);

    // Every answer of the first round, timed from the press on the phone to the line on the host's screen.
    const times: number[] = [];
    for (const [i, phone] of phones.entries()) {
      await phone.page
        .locator('.cups .big')
        .nth(i % 3)
        .click(LONG);
      const send = phone.page.getByRole('button', { name: 'Send', exact: true });
      const seen = host.waitForFunction((n) => document.querySelectorAll('.feed li').length >= n, i + 1, {
        polling: 'raf',
        ...LONG,
      });
      const began = performance.now();
      await send.click();
      await seen;
      times.push(performance.now() - began);
    }
    console.info(`answers at the host after [ms]: ${times.map((ms) => ms.toFixed(0)).join(' ')}`);
    for (const ms of times) expect(ms).toBeLessThan(PATIENCE === 1 ? 300 : 30_000);
    await phones[1]!.page.screenshot({ path: join(SCREENSHOTS, 'taste-poured.png') });
    await host.screenshot({ path: join(SCREENSHOTS, 'panel-run-desktop.png'), fullPage: true });

    // The host's page is loaded anew: nothing is missing.
    await host.reload();
    await expect.poll(() => feed(host).count(), LONG).toBe(8);
    expect(await host.locator('.join-code').textContent()).toBe(code);

    // The second round: one phone answers without a network, one while the server is down.
    await host.getByRole('button', { name: 'Poured now' }).first().click(LONG);
    for (const phone of phones) await phone.page.locator('.cups .big').first().waitFor(LONG);
    const away = phones[2]!;
    await away.context.setOffline(true);
    await answer(away, 0);
    await away.page.locator('.taste-link', { hasText: '1 kept here' }).waitFor(LONG);
    await away.page.screenshot({ path: join(SCREENSHOTS, 'taste-offline.png') });
    for (const phone of [phones[0]!, phones[1]!]) await answer(phone, 1);
    await expect.poll(() => feed(host).count(), LONG).toBe(10);
    await away.context.setOffline(false);
    await expect.poll(() => feed(host).count(), LONG).toBe(11);
    await away.page.locator('.taste-link', { hasText: /^connected$/ }).waitFor(LONG);

    await server.stop();
    await answer(phones[3]!, 2);
    await phones[3]!.page.locator('.taste-link', { hasText: '1 kept here' }).waitFor(LONG);
    await server.start();
    await expect.poll(() => feed(host).count(), LONG).toBe(12);

    // One leaves; the answers stay.
    const leaver = phones[4]!;
    await leaver.page.getByRole('button', { name: 'More' }).click();
    await leaver.page.getByRole('button', { name: 'Leave the tasting' }).click();
    await leaver.page.getByRole('button', { name: 'Yes, leave' }).click();
    await leaver.page.getByText('You have left').waitFor(LONG);
    await host.locator('.seat[data-state="left"]').waitFor(LONG);
    for (const phone of phones.slice(5)) await answer(phone, 0);
    await expect.poll(() => feed(host).count(), LONG).toBe(15);

    // Until now no phone has been sent what is in the cups, by any way.
    for (const phone of phones) {
      const told = await toldTo(phone);
      expect(told).toContain('/api/taster/');
      for (const secret of [...SECRETS, 'sample_id', 'stronger_id', 'document_id'])
        expect(told.includes(secret), `${phone.name}: ${secret}`).toBe(false);
    }

    await host.getByRole('button', { name: 'Close', exact: true }).click();
    await host.getByRole('button', { name: 'Close and tell' }).click();
    await phones[0]!.page.getByText('The tasting is closed').waitFor(LONG);
    await phones[0]!.page.getByText(SECRETS[0]).first().waitFor(LONG);
    await phones[0]!.page.screenshot({ path: join(SCREENSHOTS, 'taste-closed.png'), fullPage: true });

    await host.getByRole('button', { name: 'See the results' }).click(LONG);
    await host
      .locator('.finding', { hasText: /of 15 right/ })
      .first()
      .waitFor(LONG);
    await host.screenshot({ path: join(SCREENSHOTS, 'panel-results-desktop.png'), fullPage: true });
    expect(watch).toEqual(CLEAN);
    for (const phone of phones) {
      expect(phone.watch).toEqual(CLEAN);
      await phone.context.close();
    }
    await context.close();
  });

  it('refuses a wrong code and a minor with a sentence, and keeps what was typed', async () => {
    const { context } = await patient(browser);
    const host = await openApp(context, server.url, '#/panel/sessions');
    await openTriangle(host);
    const link = await readPicture(host);
    const phone = await openPhone(browser, `${link.split('#')[0]}#code=WRONG1`, 'Pia');
    const { page } = phone;
    await page.locator('#name').fill('Pia', LONG);
    await page.getByRole('button', { name: 'Next' }).click();
    await page.getByRole('button', { name: 'Take my seat' }).click();
    expect(await page.locator('.line-problem').textContent()).toContain('adults only');
    await page.getByRole('button', { name: 'I am 18 or older' }).click();
    await page.getByRole('button', { name: 'Take my seat' }).click();
    await page.locator('.line-problem').filter({ hasText: /code/i }).waitFor(LONG);
    await page.getByRole('button', { name: 'Back' }).click();
    expect(await page.locator('#name').inputValue()).toBe('Pia');
    expect(phone.watch).toEqual(CLEAN);
    await phone.context.close();
    await context.close();
  });
});

describe.runIf(BROWSER)('the panel desk', { timeout: 300_000 }, () => {
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

  it('keeps peach, widens bergamot and honey, says medium acidity, and puts it into the talk', async () => {
    const { context, watch } = await patient(browser);
    const page = await openApp(context, server.url, '#/panel/words');
    const proposal = (word: string) => page.locator('.proposal', { hasText: word });
    await proposal('bergamot')
      .locator('.proposal-to', { hasText: /^citrus$/ })
      .waitFor(LONG);
    await proposal('raw honey')
      .locator('.proposal-to', { hasText: /^sweet finish$/ })
      .waitFor();
    await proposal('white peach')
      .locator('.proposal-action', { hasText: /^keep$/ })
      .waitFor();
    await proposal('acidity level')
      .locator('.proposal-to', { hasText: /^medium$/ })
      .waitFor();
    expect(await proposal('bergamot').locator('.support').allTextContents()).toEqual([
      expect.stringMatching(/2 of 5/),
      expect.stringMatching(/5 of 5/),
    ]);
    await page.locator('.finding', { hasText: 'taste again at that age' }).waitFor();
    await page.locator('.finding', { hasText: 'All shares rest on 5 tasters' }).waitFor();
    const points = async (version: string): Promise<number> =>
      Number.parseFloat((await page.locator(`[data-worth="${version}"]`).textContent()) ?? '');
    expect(await points('proposed')).toBeGreaterThan(await points('now'));
    // Taking the proposal makes it what is said.
    await proposal('bergamot').getByRole('button', { name: 'Say citrus' }).click();
    await page
      .locator('.proposal', { hasText: 'citrus' })
      .locator('.proposal-action', { hasText: /^keep$/ })
      .waitFor(LONG);
    await page.locator('summary', { hasText: 'Into the talk' }).click();
    await page.getByText('{panel:Hot_citrus_found}').waitFor();
    await page.getByRole('button', { name: 'Put them into the talk' }).click();
    await page.getByRole('status').filter({ hasText: 'knows them now' }).waitFor(LONG);
    expect(watch).toEqual(CLEAN);
    await context.close();
  });

  it('says before pouring what a number of cups cannot show', async () => {
    const { context, watch } = await patient(browser);
    const page = await openApp(context, server.url, '#/panel/power');
    await page.getByLabel('Tasters', { exact: true }).fill('2', LONG);
    await page.getByLabel('Sets for each taster').fill('1');
    await page.locator('.finding-cannot', { hasText: 'Not with these cups' }).waitFor(LONG);
    await page.getByLabel('Tasters', { exact: true }).fill('two');
    await page.locator('.field-problem', { hasText: '“two”; it must be from 1 to 200' }).waitFor();
    expect(watch).toEqual(CLEAN);
    await context.close();
  });

  it('prints ballots that fit their paper and tell nothing, and reads them back from the keyboard', async () => {
    const { context, watch } = await patient(browser, { colorScheme: 'dark' });
    const page = await openApp(context, server.url, '#/panel/sessions');
    await page.getByRole('button', { name: 'New session' }).click(LONG);
    await page.getByLabel('Cup 1', { exact: true }).fill(SECRETS[0], LONG);
    await page.getByLabel('Cup 2', { exact: true }).fill(SECRETS[1]);
    await page.locator('.session-step', { hasText: 'On paper' }).click();
    await page.getByRole('button', { name: 'Draw codes' }).click();
    await page.getByLabel('Labels for cups').check({ force: true });
    await page.locator('.ballot-root .code-label').first().waitFor({ state: 'attached' });
    const file = readPdf(await page.pdf({ preferCSSPageSize: true, printBackground: true }));
    // Five ballots and a page of labels.
    expect(file.pages).toHaveLength(6);
    for (const { width, height } of file.pages) {
      expect(Math.abs(width - 595)).toBeLessThan(1.5);
      expect(Math.abs(height - 842)).toBeLessThan(1.5);
    }
    const bare = file.text.replaceAll(/\s/g, '');
    for (const secret of SECRETS) expect(bare).not.toContain(secret.replaceAll(' ', ''));
    const codes = await page.locator('.ballot-root .ballot-code').allTextContents();
    expect(codes).toHaveLength(15);
    for (const code of codes) expect(bare).toContain(code);
    // The pour sheet says what the ballots do not.
    await page.getByLabel('Pour sheet').check({ force: true });
    await page.locator('.ballot-root .pour-code').first().waitFor({ state: 'attached' });
    const sheet = readPdf(await page.pdf({ preferCSSPageSize: true })).text.replaceAll(/\s/g, '');
    expect(sheet).toContain(SECRETS[0].replaceAll(' ', ''));

    const lines = page.locator('[data-line]');
    await lines.nth(0).fill('999');
    await page.locator('.typed-state .plain-problem').first().waitFor();
    for (let i = 0; i < 5; i++) {
      await lines.nth(i).fill(codes[i * 3]!);
      await lines.nth(i).press('Enter');
    }
    await page.getByText('5 of 5 lines can be kept').waitFor();
    await page.getByRole('button', { name: 'Keep the session' }).click();
    await page.getByRole('button', { name: /^Keep it/ }).click();
    await page
      .locator('.finding', { hasText: /of 5 right/ })
      .first()
      .waitFor(LONG);
    expect(watch).toEqual(CLEAN);
    await context.close();
  });

  it.each(Object.keys(VIEWPORTS) as (keyof typeof VIEWPORTS)[])(
    'fits a %s, in the dark as well',
    async (size) => {
      const { context, watch } = await patient(browser, {
        viewport: VIEWPORTS[size],
        hasTouch: size !== 'desktop',
        isMobile: size === 'phone',
        colorScheme: 'dark',
      });
      const page = await openApp(context, server.url, '#/panel/sessions');
      for (const [hash, ready] of [
        ['sessions', '.results .panel-chart'],
        ['words', '.proposal'],
        ['power', '.panel-chart'],
        ['tables', '.finding'],
        ['tasters', '.panel-chart'],
        ['tree', '.tree-row'],
      ] as const) {
        await page.evaluate((to) => {
          location.hash = to;
        }, `#/panel/${hash}`);
        await page.locator(ready).first().waitFor(LONG);
        expect(
          await page.evaluate(() => document.documentElement.scrollWidth - screen.width),
          hash,
        ).toBeLessThanOrEqual(0);
        await page.screenshot({ path: join(SCREENSHOTS, `panel-${hash}-${size}-dark.png`), fullPage: true });
      }
      expect(watch).toEqual(CLEAN);
      await context.close();
    },
  );
});
