/** The numerics of the report, measured again: minutes, so only with POURLINE_SLOW=1. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { outcomeOf } from './check.ts';
import { convergenceTables, sampleResolutions } from './convergence.ts';
import { numericsChecks } from './numerics-checks.ts';
import { verdictsIn } from './report.ts';

/** Fewer than the report has, for time; the verdicts are the same. */
const SOME_PLANS = 40;

it.runIf(process.env.POURLINE_SLOW === '1')(
  'docs/validation.md says of order, resolutions and closure what the engine does',
  { timeout: 1_800_000 },
  () => {
    const written = verdictsIn(readFileSync(new URL('../../docs/validation.md', import.meta.url), 'utf8'));
    const outcomes = numericsChecks(
      convergenceTables(),
      sampleResolutions('servable', SOME_PLANS),
      sampleResolutions('any', SOME_PLANS),
    ).map(outcomeOf);
    expect(outcomes.map((o) => [o.check.id, o.verdict])).toEqual(
      [...written].filter(([id]) => id.startsWith('N')),
    );
  },
);
