import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { findChromium } from './lib/browser.mjs';
import { installGap } from './lib/install.mjs';
import { nodeTooOld } from './lib/node-version.mjs';
import { importsOfScript, initialScripts } from './lib/size-budget.mjs';
import { countReport } from './lib/vitest-stage.mjs';

describe('nodeTooOld', () => {
  test.each([['20.19.0'], ['20.20.2'], ['22.1.0'], ['26.0.0']])('takes %s', (version) => {
    expect(nodeTooOld(version)).toBeNull();
  });
  test.each([['20.18.9'], ['18.20.4'], ['8.0.0']])('refuses %s in a sentence that names it', (version) => {
    expect(nodeTooOld(version)).toContain(`this is Node ${version}`);
  });
});

describe('installGap', () => {
  let root;
  beforeEach(() => {
    root = mkdtempSync(join(tmpdir(), 'pourline-gap-'));
    lock('package-lock.json', {
      'node_modules/a': { version: '1.0.0' },
      'node_modules/b': { version: '2.0.0', optional: true },
    });
  });
  afterEach(() => rmSync(root, { recursive: true }));
  const lock = (path, packages) => {
    mkdirSync(join(root, 'node_modules'), { recursive: true });
    writeFileSync(join(root, path), JSON.stringify({ packages: { '': {}, ...packages } }));
  };

  test('says that nothing is installed', () => expect(installGap(root)).toContain('nothing'));
  test('is content without the optional packages of other machines', () => {
    lock('node_modules/.package-lock.json', { 'node_modules/a': { version: '1.0.0' } });
    expect(installGap(root)).toBeNull();
  });
  test('names what is missing', () => {
    lock('node_modules/.package-lock.json', {});
    expect(installGap(root)).toBe('node_modules/a is missing');
  });
  test('names what is of another version', () => {
    lock('node_modules/.package-lock.json', { 'node_modules/a': { version: '1.0.1' } });
    expect(installGap(root)).toBe('node_modules/a is 1.0.1, not 1.0.0');
  });
});

describe('countReport', () => {
  const report = (passed, failed, skipped, files = []) => ({
    numPassedTests: passed,
    numFailedTests: failed,
    numPendingTests: skipped,
    numTodoTests: 0,
    testResults: files,
  });

  test('counts what ran', () => {
    expect(countReport(report(5, 1, 2), 1)).toEqual({ passed: 5, failed: 1, skipped: 2 });
  });
  test('counts a file that could not be loaded as failed', () => {
    const broken = { status: 'failed', assertionResults: [] };
    expect(countReport(report(5, 0, 0, [broken]), 1).failed).toBe(1);
  });
  test('counts a run that ended badly, found nothing or left no report as failed', () => {
    expect(countReport(report(5, 0, 0), 1).failed).toBe(1);
    expect(countReport(report(0, 0, 0), 0).failed).toBe(1);
    expect(countReport(null, 0).failed).toBe(1);
  });
});

test('initialScripts takes module scripts and what they preload, and nothing fetched later', () => {
  const html = `<link rel="icon" href="/icon.svg"><link rel="stylesheet" href="/assets/a.css">
    <script type="module" crossorigin src="/assets/main.js"></script>
    <link rel="modulepreload" crossorigin href="/assets/shared.js">`;
  expect(initialScripts(html)).toEqual(['assets/main.js', 'assets/shared.js']);
});

test('findChromium trusts CHROMIUM_PATH alone when it is set', () => {
  const before = process.env.CHROMIUM_PATH;
  process.env.CHROMIUM_PATH = '/no/such/browser';
  expect(findChromium()).toBeNull();
  process.env.CHROMIUM_PATH = process.execPath;
  expect(findChromium()).toBe(process.execPath);
  if (before === undefined) delete process.env.CHROMIUM_PATH;
  else process.env.CHROMIUM_PATH = before;
});

test('importsOfScript reads what a bundler writes, and leaves what is loaded later', () => {
  const source = `import{a as b,t}from"./shared-1.js";import"./style-2.js";export*from"./re-3.js";import * as r from './n-4.js';
    const x=()=>import("./later-5.js");const deps=["./later-6.js"];`;
  expect(importsOfScript(source)).toEqual(['shared-1.js', 'style-2.js', 're-3.js', 'n-4.js']);
});
