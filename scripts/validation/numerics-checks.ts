import { atMost, type Check } from './check.ts';
import { type ConvergenceTable, type Distance, type Sample, spread } from './convergence.ts';

/** Plans that the sample must have to count. */
export const ENOUGH_PLANS = 200;

/** Smallest brew that counts as a cup [g]: below, shares say nothing. */
export const CUP_G = 20;

export const hasCup = (d: Distance): boolean => d.cup_g >= CUP_G;

/** Worst distances of some plans, held against the design. */
function resolutions(distances: readonly Distance[]): Omit<Check, 'id' | 'title'> {
  const worst = (pick: (d: Distance) => number) => spread(distances.map(pick)).worst;
  return {
    source: 'Design: 0.1 % and 0.2 K over 200 plans or more',
    tag: 'computed',
    kind: 'exact',
    figures: [
      atMost('beverage', '%', 0.1),
      atMost('strength', '%', 0.1),
      atMost('yield', '%', 0.1),
      atMost('peak of the bed, server', 'K', 0.2),
    ],
    run: () => [
      worst((d) => d.beverage_pct),
      worst((d) => d.strength_pct),
      worst((d) => d.yield_pct),
      worst((d) => d.temperature_K),
    ],
    why: WHY_FAR,
  };
}

const WHY_FAR =
  'What is left comes from the cells: a standard run has half those of a reference run, and the sharp edges of a wetting front and of a layer that a jet or a hand mixes fall on them by chance. The spread above shows that the bulk of plans is within the limit. More cells would bring the worst in, at the price of time.';

const last = (table: ConvergenceTable): number => table.rows.at(-1)!.order!;

/** What was measured of the numerics, as checks like the others. */
export function numericsChecks(tables: readonly ConvergenceTable[], sample: Sample, any: Sample): Check[] {
  const steps = tables.filter((t) => t.what === 'step');
  const closure = (pick: (c: Sample['closures'][number]) => number) =>
    spread([...sample.closures, ...any.closures].map(pick)).worst;
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
      why: 'Each stage reads some laws at levels carried forward from the last step. A part that falls short reads one of them at a moment that is not its own, so that its error falls only in proportion to the step.',
    },
    {
      ...resolutions(sample.distances.filter(hasCup)),
      id: 'N2',
      title: 'Standard against reference, worst of the random plans that one would serve',
    },
    {
      ...resolutions(any.distances.filter(hasCup)),
      id: 'N2-any',
      title: `Standard against reference, worst of plans that say anything and give ${CUP_G} g or more`,
      why: 'Among plans that say anything there are some that hardly wet a bed, pour ice water or are lifted in the first drips. Their cup is a small difference of large amounts, and a share of next to nothing is no measure.',
    },
    {
      id: 'N3',
      title: 'Closure of balances over all random plans, worst case',
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
