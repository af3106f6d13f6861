import { defaultParameters, type Resolution } from '@pourline/core';
import type { BrewCase } from '../../core/src/brew/case.ts';
import { compileCase } from '../../core/src/brew/compile.ts';
import { demoBundle } from '../demo-bundle.ts';
import { printTable } from '../table.ts';
import { ms, timesOf } from './cpu.ts';
import { byEngine, byGeneral, type Outcome } from './stretches.ts';

/** Errors that count as one: what a standard run is allowed against a reference run. */
const ALLOWED = { share: 1e-3, kelvin: 0.2 };
/** Tolerance of the run that stands for the truth. */
const TRUTH = 1e-7;

export interface Solved {
  solver: string;
  tolerance: string;
  work: string;
  cpu_ms: number;
  outcome: Outcome;
}

/** Beverage and strength [share], temperature [K], and the worst of them over what is allowed. */
export function errorsOf(
  o: Outcome,
  truth: Outcome,
): { mass: number; strength: number; kelvin: number; worst: number } {
  const mass = Math.abs(o.beverage_g / truth.beverage_g - 1);
  const strength = Math.abs(o.strength_pct / truth.strength_pct - 1);
  const kelvin = Math.max(Math.abs(o.server_C - truth.server_C), Math.abs(o.bed_C - truth.bed_C));
  return {
    mass,
    strength,
    kelvin,
    worst: Math.max(mass / ALLOWED.share, strength / ALLOWED.share, kelvin / ALLOWED.kelvin),
  };
}

function engineRuns(c: BrewCase): Solved[] {
  const settings = [
    { tolerance: 0.4, longestStep: 6, firstStep: 0.1 },
    { tolerance: 0.1, longestStep: 4, firstStep: 0.05 },
    { tolerance: 0.01, longestStep: 2, firstStep: 0.01 },
    { tolerance: 0.001, longestStep: 0.2, firstStep: 0.001 },
  ];
  return settings.map((numerics) => {
    const sized = { ...c, numerics: { ...c.numerics, ...numerics } };
    const run = byEngine(sized);
    const { cpu } = timesOf(() => byEngine(sized), { runs: 20, most_ms: 1_200 });
    return {
      solver: 'engine',
      tolerance: String(numerics.tolerance),
      work: `${run.steps}+${run.rejected} steps`,
      cpu_ms: cpu.median_ms,
      outcome: run,
    };
  });
}

function generalRuns(c: BrewCase): Solved[] {
  return [3e-4, 1e-4, 1e-5].map((rtol) => {
    const run = byGeneral(c, rtol);
    const { cpu } = timesOf(() => byGeneral(c, rtol), { runs: 3, most_ms: 1 });
    return {
      solver: 'backward differences',
      tolerance: String(rtol),
      work: `${run.steps}+${run.rejected} steps, ${run.calls} f, ${run.factors} LU`,
      cpu_ms: cpu.median_ms,
      outcome: run,
    };
  });
}

/** The engine against general stiff solvers on the same equations and cells of the demo's four pours, by error. */
export async function compare(
  resolution: Resolution,
  others: (c: BrewCase) => Promise<Solved[]> = async () => [],
): Promise<void> {
  const c = compileCase(demoBundle(), defaultParameters(), resolution);
  const truth = byGeneral(c, TRUTH);
  const tight = byEngine({
    ...c,
    numerics: { ...c.numerics, tolerance: 1e-5, longestStep: 0.02, firstStep: 1e-5 },
  });
  const apart = errorsOf(tight, truth);
  const engine = engineRuns(c);
  const general = [...generalRuns(c), ...(await others(c))];
  const rows = [...engine, ...general].map(({ solver, tolerance, work, cpu_ms, outcome }) => {
    const e = errorsOf(outcome, truth);
    const figures = [
      (100 * e.mass).toFixed(4),
      (100 * e.strength).toFixed(4),
      e.kelvin.toFixed(4),
      e.worst.toFixed(3),
    ];
    return [solver, tolerance, work, ms(cpu_ms), ...figures];
  });
  printTable(
    `The same equations on the ${c.numerics.cells} cells of ${resolution}: errors in time only, against backward differences at ${TRUTH}`,
    [
      'solver',
      'tolerance',
      'work',
      'cpu ms',
      'beverage %',
      'strength %',
      'temperature K',
      'worst of allowed',
    ],
    rows,
  );
  console.log(
    `The engine in ${tight.steps} steps differs from that by ${(100 * apart.mass).toFixed(4)} % of beverage, ` +
      `${(100 * apart.strength).toFixed(4)} % of strength and ${apart.kelvin.toFixed(4)} K: two codes, one answer.`,
  );
  printRatios(engine, general, truth);
}

function printRatios(engine: readonly Solved[], general: readonly Solved[], truth: Outcome): void {
  const solvers = [...new Set(general.map((run) => run.solver))];
  const rows = engine.flatMap((own) => {
    const { worst } = errorsOf(own.outcome, truth);
    return solvers.map((solver) => {
      const fit = general
        .filter((run) => run.solver === solver && errorsOf(run.outcome, truth).worst <= worst)
        .sort((a, b) => a.cpu_ms - b.cpu_ms)[0];
      return [
        own.tolerance,
        solver,
        worst.toFixed(3),
        fit ? fit.tolerance : 'none as good',
        fit ? (fit.cpu_ms / own.cpu_ms).toFixed(0) : '–',
      ];
    });
  });
  printTable(
    'Processor time of the general solver over the engine’s, at an error that is no larger (cheapest run that gets there)',
    ['engine at', 'solver', 'worst of allowed', 'its tolerance', 'times as long'],
    rows,
  );
}
