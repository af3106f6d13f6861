import {
  bestGenerators,
  boxBehnken,
  candidateGrid,
  centralComposite,
  type Design,
  type DesignKind,
  type DesignModel,
  definitiveScreening,
  designTerms,
  dOptimal,
  fractionalFactorial,
  fullFactorial,
  mixtureCentroid,
  mixtureLattice,
  screening12,
} from '@pourline/core';

/** Designs that a number of factors allows, the usual first. */
export function kindsFor(k: number): readonly DesignKind[] {
  const kinds: DesignKind[] = [];
  if (k >= 1 && k <= 5) kinds.push('full_factorial');
  if (k >= 3 && k <= 7) kinds.push('fractional_factorial');
  if (k >= 2 && k <= 11) kinds.push('screening_12');
  if (k >= 2 && k <= 5) kinds.push('central_composite');
  if (k >= 3 && k <= 5) kinds.push('box_behnken');
  if (k >= 3 && k <= 8) kinds.push('definitive_screening');
  if (k >= 1 && k <= 3) kinds.push('d_optimal');
  if (k >= 2 && k <= 4) kinds.push('mixture_lattice', 'mixture_centroid');
  return kinds;
}

/** The model that a kind of design is meant to tell. */
export const modelOf = (kind: DesignKind): DesignModel => {
  switch (kind) {
    case 'full_factorial':
    case 'fractional_factorial':
      return 'interactions';
    case 'screening_12':
      return 'main';
    case 'mixture_lattice':
    case 'mixture_centroid':
      return 'mixture_quadratic';
    default:
      return 'quadratic';
  }
};

/** The design of a kind for k factors; null when there is none. `runs` matters to a D-optimal set only. */
export function makeDesign(kind: DesignKind, k: number, runs: number, seed: number): Design | null {
  switch (kind) {
    case 'full_factorial':
      return fullFactorial(k, 2);
    case 'fractional_factorial': {
      // Half of the combinations, a quarter of six, an eighth of seven.
      const basic = Math.min(4, k - 1);
      const generators = bestGenerators(k, basic);
      return generators && fractionalFactorial(basic, generators, 2);
    }
    case 'screening_12':
      return screening12(k);
    case 'central_composite':
      return centralComposite(k, 'faced', 2);
    case 'box_behnken':
      return k === 3 || k === 4 || k === 5 ? boxBehnken(k) : null;
    case 'definitive_screening':
      return definitiveScreening(k);
    case 'mixture_lattice':
      return mixtureLattice(k, 2);
    case 'mixture_centroid':
      return mixtureCentroid(k);
    default: {
      const terms = designTerms('quadratic', k);
      const levels = Array.from({ length: k }, () => [-1, 0, 1]);
      return dOptimal(candidateGrid(levels), { runs: Math.max(runs, terms.length), terms, seed });
    }
  }
}
