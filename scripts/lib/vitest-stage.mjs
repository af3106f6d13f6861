import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { bin, ROOT } from './run.mjs';

/**
 * Runs vitest and counts from its own report. A file that could not be loaded, a run that ended badly without a
 * failed test, and a run that found no test at all each count as one failure: nothing passes by being absent.
 */
export async function vitestStage(name, args, env = {}) {
  const folder = join(ROOT, '.stamp');
  const report = join(folder, `tests-${name}.json`);
  mkdirSync(folder, { recursive: true });
  rmSync(report, { force: true });
  const code = await bin(
    'vitest/vitest.mjs',
    ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`, ...args],
    { env },
  );
  return countReport(readReport(report), code);
}

/** How many tests there are, without running them; 1 at least. */
export async function countTests(name, args, env = {}) {
  const list = join(ROOT, '.stamp', `list-${name}.json`);
  mkdirSync(join(ROOT, '.stamp'), { recursive: true });
  rmSync(list, { force: true });
  await bin('vitest/vitest.mjs', ['list', ...args, `--json=${list}`], { env });
  return Math.max(1, readReport(list)?.length ?? 0);
}

function readReport(path) {
  try {
    return JSON.parse(readFileSync(path, 'utf8'));
  } catch {
    return null;
  }
}

/** Totals of a vitest JSON report (null when there is none) and the exit code of the run. */
export function countReport(report, code) {
  if (report === null) return { passed: 0, failed: 1, skipped: 0 };
  const passed = report.numPassedTests;
  const skipped = report.numPendingTests + report.numTodoTests;
  const brokenFiles = report.testResults.filter(
    (file) => file.status === 'failed' && !file.assertionResults.some((test) => test.status === 'failed'),
  ).length;
  let failed = report.numFailedTests + brokenFiles;
  if (failed === 0 && (code !== 0 || passed + skipped === 0)) failed = 1;
  return { passed, failed, skipped };
}
