import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Rehearsal, RunEvent } from '@pourline/core';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  BROWSER,
  device,
  launch,
  openApp,
  readyForOffline,
  SCREENSHOTS,
  serveStatic,
  VIEWPORTS,
} from './harness.ts';
import { putRun, seededRun } from './live-seed.ts';

const RUN = '0190a5d2-7c3e-7b10-8f00-0000000000aa';
const KILLS = 20;

/** Everything that is on disk of the run. */
function onDisk(page: Page): Promise<RunEvent[]> {
  return page.evaluate(
    (run_id) =>
      new Promise<RunEvent[]>((resolve, reject) => {
        const request = indexedDB.open('pourline-live');
        request.onerror = () => reject(request.error);
        request.onsuccess = () => {
          const all = request.result.transaction('events').objectStore('events').getAll();
          all.onsuccess = () => {
            request.result.close();
            resolve(
              (all.result as { run_id: string; event: RunEvent }[])
                .filter((row) => row.run_id === run_id)
                .map(({ event }) => event),
            );
          };
        };
      }),
    RUN,
  );
}

/** Opens the live view of a run that is put into the browser first. */
async function openRun(context: BrowserContext, url: string, run = seededRun()): Promise<Page> {
  const page = await context.newPage();
  page.setDefaultTimeout(120_000);
  await page.goto(`${url}#/live`);
  await page.locator('.live-plain h1').waitFor();
  await putRun(page, run);
  await page.goto(`${url}#/live/${run.run_id}`);
  await page.locator('[data-key=start]').waitFor();
  return page;
}

const start = async (page: Page): Promise<void> => {
  await page.locator('[data-key=start]').click();
  await page.locator('.live-run').waitFor();
};

/** Waits on a state of the page, longer than a busy machine takes. */
const soon = <T>(read: () => T) => expect.poll(read, { timeout: 60_000 });

/** Laps that the page shows as taken. */
const lapsShown = async (page: Page): Promise<number> =>
  Number(await page.locator('.live-run').getAttribute('data-laps'));

/** Small whole numbers that are the same on every run of the test (Lehmer's generator, from memory). */
function chances(seed: number): (most: number) => number {
  let state = seed;
  return (most) => {
    state = (state * 48_271) % 2_147_483_647;
    return state % (most + 1);
  };
}

