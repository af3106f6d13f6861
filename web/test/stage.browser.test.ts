import { execFileSync } from 'node:child_process';
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
import { readPdf } from './pdf-text.ts';

const CLEAN = { violations: [], strays: [], errors: [] };
/** What the worker computes comes later than what the page knows; a busy machine takes its time. */
const PATIENT = { timeout: 90_000, interval: 100 };

/** Opens a page of the desk and waits until the worker has answered. */
async function stagePage(page: Page, name: string): Promise<void> {
  await page.evaluate((to) => {
    location.hash = `#/stage/${to}`;
  }, name);
  await page.locator(`.stage-page[aria-current][href*="/${name}"]`).waitFor();
}

const textOf = async (page: Page, selector: string): Promise<string> =>
  (await page
    .locator(selector)
    .first()
    .textContent({ timeout: 1_000 })
    .catch(() => null)) ?? '';
const remarks = (page: Page): Promise<string> => textOf(page, '.stage-answer .stage-remarks');
const figures = (page: Page): Promise<string> => textOf(page, '.stage-figures');

describe.runIf(BROWSER)('the desk of the stage', { timeout: 240_000 }, () => {
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

  it('schedules three brewers, says why twelve do not fit, and what a weak kettle and no time mean', async () => {
    const { context, watch } = await device(browser);
    const page = await openApp(context, server.url, '#/stage/schedule');
    await expect.poll(() => figures(page), PATIENT).toContain('Yes, 3');
    expect(await page.locator('.lane-brewer').count()).toBe(3);
    expect(await page.locator('.lane-brewer .block-pour').count()).toBe(12);
    expect(await page.locator('.stage-cup-label').count()).toBe(3);

    // As the plan has it and by the own flow: 50 g ÷ 4 g/s + 3 s = 15.5 s, three times more than the 30 s between pours.
    await page.getByLabel('Pours may be later by').fill('0');
    await page.getByLabel('Own flow').fill('4');
    await expect
      .poll(() => remarks(page), PATIENT)
      .toContain('15.5 s of pouring and moving × 3 brewers = 46.5 s');
    expect(await figures(page)).toMatch(/Not 3[\s\S]*Most brewers[\s\S]*1[\s\S]*proven/);
    expect(await remarks(page)).toMatch(/3 brewers fit with 46\.5 s from pour to pour/);
    expect(await remarks(page)).toMatch(/3 brewers fit when pouring at 7\.15 g\/s or faster/);

    await page.getByLabel('Brewers', { exact: true }).fill('12');
    await expect.poll(() => remarks(page), PATIENT).toContain('12 brewers cannot be poured like this');
    await page.getByLabel('Time there is').fill('0');
    await expect.poll(() => remarks(page), PATIENT).toContain('the limit is 0 s');
    expect(await remarks(page)).not.toMatch(/NaN|undefined|Infinity|[{}]/);

    await page.getByLabel('Power', { exact: true }).first().fill('100');
    await expect
      .poll(() => page.locator('.panel', { hasText: 'Kettles and power' }).textContent(), PATIENT)
      .toMatch(/Hot kettle (needs \d+:\d\d|never gets)[\s\S]*with \d+ W or more/);
    expect(watch).toEqual(CLEAN);
    await context.close();
  });

  it('places a talk while it is typed, and shows which number is true', async () => {
    const { context, watch } = await device(browser);
    const page = await openApp(context, server.url, '#/stage/talk');
    await page.locator('.stage-answer').waitFor({ timeout: 90_000 });
    const pieces = await page.locator('.block-say').count();
    expect(pieces).toBe(await page.locator('.stage-piece').count());
    await page.getByRole('button', { name: 'Add a piece' }).click();
    const last = page.locator('.stage-piece').last();
    await last.locator('textarea').fill('One sentence more, so that the clock has something to carry.');
    await expect.poll(() => page.locator('.block-say').count(), PATIENT).toBe(pieces + 1);
    await expect
      .poll(() => last.locator('.stage-piece-time').textContent(), PATIENT)
      .toMatch(/^\d+:\d\d[1-9]/);

    await last.locator('textarea').fill('Here are {plan:dose_g=15} grams.');
    await expect.poll(() => last.textContent(), PATIENT).toContain('15 is no longer true');
    expect(await last.textContent()).toContain('planned 14');
    await expect.poll(() => page.locator('.block-say[data-wrong]').count(), PATIENT).toBe(1);
    await last.locator('textarea').fill('');
    await last.getByRole('button', { name: 'Insert a number' }).click();
    await page
      .getByRole('menuitem', { name: /^Dose: 14/ })
      .first()
      .click();
    await expect.poll(() => last.locator('textarea').inputValue(), PATIENT).toMatch(/^\{\w+:dose_g:\d\}$/);
    await expect.poll(() => last.textContent(), PATIENT).toContain('is true');
    expect(await page.locator('.panel', { hasText: 'What can be cut' }).textContent()).toContain('The hill');
    expect(watch).toEqual(CLEAN);
    await context.close();
  });

  it('holds the run against the rules as they are typed, and prices choices with their spread', async () => {
    const { context, watch } = await device(browser);
    const page = await openApp(context, server.url, '#/stage/rules');
    const check = page.locator('.panel', { hasText: 'This run against the rules' });
    await expect.poll(() => check.textContent(), PATIENT).toContain('Own water: allowed');
    await page.getByRole('button', { name: /Own water$/ }).click();
    await page.getByRole('option', { name: 'not allowed', exact: true }).click();
    await expect.poll(() => check.textContent(), PATIENT).toMatch(/Not allowed: 1\s*Own water: not allowed/);
    expect(await page.locator('.stage-penalty svg').getAttribute('aria-label')).toContain(
      '10.0 after 10 s, 30.0 after 30 s',
    );
    const worth = page.locator('.panel', { hasText: 'What is it worth?' });
    // 0.5 of a doubled category from three judges: 1.4 × 2 × 0.5 ÷ 1.6 = 0.875.
    expect(await worth.textContent()).toMatch(/0\.8[78] ± 1\.05/);
    expect(watch).toEqual(CLEAN);
    await context.close();
  });

  it('says whether it will fit, from runs, and where the grams go', async () => {
    const { context, watch } = await device(browser);
    const page = await openApp(context, server.url, '#/stage/overrun');
    await expect
      .poll(
        () =>
          page
            .locator('.stage-chances')
            .textContent()
            .catch(() => ''),
        PATIENT,
      )
      .toMatch(/\d %/);
    expect(await page.locator('.stage').textContent()).toContain('Where it slips');
    await stagePage(page, 'grams');
    await expect.poll(() => figures(page), PATIENT).toMatch(/1,720\sg[\s\S]*1,113\sg[\s\S]*607\sg[\s\S]*34/);
    await page.getByRole('button', { name: 'Add a use' }).click();
    await page.getByLabel('Each', { exact: true }).last().fill('72');
    await expect.poll(() => figures(page), PATIENT).toMatch(/535\sg[\s\S]*30/);
    expect(watch).toEqual(CLEAN);
    await context.close();
  });

  it.each(Object.keys(VIEWPORTS) as (keyof typeof VIEWPORTS)[])('fits a %s', async (size) => {
    const { context, watch } = await device(browser, {
      viewport: VIEWPORTS[size],
      hasTouch: size !== 'desktop',
      isMobile: size === 'phone',
    });
    const page = await openApp(context, server.url, '#/stage/schedule');
    const ready: Record<string, string> = {
      schedule: '.stage-answer',
      talk: '.stage-answer',
      rules: '.stage-verdicts',
      overrun: '.stage-chances',
      print: '.sheet-preview .sheet-page',
      grams: '.stage-bars',
    };
    for (const [name, sign] of Object.entries(ready)) {
      await page.evaluate((to) => {
        location.hash = `#/stage/${to}`;
      }, name);
      await page.locator(sign).first().waitFor({ timeout: 90_000 });
      await page.screenshot({ path: join(SCREENSHOTS, `stage-${name}-${size}.png`), fullPage: true });
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - screen.width);
      expect(wide, name).toBeLessThanOrEqual(0);
    }
    expect(watch).toEqual(CLEAN);
    await context.close();
  });
});

