import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** What the page may load: nothing but what came with it. The server sends the same as a header. */
const POLICY = [
  "default-src 'self'",
  "style-src 'self'",
  "script-src 'self'",
  "img-src 'self' data: blob:",
  "connect-src 'self'",
  "worker-src 'self'",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

/** Puts the policy into the built page, so that it also holds on a static host that sends no such header. */
function contentPolicy(): Plugin {
  return {
    name: 'content-policy',
    apply: 'build',
    transformIndexHtml: () => [
      {
        tag: 'meta',
        attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY },
        injectTo: 'head-prepend',
      },
    ],
  };
}

/** Puts the demo campaign beside the page: a static host has no server to ask for it. */
function demoCampaign(): Plugin {
  const source = here('../examples/demo-campaign.json');
  return {
    name: 'demo-campaign',
    apply: 'build',
    generateBundle() {
      if (!existsSync(source)) {
        this.warn('examples/demo-campaign.json is missing; on a static host the app will start empty');
        return;
      }
      const compact = JSON.stringify(JSON.parse(readFileSync(source, 'utf8')));
      this.emitFile({ type: 'asset', fileName: 'demo-campaign.json', source: compact });
    },
  };
}

export default defineConfig({
  root: here('.'),
  base: './',
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    reportCompressedSize: false,
    rolldownOptions: {
      // The app, and the page that a taster's phone gets: it has nothing of the app in it.
      input: { index: here('index.html'), taste: here('taste.html') },
      output: {
        // One file for the schemas and what must run before them, in the order in which they are imported. Of grinds only what every
        // desk needs: reading photographs is long code for one page. Of panels and the stage only what documents need.
        advancedChunks: {
          groups: [
            {
              name: 'core',
              test: /node_modules[\\/]zod[\\/]|web[\\/]src[\\/]no-eval|[\\/]core[\\/]src[\\/](?!(?:panel|learn|stage|trace|cup|tables|water)[\\/]|grind[\\/](?!classes|special|remarks|photo[\\/]remarks))/,
            },
          ],
        },
      },
    },
  },
  worker: { format: 'es' },
  server: { host: '127.0.0.1', port: 4740, proxy: { '/api': 'http://127.0.0.1:4741' } },
  plugins: [
    react(),
    contentPolicy(),
    demoCampaign(),
    VitePWA({
      registerType: 'prompt',
      injectRegister: false,
      includeAssets: ['icon.svg', 'icon-192.png', 'theme.js'],
      manifest: {
        name: 'Pourline',
        short_name: 'Pourline',
        description: 'Plan a hand-poured filter brew and see the cup it makes.',
        lang: 'en',
        start_url: './',
        scope: './',
        display: 'standalone',
        background_color: '#f6f3ea',
        theme_color: '#f6f3ea',
        icons: [
          { src: './icon.svg', sizes: 'any', type: 'image/svg+xml' },
          { src: './icon-192.png', sizes: '192x192', type: 'image/png' },
          { src: './icon-512.png', sizes: '512x512', type: 'image/png' },
          { src: './icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
        ],
      },
      workbox: {
        globPatterns: ['**/*.{html,js,css,woff2,svg,png,json,webmanifest}'],
        maximumFileSizeToCacheInBytes: 8 * 1024 * 1024,
        navigateFallback: 'index.html',
        // A taster's page is not the app: it must come from the server.
        navigateFallbackDenylist: [/\/api\//, /\/taste$/],
        cleanupOutdatedCaches: true,
      },
    }),
  ],
});
