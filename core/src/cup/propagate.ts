import type { Measured } from './uncertainty.ts';

/** What one input adds to the doubt of a result. */
export interface Cause {
  /** Name of the input. */
  cause: string;
  /** Standard uncertainty of the result from this input alone, in the unit of the result. */
  part: number;
  /** Share of the variance of the result, 0–1. */
  share: number;
}

/** A figure with its standard uncertainty and what that comes from, the largest cause first. */
export interface Propagated extends Measured {
  causes: readonly Cause[];
}

/**
 * Value and standard uncertainty of a function of independent measured values, by first-order propagation: u² = Σ (∂f/∂x · u_x)².
 * JCGM 100:2008 (GUM) 5.1.2. Slopes are central differences over one standard uncertainty either way (GUM 5.1.3 note 2); an input
 * without uncertainty is no cause. Good while f is nearly straight over a few uncertainties.
 */
export function propagate<K extends string>(
  f: (inputs: Readonly<Record<K, number>>) => number,
  inputs: Readonly<Record<K, Measured>>,
): Propagated {
  const names = Object.keys(inputs) as K[];
  const values = Object.fromEntries(names.map((name) => [name, inputs[name].value])) as Record<K, number>;
  const parts = names.flatMap((name) => {
    const { value, uncertainty } = inputs[name];
    if (!(uncertainty > 0)) return [];
    const high = f({ ...values, [name]: value + uncertainty });
    const low = f({ ...values, [name]: value - uncertainty });
    return [{ cause: name as string, part: Math.abs(high - low) / 2 }];
  });
  const variance = parts.reduce((sum, { part }) => sum + part * part, 0);
  const causes = parts
    .map(({ cause, part }) => ({ cause, part, share: variance > 0 ? (part * part) / variance : 0 }))
    .sort((a, b) => b.part - a.part);
  return { value: f(values), uncertainty: Math.sqrt(variance), causes };
}
