/**
 * Measures the live view's clock over a long run in a hidden tab with throttled timers and a slowed processor:
 * `npx tsx scripts/live-clock/measure.ts [minutes] [hidden|visible] [slowdown]`. Build the app first. Prints what it found as JSON.
 */
import { loadavg } from 'node:os';
import type { Cue } from '@pourline/core';
import { chromium } from 'playwright-core';
import { serveStatic } from '../../web/test/harness.ts';
import { seededRun } from '../../web/test/live-seed.ts';
import { hide, KEEPS_AWAKE, openTab, type PlainTab } from './hidden-tab.ts';

const minutes = Number(process.argv[2] ?? 15);
const hidden = process.argv[3] !== 'visible';
const slowdown = Number(process.argv[4] ?? 4);

/** A cue every ten seconds of the whole run. */
function longRun() {
  const stored = seededRun({ settings: { mode: 'cues', sounds: true, vibration: false } });
  const none = { brewer: 1, scale_g: null, title: '', text: '' };
  const cues = Array.from(
    { length: Math.floor(minutes * 6) },
    (_, i): Cue => ({ ...none, id: `p${i}`, what: 'pour', at_s: 5 + 10 * i, takes_s: 4, water_g: 50 }),
  );
  const run = {
    ...stored.run,
    cues,
    brewers: 1,
    limit_s: 60 * minutes,
    expendable: [],
    network: {
      tasks: cues.map(({ id }) => ({ id, duration: 4_000, needs: { hands: 1 } })),
      lags: [],
      resources: { hands: 1 },
      limit: 10_000_000,
    },
    starts: Object.fromEntries(cues.map(({ id, at_s }) => [id, 1_000 * at_s])),
  };
  return { ...stored, run };
}

/** In the page: notes when what is shown changes, and for when sounds are put in line. */
const WATCH = `
  globalThis.seen = { next: [], clock: [], sounds: [] };
  const start = OscillatorNode.prototype.start;
  OscillatorNode.prototype.start = function (at) {
    const { contextTime, performanceTime } = this.context.getOutputTimestamp();
    const page = contextTime > 0 ? performanceTime + 1000 * (at - contextTime) : performance.now() + 1000 * (at - this.context.currentTime + this.context.outputLatency);
    if (this.frequency.value > 1000) globalThis.seen.sounds.push(page);
    return start.call(this, at);
  };
  const watch = () => {
    const tap = document.querySelector('.live-tap');
    const clock = document.querySelector('.live-clock');
    if (!tap || !clock) return;
    const last = globalThis.seen.next.at(-1);
    if (!last || last.cue !== tap.dataset.next) globalThis.seen.next.push({ cue: tap.dataset.next, at: performance.now() });
    globalThis.seen.clock.push([performance.now(), 1000 * Number(clock.dataset.now)]);
    if (globalThis.seen.clock.length > 400) globalThis.seen.clock.splice(0, 200);
  };
  new MutationObserver(watch).observe(document, { subtree: true, childList: true, attributes: true, attributeFilter: ['data-next', 'data-now'] });
  let ticks = 0; setInterval(() => { ticks++; }, 50); globalThis.slowTicks = () => ticks;
`;

/** Clock of the page against that of this process [ms], from the quickest of many questions, and how sure that is. */
async function offset(tab: PlainTab): Promise<{ offset_ms: number; doubt_ms: number }> {
  let best = { offset_ms: Number.NaN, doubt_ms: Number.POSITIVE_INFINITY };
  for (let i = 0; i < 25; i++) {
    const asked = performance.now();
    const page = await tab.read<number>('performance.now()');
    const answered = performance.now();
    const doubt_ms = (answered - asked) / 2;
    if (doubt_ms < best.doubt_ms) best = { offset_ms: page - (asked + answered) / 2, doubt_ms };
  }
  return best;
}

/** The shown clock against the page's own at the latest change [ms]: how far behind, at the least and the most of a few seconds. */
const shownLag = (tab: PlainTab, zero: number) =>
  tab.read<{ least: number; most: number }>(
    `(() => { const lags = seen.clock.map(([at, shown]) => at - ${zero} - shown); return { least: Math.min(...lags), most: Math.max(...lags) }; })()`,
  );

const quantile = (list: readonly number[], share: number): number =>
  [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(share * list.length))] ?? Number.NaN;

const rounded = (value: number): number => Math.round(value * 10) / 10;

