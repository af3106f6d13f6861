import { normalCdf, normalDensity, normalQuantile } from './distributions.ts';
import { findRoot } from './optimise.ts';
import { guessOf, type Protocol } from './protocols.ts';
import { integrate } from './quadrature.ts';

/** Beyond this many standard deviations the normal density adds nothing to a double. */
const REACH = 9;
const PARTS = 8;
/** Differences beyond which every answer is right to within a double (sensR R/links.R uses the same limits for most). */
const LARGEST: Readonly<Record<Protocol, number>> = {
  triangle: 20,
  duo_trio: 20,
  paired: 12,
  three_afc: 12,
  tetrad: 12,
};

const SHARE: Readonly<Record<Protocol, (d: number) => number>> = {
  paired: (d) => normalCdf(d / Math.SQRT2),
  three_afc: (d) => integrate((u) => normalDensity(u) * normalCdf(u + d) ** 2, -REACH, REACH, PARTS),
  duo_trio: (d) => {
    const a = normalCdf(d / Math.SQRT2);
    const b = normalCdf(d / Math.sqrt(6));
    return 1 - a - b + 2 * a * b;
  },
  triangle: (d) => {
    const shift = d * Math.sqrt(2 / 3);
    const at = (x: number) =>
      normalDensity(x) * (normalCdf(-x * Math.sqrt(3) + shift) + normalCdf(-x * Math.sqrt(3) - shift));
    return 2 * integrate(at, 0, REACH, PARTS);
  },
  tetrad: (d) => {
    const at = (z: number) => {
      const other = normalCdf(z - d);
      return normalDensity(z) * (2 * normalCdf(z) * other - other * other);
    };
    return 1 - 2 * integrate(at, -REACH, REACH, PARTS);
  },
};

const SLOPE: Readonly<Record<Protocol, (d: number) => number>> = {
  paired: (d) => normalDensity(d / Math.SQRT2) / Math.SQRT2,
  three_afc: (d) =>
    2 * integrate((u) => normalDensity(u) * normalCdf(u + d) * normalDensity(u + d), -REACH, REACH, PARTS),
  duo_trio: (d) => {
    const a = d / Math.SQRT2;
    const b = d / Math.sqrt(6);
    return (
      (normalDensity(a) / Math.SQRT2) * (2 * normalCdf(b) - 1) +
      (normalDensity(b) / Math.sqrt(6)) * (2 * normalCdf(a) - 1)
    );
  },
  triangle: (d) => Math.sqrt(2 / 3) * normalDensity(d / Math.sqrt(6)) * (2 * normalCdf(d / Math.SQRT2) - 1),
  tetrad: (d) =>
    4 *
    integrate(
      (z) => normalDensity(z) * normalDensity(z - d) * (normalCdf(z) - normalCdf(z - d)),
      -REACH,
      REACH + Math.min(d, REACH),
      PARTS,
    ),
};

/**
 * Share of right answers at a difference of `d` standard deviations (d′). Thurstonian models of the five protocols; formulas
 * of sensR R/links.R. Accurate to 1e-12; a negative d counts as 0 except in the paired test, where it means the other direction.
 */
export function shareCorrect(d: number, protocol: Protocol): number {
  const at = protocol === 'paired' ? d : Math.max(0, d);
  return at > LARGEST[protocol] ? 1 : SHARE[protocol](at);
}

/** Slope of `shareCorrect` at d: gain of right answers for one more standard deviation. */
export function slopeCorrect(d: number, protocol: Protocol): number {
  const at = protocol === 'paired' ? d : Math.max(0, d);
  return at > LARGEST[protocol] ? 0 : SLOPE[protocol](at);
}

/**
 * The difference d′ that gives a share `pc` of right answers: 0 at or below guessing, ∞ when every answer is right. Inverse of
 * `shareCorrect` to 1e-12 of the share.
 */
export function dPrimeFrom(pc: number, protocol: Protocol): number {
  if (pc <= guessOf(protocol)) return 0;
  if (protocol === 'paired') return pc >= 1 ? Number.POSITIVE_INFINITY : Math.SQRT2 * normalQuantile(pc);
  const largest = LARGEST[protocol];
  if (pc >= SHARE[protocol](largest)) return Number.POSITIVE_INFINITY;
  return findRoot((d) => SHARE[protocol](d) - pc, 0, largest, 1e-14);
}
