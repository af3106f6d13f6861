import { atMost, type Check } from './check.ts';
import { type ConvergenceTable, type Sample, spread } from './convergence.ts';

/** Plans that the sample must have to count. */
export const ENOUGH_PLANS = 200;

const last = (table: ConvergenceTable): number => table.rows.at(-1)!.order!;

/** What was measured of the numerics, as checks like the others. */
export function numericsChecks(tables: readonly ConvergenceTable[], sample: Sample): Check[] {
  const steps = tables.filter((t) => t.what === 'step');
  const worst = (pick: (d: Sample['distances'][number]) => number) =>
    spread(sample.distances.map(pick)).worst;
  const closure = (pick: (c: Sample['closures'][number]) => number) =>
    spread(sample.closures.map(pick)).worst;
  return [
    {
      id: 'N1',
      title: 'Order in time on smooth stretches',
      source: 'Design: 1.8 or more',
      tag: 'computed',
      kind: 'exact',
      figures: steps.map((t) => ({
        label: `${t.id}, between the last two refinements`,
        unit: '-',
        expected: '≥ 1.8',
        low: 1.8,
        high: Number.POSITIVE_INFINITY,
        digits: 2,
      })),
      run: () => steps.map(last),
      why: 'The step of the parts that fall short is implicit and of first order (backward Euler): stable whatever the stiffness, but its error falls only in proportion to the step.',
    },
    {
      id: 'N2',
      title: `Standard against reference over ${sample.plans} random plans, worst case`,
      source: 'Design: 0.1 % and 0.2 K',
      tag: 'computed',
      kind: 'exact',
      figures: [
        atMost('beverage', '%', 0.1),
        atMost('strength', '%', 0.1),
        atMost('yield', '%', 0.1),
        atMost('peak of the bed, server', 'K', 0.2),
        { ...atMost('plans short of 200', '-', 0, 0) },
      ],
      run: () => [
        worst((d) => d.beverage_pct),
        worst((d) => d.strength_pct),
        worst((d) => d.yield_pct),
        worst((d) => d.temperature_K),
        Math.max(0, ENOUGH_PLANS - sample.plans),
      ],
      why: 'The sample reaches far beyond brews that anybody would make: a few drops that never leave the bed, a flood, a server lifted away in mid-drip. Where a plan ends while a front is still in the bed, a figure depends on where that front is to within one cell. The table of the spread shows how far the bulk of plans stays below the limit.',
    },
    {
      id: 'N3',
      title: `Closure of balances over ${sample.plans} random plans, worst case`,
      source: 'Design: 10⁻¹⁰ relative',
      tag: 'computed',
      kind: 'exact',
      figures: ['water', 'each solute', 'enthalpy'].map((label) => ({
        ...atMost(label, '-', 1e-10),
        digits: 16,
      })),
      run: () => [closure((c) => c.water), closure((c) => c.solutes), closure((c) => c.enthalpy)],
    },
  ];
}
