import type { DesignModel, ModelTerm } from './types.ts';

/** Terms of a named model of k factors. Mixture models have no constant: the shares make it. */
export function termsOf(model: DesignModel, k: number): ModelTerm[] {
  const one = (...at: number[]): number[] => {
    const term = new Array<number>(k).fill(0);
    for (const i of at) term[i]!++;
    return term;
  };
  const main = Array.from({ length: k }, (_, i) => one(i));
  const pairs = Array.from({ length: k }, (_, i) =>
    Array.from({ length: k - i - 1 }, (_, j) => one(i, i + 1 + j)),
  ).flat();
  switch (model) {
    case 'main':
      return [one(), ...main];
    case 'interactions':
      return [one(), ...main, ...pairs];
    case 'quadratic':
      return [one(), ...main, ...pairs, ...main.map((_, i) => one(i, i))];
    case 'mixture_linear':
      return main;
    case 'mixture_quadratic':
      return [...main, ...pairs];
  }
}

/** Value of a term at coded levels. */
export function termAt(term: ModelTerm, at: readonly number[]): number {
  let value = 1;
  for (let i = 0; i < term.length; i++) for (let p = 0; p < term[i]!; p++) value *= at[i]!;
  return value;
}

/** Model matrix [runs][terms]. */
export const modelMatrix = (
  terms: readonly ModelTerm[],
  points: readonly (readonly number[])[],
): number[][] => points.map((at) => terms.map((term) => termAt(term, at)));

/** A term by the names of its factors: `dose`, `dose × grind`, `grind²`; the constant is "mean". */
export function termName(term: ModelTerm, names: readonly string[]): string {
  const parts = term.flatMap((power, i) => {
    if (power === 0) return [];
    return [power === 1 ? names[i]! : power === 2 ? `${names[i]}²` : `${names[i]}^${power}`];
  });
  return parts.length === 0 ? 'mean' : parts.join(' × ');
}

/** Is it a constant, a main effect, a product, a square? By the number of powers it holds. */
export const orderOf = (term: ModelTerm): number => term.reduce((t, p) => t + p, 0);
