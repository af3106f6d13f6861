import { type Complex, complex, exponential, multiply } from './complex.ts';

/** Nodes of the contour: about 0.6 correct digits each, until rounding takes over near 24. */
const NODES = 24;

/**
 * Inverse Laplace transform at one time by the fixed Talbot method (Abate & Valkó 2004, Int. J. Numer. Meth. Engng 60,
 * 979, from memory): the Bromwich line is bent into s(θ) = r θ (cot θ + i), r = 2 M/(5 t), and summed at θ = k π/M.
 *
 * Good to about nine digits for a smooth original. An original that is delayed must be inverted from the moment its
 * delay is over, since e^(−s delay) grows along the contour: pass the transform without that factor and the time since.
 *
 * @param transform of a real original, analytic but for singularities on the negative real axis
 * @param time greater than 0 [s]
 * @throws RangeError when the time is not positive
 */
export function invertLaplace(transform: (s: Complex) => Complex, time: number, nodes = NODES): number {
  if (!(time > 0)) throw new RangeError(`invertLaplace: time must be greater than 0, got ${time}`);
  const r = (2 * nodes) / (5 * time);
  let sum = 0.5 * Math.exp(r * time) * transform(complex(r)).re;
  for (let k = 1; k < nodes; k++) {
    const theta = (k * Math.PI) / nodes;
    const cot = 1 / Math.tan(theta);
    const s = complex(r * theta * cot, r * theta);
    const slope = complex(1, theta + (theta * cot - 1) * cot);
    const kernel = multiply(exponential(complex(s.re * time, s.im * time)), slope);
    sum += multiply(kernel, transform(s)).re;
  }
  return (r / nodes) * sum;
}
