/** Every check of the validation report, run: precisely the known failures fail, and the report says what the engine does. */
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Outcome, outcomeOf } from './check.ts';
import { CHECKS, GAPS } from './checks/index.ts';
import { verdictsIn } from './report.ts';

/**
 * Checks that cannot hold, each with the physics of why beside it. A check that joins or leaves this list is a change of the engine that
 * somebody must look at.
 */
const KNOWN_FAILURES = ['C8', 'C23', 'C24', 'M3a-dry'];

describe('validation', { timeout: 120_000 }, () => {
  let outcomes: Outcome[] = [];
  beforeAll(() => {
    outcomes = CHECKS.map(outcomeOf);
  }, 120_000);

  it('fails where it is known to fail, and nowhere else', () => {
    const failing = outcomes.filter((o) => o.verdict === 'fails').map((o) => o.check.id);
    expect(failing).toEqual(KNOWN_FAILURES);
  });

  it('explains every failure', () => {
    for (const { check, verdict } of outcomes)
      if (verdict === 'fails') expect(check.why, check.id).toMatch(/^[A-Z].{80,}\.$/s);
  });

  it('gives numbers, and names a source for each', () => {
    for (const { check, got } of outcomes) {
      for (const value of got) expect(Number.isFinite(value), check.id).toBe(true);
      expect(check.source.length, check.id).toBeGreaterThan(4);
    }
  });

  it('has every check once', () => {
    const ids = [...CHECKS, ...GAPS].map((c) => c.id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('is what docs/validation.md says: write it again with npx tsx scripts/validation/write.ts', () => {
    const written = verdictsIn(readFileSync(new URL('../../docs/validation.md', import.meta.url), 'utf8'));
    const now = [
      ...outcomes.map((o): [string, string] => [o.check.id, o.verdict]),
      ...GAPS.map((gap): [string, string] => [gap.id, 'no data']),
    ];
    const checked = [...written].filter(([id]) => !id.startsWith('N'));
    expect(checked.sort()).toEqual(now.sort());
  });
});
