import type { Finding } from '../../panel/findings.ts';
import { definitiveScreening } from './definitive-screening.ts';
import { bestGenerators, fractionalFactorial, fullFactorial, screening12 } from './factorial.ts';
import { mixtureCentroid, mixtureLattice } from './mixture.ts';
import { boxBehnken, centralComposite } from './response-surface.ts';
import { sayDesign } from './run-sheet.ts';
import type { Design, DesignFactor, DesignModel } from './types.ts';

/** A design that so many factors could be brewed with. */
export interface DesignChoice {
  design: Design;
  runs: number;
  grams: number | null;
  /** Largest model whose terms it tells apart. */
  model: DesignModel;
  /** Does it show bends, so that a best level inside the range can be found? */
  bends: boolean;
  findings: Finding[];
}

/** Centre runs added to two-level designs, so that a bend shows and scatter is known. */
const CENTRES = 3;

/**
 * Designs for some factors, the smallest first: what each tells, and what it costs. Parts of a cube come with their aliases; those with more
 * runs than wanted are left out.
 */
export function designChoices(
  factors: readonly Pick<DesignFactor, 'name'>[],
  { most_runs, dose_g, mixture = false }: { most_runs: number; dose_g: number | null; mixture?: boolean },
): DesignChoice[] {
  const k = factors.length;
  const found = mixture ? mixtures(k) : [...parts(k), ...whole(k), ...curved(k)];
  return found
    .filter(({ design }) => design.points.length <= most_runs)
    .map(({ design, model }) => ({
      design,
      runs: design.points.length,
      grams: dose_g === null ? null : design.points.length * dose_g,
      model,
      bends: model === 'quadratic' || model === 'mixture_quadratic' || design.kind === 'definitive_screening',
      findings: sayDesign(design, factors),
    }))
    .sort((a, b) => a.runs - b.runs);
}

type Found = { design: Design; model: DesignModel };

function parts(k: number): Found[] {
  const found: Found[] = [];
  for (let basic = 2; basic < k && basic <= 5; basic++) {
    const generators = bestGenerators(k, basic);
    if (!generators) continue;
    const design = fractionalFactorial(basic, generators, CENTRES);
    found.push({ design, model: design.resolution! >= 5 ? 'interactions' : 'main' });
  }
  if (k >= 4 && k <= 11) found.push({ design: screening12(k, CENTRES), model: 'main' });
  return found;
}

const whole = (k: number): Found[] =>
  k >= 1 && k <= 6 ? [{ design: fullFactorial(k, CENTRES), model: 'interactions' }] : [];

function curved(k: number): Found[] {
  const found: Found[] = [];
  if (k >= 3) found.push({ design: definitiveScreening(k), model: 'main' });
  if (k >= 2 && k <= 6) {
    found.push({ design: centralComposite(k, 'circumscribed', CENTRES), model: 'quadratic' });
    found.push({ design: centralComposite(k, 'faced', CENTRES), model: 'quadratic' });
  }
  if (k === 3 || k === 4 || k === 5) found.push({ design: boxBehnken(k, CENTRES), model: 'quadratic' });
  return found;
}

function mixtures(q: number): Found[] {
  if (q < 2) return [];
  return [
    { design: mixtureLattice(q, 1), model: 'mixture_linear' },
    { design: mixtureLattice(q, 2), model: 'mixture_quadratic' },
    { design: mixtureCentroid(q), model: 'mixture_quadratic' },
  ];
}
