#!/usr/bin/env node
// Runs the benchmarks: `npm run bench`, or `npm run bench -- engine` for the files whose name holds a word.
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureInstalled } from './lib/install.mjs';
import { ROOT } from './lib/run.mjs';

if (!(await ensureInstalled())) process.exit(1);
const { register } = await import('tsx/esm/api');
register();
const wanted = process.argv.slice(2);
const folder = join(ROOT, 'bench');
const files = readdirSync(folder)
  .filter((name) => name.endsWith('.bench.ts'))
  .filter((name) => wanted.length === 0 || wanted.some((word) => name.includes(word)))
  .sort();
if (files.length === 0) {
  console.error(`No benchmark is called like ${wanted.join(' or ')}. They are in ${folder}.`);
  process.exit(2);
}
for (const name of files) {
  const { bench } = await import(pathToFileURL(join(folder, name)).href);
  await bench();
}
