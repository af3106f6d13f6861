#!/usr/bin/env node
// Kept to plain words that even an old Node reads, so that it can say that it is too old.
import { nodeTooOld } from './lib/node-version.mjs';

const tooOld = nodeTooOld();
if (tooOld) {
  console.error(tooOld);
  process.exitCode = 1;
} else {
  const { start } = await import('./lib/start.mjs');
  process.exitCode = await start(process.argv.slice(2));
}
