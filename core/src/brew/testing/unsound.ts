import type { BrewResult } from '../result.ts';

/** No run needs more; a plan of 40 pours takes some 3 000 at standard resolution. */
const MOST_STEPS = 20_000;
/** Largest relative closure of a balance. */
const CLOSURE = 1e-10;
/** Figures that are not there when the bed was never wetted. */
const OF_A_WET_BED = /_bed_C$/;
/** Quantities of the trace that are there at every moment. */
const ALWAYS = ['beverage_g', 'strength_pct', 'yield_pct', 'server_C', 'bed_C', 'saturation'] as const;

/** Everything in a result that no brew may show, however odd it is, in words. */
export function unsound({ cup, trace, closure, stats, remarks }: BrewResult): string[] {
  const found: string[] = [];
  if (stats.steps > MOST_STEPS) found.push(`${stats.steps} steps`);
  const closures = [
    ['water', closure.water] as const,
    ['enthalpy', closure.enthalpy] as const,
    ...closure.solutes.map(({ key, relative }) => [key, relative] as const),
  ];
  for (const [name, relative] of closures)
    if (!(relative <= CLOSURE)) found.push(`${name} closes to ${relative}`);
  for (const [name, value] of Object.entries(cup))
    if (typeof value === 'number' && !Number.isFinite(value) && !OF_A_WET_BED.test(name))
      found.push(`${name} is ${value}`);
  for (const name of ALWAYS) if (!trace[name].every(Number.isFinite)) found.push(`${name} is not finite`);
  if (cup.yield_pct > cup.total_yield_pct + 1e-9) found.push('more is in the cup than left the grounds');
  for (const { key, extracted_pct } of cup.solutes)
    if (!(extracted_pct >= 0 && extracted_pct <= 100)) found.push(`${extracted_pct} % of ${key}`);
  for (const { sentence } of remarks) if (/[{}]|NaN|undefined|Infinity/.test(sentence)) found.push(sentence);
  return found;
}