/** Sizes of paper [pt], and what stands outside the printed part of a page, both sides together [mm]. */
const PAPERS = {
  A4: { box: [595, 842], margins: [28, 26], mark: 'a4' },
  A5: { box: [420, 595], margins: [20, 18], mark: 'a5' },
  Letter: { box: [612, 792], margins: [28, 26], mark: 'letter' },
  'Card 105 × 148 mm': { box: [297.6, 419.5], margins: [12, 12], mark: 'card' },
  'Card 74 × 105 mm': { box: [209.8, 297.6], margins: [10, 10], mark: 'small_card' },
} as const;
const PX_PER_MM = 96 / 25.4;
/** As a brewer in Taipei might type it. */
const CHINESE = '柑橘花香、白桃與蜂蜜水';

/** Whether this machine has letters for Traditional Chinese at all. */
function hasChinese(): boolean {
  try {
    return execFileSync('fc-list', [':lang=zh-tw', 'family'], { encoding: 'utf8' }).trim() !== '';
  } catch {
    return false;
  }
}

describe.runIf(BROWSER)('sheets for a stage without devices', { timeout: 240_000 }, () => {
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

  it.each(Object.entries(PAPERS))(
    'stand on %s: every page the right size, all text there, none below 9 pt, nothing cut off',
    async (name, { box, margins, mark }) => {
      const { context, watch } = await device(browser, { colorScheme: 'dark' });
      const page = await openApp(context, server.url, '#/stage/print');
      await page.locator('.sheet-preview .sheet-page').first().waitFor({ timeout: 90_000 });
      await page.getByRole('radio', { name, exact: true }).check({ force: true });
      await page.locator(`.sheet-preview .sheet-${mark}`).waitFor();
      const button = page.getByRole('button', { name: 'Print', exact: true });
      await expect.poll(() => button.isEnabled(), PATIENT).toBe(true);

      const pdf = await page.pdf({
        preferCSSPageSize: true,
        printBackground: true,
        path: join(SCREENSHOTS, `stage-${mark}.pdf`),
      });
      const file = readPdf(pdf);
      expect(file.pages.length).toBeGreaterThanOrEqual(6);
      for (const text of file.perPage) expect(text.trim()).not.toBe('');
      for (const { width, height } of file.pages) {
        expect(Math.abs(width - box[0])).toBeLessThan(1.5);
        expect(Math.abs(height - box[1])).toBeLessThan(1.5);
      }

      const [wide, high] = box.map((pt, i) => ((pt / 72) * 25.4 - margins[i]!) * PX_PER_MM) as [
        number,
        number,
      ];
      await page.setViewportSize({ width: Math.floor(wide), height: Math.floor(high) });
      await page.emulateMedia({ media: 'print' });
      const seen = await page.evaluate(() => {
        const root = document.querySelector('.sheet-root')!;
        const texts = [...root.querySelectorAll<HTMLElement | SVGElement>('*')].filter((element) =>
          [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent!.trim() !== ''),
        );
        /** Of a letter as it comes to paper: a picture may be drawn smaller than it is written. */
        const size = (element: Element): number => {
          const svg = element.closest('svg');
          const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
          return (Number.parseFloat(getComputedStyle(element).fontSize) * scale * 72) / 96;
        };
        return {
          others: [...document.body.children]
            .filter((child) => child.getClientRects().length > 0 && child !== root)
            .map((child) => child.className),
          said: texts.flatMap((element) =>
            [...element.childNodes]
              .filter((node) => node.nodeType === 3)
              .map((node) => node.textContent ?? ''),
          ),
          small: texts
            .map((element) => [element.textContent, size(element)] as const)
            .filter(([, pt]) => pt < 8.99),
          beyond: [...root.querySelectorAll('*')]
            .filter((element) => {
              const { left, right } = element.getBoundingClientRect();
              return left < -0.5 || right > innerWidth + 0.5;
            })
            .map((element) => `${element.tagName} ${element.textContent}`),
          cut: [...root.querySelectorAll<HTMLElement>('*')]
            .filter(
              (element) =>
                // A picture counts its letters in its own units; it is held by its outline instead.
                element instanceof HTMLElement &&
                element.scrollWidth > element.clientWidth + 1 &&
                element.clientWidth > 0,
            )
            .map((element) => `${element.tagName} ${element.className}`),
          tallest: Math.max(
            ...[...root.querySelectorAll('tr, svg, li, header')].map((e) => e.getBoundingClientRect().height),
          ),
        };
      });
      const bare = (text: string): string => text.replaceAll(/\s/g, '');
      expect(seen.said.length).toBeGreaterThan(80);
      for (const text of seen.said) expect(bare(file.text)).toContain(bare(text));
      expect(seen.others).toEqual([]);
      expect(seen.small).toEqual([]);
      expect(seen.beyond).toEqual([]);
      expect(seen.cut).toEqual([]);
      expect(seen.tallest).toBeLessThan(high);
      for (const text of ['Hands', 'Words', 'Run sheet', 'Table map', 'Dose jars', '14.20 g in each jar'])
        expect(bare(file.text)).toContain(bare(text));
      expect(watch).toEqual(CLEAN);
      await context.close();
    },
  );

  it('print Traditional Chinese as it is typed, in letters and not in boxes', async ({ skip }) => {
    if (!hasChinese())
      skip(
        'This machine has no font for Traditional Chinese: install one (package fonts-noto-cjk) to check it.',
      );
    const { context, watch } = await device(browser);
    const page = await openApp(context, server.url, '#/stage/print');
    await page.locator('.sheet-preview .sheet-page').first().waitFor({ timeout: 90_000 });
    await page.getByLabel('Words of the judges’ card').fill(`${CHINESE}\n{plan:dose_g:0} 克咖啡粉`);
    const card = page.locator('.sheet-root .sheet-of-judges');
    await expect.poll(() => card.textContent(), PATIENT).toContain(`${CHINESE}14 克咖啡粉`);
    const file = readPdf(
      await page.pdf({ preferCSSPageSize: true, path: join(SCREENSHOTS, 'stage-chinese.pdf') }),
    );
    // A box has no letter of its own in the file; what can be read out of it was drawn as itself.
    // One shape serves 白 and the radical ⽩ alike, and the file may name either: they are one letter after normalisation.
    const read = file.text.normalize('NFKC');
    for (const letter of CHINESE.normalize('NFKC')) expect(read).toContain(letter);
    // And on the screen no two letters look alike, as boxes would.
    const looks = await page.evaluate(
      (letters) => {
        const family = getComputedStyle(document.querySelector('.sheet-of-judges h2')!).fontFamily;
        return letters.map((letter) => {
          const canvas = document.createElement('canvas');
          canvas.width = canvas.height = 40;
          const ctx = canvas.getContext('2d')!;
          ctx.font = `32px ${family}`;
          ctx.fillText(letter, 2, 32);
          return [...ctx.getImageData(0, 0, 40, 40).data].filter((_, i) => i % 4 === 3).join('');
        });
      },
      [...CHINESE].filter((letter) => letter !== '、'),
    );
    expect(new Set(looks).size).toBe(looks.length);
    expect(watch).toEqual(CLEAN);
    await context.close();
  });
});