async function measure(): Promise<void> {
  const host = await serveStatic('/');
  const browser = await chromium.launch({
    executablePath: process.env.POURLINE_CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--autoplay-policy=no-user-gesture-required'],
    ignoreDefaultArgs: KEEPS_AWAKE,
  });
  const cdp = await browser.newBrowserCDPSession();
  const stored = longRun();
  const tab = await openTab(cdp, `${host.url}#/live`);
  const until = async (expression: string): Promise<void> => {
    for (let i = 0; i < 600 && !(await tab.read<boolean>(expression).catch(() => false)); i++)
      await new Promise((r) => setTimeout(r, 200));
  };
  await tab.send('Page.enable');
  await until("document.querySelector('.live-plain h1') !== null");
  await tab.read(`new Promise((resolve) => { const open = indexedDB.open('pourline-live'); open.onsuccess = () => {
    const tx = open.result.transaction('runs', 'readwrite'); tx.objectStore('runs').put(${JSON.stringify(stored)});
    tx.oncomplete = () => { open.result.close(); resolve(true); }; }; })`);
  await tab.send('Page.addScriptToEvaluateOnNewDocument', { source: WATCH });
  await tab.read(`globalThis.before = true; location.hash = '#/live/${stored.run_id}'`);
  await tab.send('Page.reload');
  await until("globalThis.before === undefined && document.querySelector('[data-key=start]') !== null");
  await tab.read("document.querySelector('[data-key=start]').click()");
  await until("document.querySelector('.live-run') !== null");
  if (hidden) await hide(cdp);
  await tab.send('Emulation.setCPUThrottlingRate', { rate: slowdown });
  const zero =
    await tab.read<number>(`new Promise((resolve) => { const open = indexedDB.open('pourline-live'); open.onsuccess = () => {
    const all = open.result.transaction('events').objectStore('events').getAll();
    all.onsuccess = () => { open.result.close(); resolve(all.result[0].event.mono_ms); }; }; })`);
  await new Promise((r) => setTimeout(r, 4_000));
  const first = await offset(tab);
  const lagFirst = await shownLag(tab, zero);
  const [ticks, from] = [await tab.read<number>('slowTicks()'), performance.now()];
  await new Promise((r) => setTimeout(r, 60_000 * minutes - 12_000));
  const last = await offset(tab);
  const lagLast = await shownLag(tab, zero);
  const perSecond = ((await tab.read<number>('slowTicks()')) - ticks) / ((performance.now() - from) / 1_000);
  const seen = await tab.read<{ next: { cue: string; at: number }[]; sounds: number[] }>(
    '({ next: seen.next, sounds: seen.sounds })',
  );
  const state = await tab.read<string>('document.visibilityState');
  await browser.close();
  await host.close();
  // The next cue is shown when the one before it counts as begun.
  const due = new Map(
    stored.run.cues.map(({ id }, i) => [id, i === 0 ? null : 1_000 * stored.run.cues[i - 1]!.at_s + zero]),
  );
  const shown = seen.next.flatMap(({ cue, at }) => {
    const moment = due.get(cue);
    return moment == null ? [] : [at - moment];
  });
  const moments = stored.run.cues.map(({ at_s }) => 1_000 * at_s + zero);
  const sounds = moments.flatMap((moment) => {
    const near = seen.sounds.filter((at) => Math.abs(at - moment) < 1_000);
    return near.length === 0 ? [] : [near.at(-1)! - moment];
  });
  console.log(
    JSON.stringify(
      {
        minutes,
        visibility: state,
        slowdown,
        page_timer_per_s: rounded(perSecond),
        load: loadavg().map(rounded),
        drift_ms: rounded(last.offset_ms - first.offset_ms + (lagFirst.least - lagLast.least)),
        doubt_ms: rounded(first.doubt_ms + last.doubt_ms),
        shown_behind_ms: [lagFirst, lagLast].map(({ least, most }) => [rounded(least), rounded(most)]),
        actions: {
          count: shown.length,
          middle_ms: rounded(quantile(shown, 0.5)),
          p95_ms: rounded(quantile(shown, 0.95)),
          most_ms: rounded(Math.max(...shown)),
        },
        sounds: {
          count: sounds.length,
          middle_ms: rounded(quantile(sounds, 0.5)),
          least_ms: rounded(Math.min(...sounds)),
          most_ms: rounded(Math.max(...sounds)),
        },
      },
      null,
      2,
    ),
  );
}

await measure();
