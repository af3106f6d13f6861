/** Diffusion out of a sphere, exact: the answers that a well-mixed vessel must give. */

/** Terms that are enough for τ ≥ 10⁻⁴. */
const TERMS = 400;

/**
 * Fraction released by a sphere whose surface is held at zero, at τ = D t/R²: F = 1 − (6/π²) Σ exp(−n²π²τ)/n² (Crank, The
 * Mathematics of Diffusion, eq. 6.20, from memory).
 */
export function releasedIntoSink(tau: number): number {
  let left = 0;
  for (let n = TERMS; n >= 1; n--) left += Math.exp(-((n * Math.PI) ** 2) * tau) / (n * n);
  return 1 - (6 / Math.PI ** 2) * left;
}

/**
 * Fraction of the final release, M_t/M_∞, of a sphere in a limited, well-stirred bath: 1 − Σ 6 α (α+1) exp(−q²τ)/(9 + 9 α + q²α²)
 * over the positive roots of tan q = 3 q/(3 + α q²) (Crank eq. 6.30, from memory).
 *
 * @param alpha volume of the bath over partition times volume of the spheres
 */
export function releasedIntoBath(alpha: number, tau: number): number {
  let left = 0;
  for (let n = TERMS; n >= 1; n--) {
    const q = bathRoot(alpha, n);
    left += (6 * alpha * (alpha + 1) * Math.exp(-q * q * tau)) / (9 + 9 * alpha + q * q * alpha * alpha);
  }
  return 1 - left;
}

/** The n-th positive root of tan q = 3 q/(3 + α q²): it lies between n π and (n + ½) π, where the left side runs from 0 to ∞. */
function bathRoot(alpha: number, n: number): number {
  let low = n * Math.PI;
  let high = (n + 0.5) * Math.PI;
  for (let i = 0; i < 60; i++) {
    const q = (low + high) / 2;
    if (Math.sin(q) * (3 + alpha * q * q) * Math.cos(q) < 3 * q * Math.cos(q) ** 2) low = q;
    else high = q;
  }
  return (low + high) / 2;
}