describe.runIf(BROWSER)('the live view', { timeout: 600_000 }, () => {
  let browser: Browser;
  let host: Awaited<ReturnType<typeof serveStatic>>;

  beforeAll(async () => {
    browser = await launch();
    host = await serveStatic('/');
    await mkdir(SCREENSHOTS, { recursive: true });
  });
  afterAll(async () => {
    await browser.close();
    await host.close();
  });

  it(`resumes after each of ${KILLS} kills at random moments; no lap is lost and none doubled`, async () => {
    const chance = chances(20_261_125);
    const { context, watch } = await device(browser);
    const stored = seededRun();
    let page = await openRun(context, host.url, stored);
    await start(page);
    const cues = stored.run.cues.length;
    let shown = 0;
    let openings = 0;
    let last_s = -1;
    for (let kill = 0; kill < KILLS; kill++) {
      // Some taps that are waited for, and one that is cut off at any stage of its way to disk.
      const taps = chance(2);
      for (let n = 0; n < taps && shown < cues - 1; n++) {
        await page.waitForTimeout(310);
        await page.locator('.live-tap').click({ noWaitAfter: true });
        await soon(() => lapsShown(page)).toBe(shown + 1);
        shown++;
      }
      const cutOff = chance(1) === 1 && shown < cues - 1;
      if (cutOff) {
        await page.waitForTimeout(310);
        await page.locator('.live-tap').dispatchEvent('pointerdown', { isPrimary: true, button: 0 });
      }
      await page.waitForTimeout(chance(40));
      if (chance(1) === 0) await page.reload();
      else {
        await page.close();
        page = await context.newPage();
        page.setDefaultTimeout(120_000);
        await page.goto(`${host.url}#/live/${RUN}`);
      }
      openings++;
      await page.locator('.live-run').waitFor();
      const events = await onDisk(page);
      const laps = events.filter(({ what }) => what === 'lap').map((event) => Reflect.get(event, 'cue_id'));
      // What was shown as taken is there; what was cut off is there once or not at all.
      expect(laps.length, `kill ${kill}`).toBeGreaterThanOrEqual(shown);
      expect(laps.length, `kill ${kill}`).toBeLessThanOrEqual(shown + (cutOff ? 1 : 0));
      expect(new Set(laps).size).toBe(laps.length);
      expect(new Set(events.map(({ n }) => n)).size).toBe(events.length);
      expect(await lapsShown(page)).toBe(laps.length);
      shown = laps.length;
      const now = Number(await page.locator('.live-clock').getAttribute('data-now'));
      expect(now, 'the clock ran on').toBeGreaterThan(last_s);
      last_s = now;
    }
    await expect
      .poll(async () => (await onDisk(page)).filter(({ what }) => what === 'opened').length)
      .toBe(openings);
    // The clock of the run is still that of the day: nothing was added or lost over all kills.
    const events = await onDisk(page);
    const zero = events[0]!.wall_ms;
    const now = await page.evaluate(() => ({
      shown: Number(document.querySelector('.live-clock')!.getAttribute('data-now')),
      wall: Date.now(),
    }));
    expect(Math.abs(now.shown - (now.wall - zero) / 1_000)).toBeLessThan(0.25);
    expect(shown).toBeGreaterThan(8);
    expect(watch).toEqual({ violations: [], strays: [], errors: [] });
    await context.close();
  });

  it('takes laps by touch and key, undoes one, and ignores the same wet touch twice', async () => {
    const { context, watch } = await device(browser);
    const page = await openRun(context, host.url);
    await start(page);
    const first = await page.locator('.live-tap').getAttribute('data-next');
    // Two touches within one breath of the page.
    await page.locator('.live-tap').evaluate((button) => {
      for (let touch = 0; touch < 2; touch++)
        button.dispatchEvent(new PointerEvent('pointerdown', { isPrimary: true, button: 0, bubbles: true }));
    });
    await soon(() => lapsShown(page)).toBe(1);
    await soon(() => page.locator('.live-tap').getAttribute('data-next')).not.toBe(first);
    await page.waitForTimeout(320);
    await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
    await page.keyboard.press('PageDown');
    await soon(() => lapsShown(page)).toBe(2);
    await page.waitForTimeout(320);
    await page.keyboard.press('Backspace');
    await soon(() => lapsShown(page)).toBe(1);
    expect((await onDisk(page)).map(({ what }) => what)).toEqual(['start', 'lap', 'lap', 'undo']);
    expect(watch.errors).toEqual([]);
    await context.close();
  });

  it('offers ways on when late, and the chosen one is written down', async () => {
    const { context } = await device(browser);
    const page = await openRun(context, host.url);
    await start(page);
    await page.locator('[data-key=late]').click();
    await page.locator('[data-way=story]').waitFor();
    const took = Number(await page.locator('.live-late').getAttribute('data-took'));
    console.log(`ways on, asked to answered in the page [ms]: ${took}`);
    expect(await page.locator('[data-way=story]').textContent()).toContain('costs 0.5 points');
    await page.locator('[data-way=story]').click();
    await soon(async () => (await onDisk(page)).at(-1)?.what).toBe('choice');
    expect((await onDisk(page)).at(-1)).toMatchObject({ left_out: ['story'], points: 0.5 });
    await soon(() => page.locator('.live-bar[data-stands=out]').count()).toBe(1);
    await context.close();
  });

  it('goes on hands-free by the plan, and an end that came by mistake is taken back', async () => {
    const { context } = await device(browser);
    const page = await openRun(context, host.url, seededRun({ settings: { mode: 'cues' } }));
    await start(page);
    const first = seededRun().run.cues.filter(({ at_s }) => at_s > 0.5)[0]!;
    await soon(() => page.locator('.live-tap').getAttribute('data-next')).toBe(first.id);
    expect(await lapsShown(page)).toBe(0);
    await page.locator('[data-key=more]').click();
    await page.locator('[data-key=end]').click();
    await page.locator('[data-key=end]', { hasText: 'again' }).click();
    await page.locator('[data-kept=kept]').waitFor();
    await page.locator('[data-key=go-on]').click();
    await page.locator('.live-run').waitFor();
    expect((await onDisk(page)).at(-1)!.what).toBe('undo');
    await context.close();
  });

  it('works with no network, and the run becomes a rehearsal that the desk shows', async () => {
    const { context, watch } = await device(browser);
    // The desks put the app into the browser; the live view itself asks for nothing.
    const desk = await openApp(context, host.url, '#/shelf/venue');
    await readyForOffline(desk);
    await desk.close();
    const page = await openRun(context, host.url);
    await context.setOffline(true);
    await page.reload();
    await page.locator('[data-key=start]').waitFor();
    await start(page);
    await page.locator('.live-tap').click();
    await soon(() => lapsShown(page)).toBe(1);
    await page.reload();
    await page.locator('.live-run').waitFor();
    expect(await lapsShown(page)).toBe(1);
    await page.locator('[data-key=more]').click();
    await page.locator('[data-key=end]').click();
    await page.locator('[data-key=end]', { hasText: 'again' }).click();
    await page.locator('[data-kept=kept]').waitFor();
    const kept = await page.evaluate(
      (id) =>
        new Promise<Rehearsal>((resolve, reject) => {
          const request = indexedDB.open('pourline');
          request.onerror = () => reject(request.error);
          request.onsuccess = () => {
            const found = request.result.transaction('documents').objectStore('documents').get(id);
            found.onsuccess = () => {
              request.result.close();
              resolve((found.result as { head: { body: Rehearsal } }).head.body);
            };
          };
        }),
      RUN,
    );
    expect(kept).toMatchObject({ kind: 'rehearsal', name: 'Lantern Cup, third run' });
    expect(kept.events.map(({ what }) => what)).toEqual(['start', 'lap', 'opened', 'end']);
    expect(watch.violations).toEqual([]);
    expect(watch.errors).toEqual([]);
    await context.close();
  });

  it('says that a refused microphone and an unheld screen do not stop the run', async () => {
    const { context } = await device(browser, { permissions: [] });
    const page = await openRun(context, host.url, seededRun({ settings: { recording: true } }));
    await start(page);
    await page.locator('.live-notices', { hasText: /No recording: / }).waitFor();
    await page.locator('.live-tap').click();
    await soon(() => lapsShown(page)).toBe(1);
    await context.close();
  });

  it('says so when a run is not there or is open elsewhere', async () => {
    const { context } = await device(browser);
    const page = await openRun(context, host.url);
    const other = await context.newPage();
    await other.goto(`${host.url}#/live/${RUN}`);
    await other.locator('.live-plain', { hasText: 'another tab' }).waitFor();
    await other.getByRole('button', { name: 'Follow it here' }).click();
    await other.locator('[data-key=start]').waitFor();
    await page.locator('.live-plain', { hasText: 'another tab' }).waitFor();
    await other.goto(`${host.url}#/live/0190a5d2-7c3e-7b10-8f00-0000000000ff`);
    await other.locator('.live-plain', { hasText: 'not in this browser' }).waitFor();
    await context.close();
  });

  const cases = (['phone', 'tablet', 'desktop'] as const).flatMap((size) =>
    (['light', 'dark'] as const).map((scheme) => [size, scheme] as const),
  );
  it.each(cases)('can be read from two metres on a %s in %s, with targets of 15 mm', async (size, scheme) => {
    const touch = size !== 'desktop';
    const { context, watch } = await device(browser, {
      viewport: VIEWPORTS[size],
      colorScheme: scheme,
      hasTouch: touch,
      isMobile: size === 'phone',
    });
    const page = await openRun(context, host.url);
    await page.screenshot({ path: join(SCREENSHOTS, `live-ready-${size}-${scheme}.png`) });
    await start(page);
    await page.locator('.live-tap').click();
    await soon(() => lapsShown(page)).toBe(1);
    await page.screenshot({ path: join(SCREENSHOTS, `live-${size}-${scheme}.png`) });
    expect(Number(await page.locator('.live-run').getAttribute('data-arcmin'))).toBeGreaterThanOrEqual(15.5);
    const perMm = (touch ? (size === 'phone' ? 153 : 132) : 96) / 25.4;
    const small = await page.evaluate(
      (least) =>
        [...document.querySelectorAll<HTMLElement>('.live-run button')]
          .map((button) => ({ name: button.className, box: button.getBoundingClientRect() }))
          .filter(({ box }) => Math.min(box.width, box.height) < least)
          .map(({ name, box }) => `${name} ${Math.round(box.width)}×${Math.round(box.height)}`),
      15 * perMm - 1,
    );
    expect(small).toEqual([]);
    const cut = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>('.live-figure, .live-seconds, .live-clock')]
        .filter((text) => {
          const box = text.getBoundingClientRect();
          return box.left < 0 || box.right > innerWidth + 1 || box.bottom > innerHeight + 1;
        })
        .map((text) => text.textContent),
    );
    expect(cut).toEqual([]);
    expect(
      await page.evaluate(() => document.documentElement.scrollHeight - innerHeight),
    ).toBeLessThanOrEqual(0);
    expect(watch).toEqual({ violations: [], strays: [], errors: [] });
    await context.close();
  });
});
