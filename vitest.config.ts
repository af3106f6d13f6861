import { defineConfig } from 'vitest/config';

/** Node-side tests. Browser tests drive a real Chromium from Node and live in web/test. */
export default defineConfig({
  test: {
    include: ['{core,store,server,cli,web,scripts}/**/*.test.ts'],
    exclude: ['**/node_modules/**', '**/dist/**'],
    env: { TZ: 'UTC', LANG: 'en_GB.UTF-8' },
    testTimeout: 20_000,
  },
});
