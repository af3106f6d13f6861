/** A published experiment, run by the engine: half an hour of immersion (reference/liang-2021). */
import { describe, expect, it } from 'vitest';
import archive from '../../../reference/liang-2021/immersion.json' with { type: 'json' };
import reported from '../../../reference/liang-2021/reported.json' with { type: 'json' };
import { bundlePlan, checkArchive } from '../documents/index.ts';
import { simulate } from './simulate.ts';

const checked = checkArchive(archive);
if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join(' '));
const documents = checked.value.documents;

/** Share of the dose that left the grains. */
function totalYield(ratio: number, temperature: number): number {
  const plan = documents.find((d) => d.kind === 'plan' && d.name === `${ratio} : 1 at ${temperature} °C`);
  if (plan?.kind !== 'plan') throw new Error(`no plan for ${ratio} : 1 at ${temperature} °C`);
  const bundle = bundlePlan(plan, (id) => documents.find((d) => d.id === id));
  if (!bundle.ok) throw new Error(bundle.problems[0]!.sentence);
  return simulate(bundle.value, { resolution: 'draft' }).cup.total_yield_pct / 100;
}

describe('long immersion (Liang, Chan & Ristenpart 2021, abstract)', { timeout: 60_000 }, () => {
  it('yields about 21 % at 15 : 1 (the level of what grains hold was chosen for this one)', () => {
    expect(Math.abs(totalYield(15, 92) - reported.yield)).toBeLessThan(reported.yield_tolerance);
  });
  it.each([10, 15, 20])('does not depend on temperature from 80 to 99 °C at %i : 1', (ratio) => {
    const change = totalYield(ratio, 99) - totalYield(ratio, 80);
    expect(Math.abs(change)).toBeLessThan(reported.temperature_effect_below);
  });
  it('does not depend on the ratio from 10 : 1 to 20 : 1, within half a point either way', () => {
    const yields = [10, 12, 15, 18, 20].map((ratio) => totalYield(ratio, 92));
    expect((Math.max(...yields) - Math.min(...yields)) / 2).toBeLessThan(0.005);
  });
});
