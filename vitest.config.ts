import { defineConfig } from 'vitest/config';

/**
 * Tests run in Node. `*.slow.test.ts` take minutes and run when POURLINE_SLOW is 1; `*.browser.test.ts` drive a real
 * Chromium from Node and run when POURLINE_BROWSER is 1. `npm test` runs each sort in its own stage.
 */
export default defineConfig({
  test: {
    include: ['{core,store,server,cli,web,scripts,bench}/**/*.test.{ts,mjs}'],
    exclude: ['**/node_modules/**', '**/dist/**'],
    env: { TZ: 'UTC', LANG: 'en_GB.UTF-8' },
    testTimeout: 20_000,
    // Child processes on a busy machine take their time to start.
    hookTimeout: 60_000,
    // A browser or a child process beside every worker: two cores take no more.
    maxWorkers: 2,
  },
});
