#!/usr/bin/env node
import { nodeTooOld } from './lib/node-version.mjs';

const tooOld = nodeTooOld();
if (tooOld) {
  console.error(tooOld);
  process.exitCode = 1;
} else {
  const { testAll } = await import('./lib/test-all.mjs');
  process.exitCode = await testAll(process.argv.slice(2));
}
