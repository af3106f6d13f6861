import { cpSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Running, startServer } from '@pourline/server';
import {
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  chromium,
  type Page,
} from 'playwright-core';

const DIST = fileURLToPath(new URL('../dist', import.meta.url));
/** Where pictures of the screens go. */
export const SCREENSHOTS = fileURLToPath(new URL('../screenshots', import.meta.url));
const DEMO = fileURLToPath(new URL('../../examples/demo-campaign.json', import.meta.url));

/** Browser tests run only when asked for: they need Chromium and a built app. */
export const BROWSER = process.env.POURLINE_BROWSER === '1';

/** Sizes at which every screen is looked at. */
export const VIEWPORTS = {
  desktop: { width: 1440, height: 900 },
  tablet: { width: 820, height: 1180 },
  phone: { width: 390, height: 844 },
} as const;

let built: string | undefined;

/**
 * A copy of the built app, made once a run, so that a build in between does not pull files from under a test.
 * @throws Error when the app was not built
 */
export function builtApp(): string {
  if (built) return built;
  if (!existsSync(join(DIST, 'index.html')))
    throw new Error('The app is not built; run npm run build first.');
  const copy = mkdtempSync(join(tmpdir(), 'pourline-dist-'));
  cpSync(DIST, copy, { recursive: true });
  process.once('exit', () => rmSync(copy, { recursive: true, force: true }));
  built = copy;
  return copy;
}

/** Starts the browser. */
export function launch(): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env.POURLINE_CHROMIUM ?? '/usr/bin/chromium',
    headless: true,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}

/** The real server on a database of its own. */
export interface TestServer {
  url: string;
  /** Stops it and leaves the database. */
  stop(): Promise<void>;
  /** Starts it again at the same address on the same database. */
  start(): Promise<void>;
  running(): Running;
  dispose(): Promise<void>;
}

export async function serveApp(options: { demo?: boolean } = {}): Promise<TestServer> {
  const folder = await mkdtemp(join(tmpdir(), 'pourline-web-'));
  const file = join(folder, 'pourline.sqlite');
  const demo = options.demo === false ? {} : { demo: DEMO };
  let running: Running | undefined = await startServer({ file, port: 0, webRoot: builtApp(), ...demo });
  const { port, url } = running;
  const stop = async (): Promise<void> => {
    await running?.close();
    running = undefined;
  };
  return {
    url,
    stop,
    start: async () => {
      running = await startServer({ file, port, webRoot: builtApp() });
    },
    running: () => {
      if (!running) throw new Error('serveApp: the server is stopped');
      return running;
    },
    dispose: async () => {
      await stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.webmanifest': 'application/manifest+json',
};

/** A plain static host that serves the built app in a sub-folder and knows nothing else. */
export async function serveStatic(
  folder = '/some/folder/',
): Promise<{ url: string; close(): Promise<void> }> {
  const server: Server = createServer((request, response) => {
    void answer(request.url ?? '/').then(({ status, type, body }) =>
      response.writeHead(status, { 'content-type': type }).end(body),
    );
  });
  const missing = { status: 404, type: 'text/html', body: '<h1>Not found</h1>' as string | Buffer };
  const answer = async (address: string): Promise<typeof missing> => {
    const path = new URL(address, 'http://localhost').pathname;
    if (!path.startsWith(folder) || path.includes('..')) return missing;
    const name = path.slice(folder.length) || 'index.html';
    try {
      const body = await readFile(join(builtApp(), name));
      return { status: 200, type: TYPES[extname(name)] ?? 'application/octet-stream', body };
    } catch {
      return missing;
    }
  };
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  const { port } = server.address() as AddressInfo;
  return {
    url: `http://localhost:${port}${folder}`,
    close: () =>
      new Promise((closed) => {
        server.close(() => closed());
        server.closeAllConnections();
      }),
  };
}

/** What went wrong on the pages of a context, gathered while they run. */
export interface Watch {
  /** Everything the content policy refused. */
  violations: string[];
  /** Requests that left this machine. */
  strays: string[];
  /** Errors nobody caught. */
  errors: string[];
}

/** A browser profile of its own: one person on one device. */
export async function device(
  browser: Browser,
  options: BrowserContextOptions = {},
): Promise<{ context: BrowserContext; watch: Watch }> {
  const context = await browser.newContext({ viewport: VIEWPORTS.desktop, ...options });
  const watch: Watch = { violations: [], strays: [], errors: [] };
  await context.exposeBinding('reportViolation', (_, text: string) => watch.violations.push(text));
  await context.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', (event) => {
      const report = (globalThis as unknown as { reportViolation: (text: string) => void }).reportViolation;
      report(`${event.violatedDirective} ${event.blockedURI} ${event.sourceFile}:${event.lineNumber}`);
    });
  });
  context.on('request', (request) => {
    const { protocol, hostname } = new URL(request.url());
    if (/^https?:|^wss?:/.test(protocol) && hostname !== 'localhost' && hostname !== '127.0.0.1')
      watch.strays.push(request.url());
  });
  // Workers have no such event here, but the browser writes their violations down all the same.
  context.on('console', (message) => {
    if (/Content Security Policy/.test(message.text())) watch.violations.push(message.text());
  });
  context.on('weberror', (error) => watch.errors.push(String(error.error())));
  return { context, watch };
}

/** Opens the app and waits until it stands. */
export async function openApp(context: BrowserContext, url: string, hash = ''): Promise<Page> {
  const page = await context.newPage();
  await page.goto(url + hash);
  await page.locator('.header').waitFor();
  return page;
}

/** What the header says about saving, once it says `text`. */
export async function syncSays(page: Page, text: string | RegExp): Promise<void> {
  await page.locator('.sync-long', { hasText: text }).waitFor({ timeout: 15_000 });
}

/** Waits until the service worker holds the whole app. */
export async function readyForOffline(page: Page): Promise<void> {
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  await page.waitForFunction(async () => {
    const names = await caches.keys();
    const sizes = await Promise.all(
      names.map(async (name) => (await (await caches.open(name)).keys()).length),
    );
    return sizes.some((size) => size > 5);
  });
}

/**
 * Time limits hold on a machine that has nothing else to do: they are held when POURLINE_TIMED is 1. Otherwise figures are
 * printed, and only a twentieth of the speed is asked for, which a hang would miss.
 */
export const PATIENCE = process.env.POURLINE_TIMED === '1' ? 1 : 20;
