import type { Composition } from './composition.ts';
import { conditionalConstants, K, K_COUNT } from './conditional.ts';
import { LN10, type Medium } from './medium.ts';
import { CHARGES, SPECIES_INDEX, SPECIES_NAMES } from './species.ts';

/**
 * What fixes the carbon of a water: the total that is in it [mol/kg] (closed), the pressure of CO2 over it [atm] (open), or a
 * pH that was measured.
 */
export type CarbonRule =
  | { readonly by: 'total'; readonly carbon: number }
  | { readonly by: 'pressure'; readonly atm: number }
  | { readonly by: 'pH'; readonly pH: number };

/** How the solver went. */
export interface SolverStats {
  iterations: number;
  /** Largest relative miss of the balances of alkalinity, carbon and sulfate at the end. */
  residual: number;
  converged: boolean;
}

/** Arrays that a solve works in; one set serves any number of solves, one after another. */
export interface Workspace {
  /** Molality of every species [mol/kg], the result. */
  molality: Float64Array;
  /** Conditional constants of the result, by {@link K}. */
  constants: Float64Array;
  /** Totals of Ca, Mg, Na, K [mol/kg]. */
  metals: Float64Array;
  /** Ionic strength that the constants belong to [mol/kg]. */
  ionicStrength: number;
}

export const makeWorkspace = (): Workspace => ({
  molality: new Float64Array(SPECIES_NAMES.length),
  constants: new Float64Array(K_COUNT),
  metals: new Float64Array(4),
  ionicStrength: 0,
});

const MAX_ITERATIONS = 200;
/** Longest step in the logarithm of a concentration. */
const MAX_STEP = 6;
/** Less than a thousand atoms in a litre [mol/kg] is none. */
const NOTHING = 1e-21;
/** ln of a concentration that stands for "none". */
const NONE = -250;
const I = SPECIES_INDEX;

/** Charge squared of each metal free and in its four forms: with HCO3, CO3, SO4, OH. Forms a metal lacks have K = 0. */
const SQUARES = Float64Array.of(4, 1, 0, 0, 1, 4, 1, 0, 0, 1, 1, 0, 1, 1, 0, 1, 0, 0, 1, 0);

/**
 * Finds the equilibrium of one water: molalities of all species into `work.molality`.
 *
 * Newton's method on the logarithms of free H⁺, CO3²⁻ and SO4²⁻; the metals follow from their totals in closed form. The
 * three equations are logarithms of balances, ln(what is there / what should be), which makes them nearly straight and the
 * method converge from afar. The activity coefficients are renewed before each step at the ionic strength that the last
 * step leads to, closed in by the secant; once it stands still they are held while the balances close to rounding.
 *
 * `c` [mol/kg]: `c.carbon` is not read, the rule says. Alkalinity may be negative (an acid water). Does not converge where
 * no such water can be, for example at a pH whose hydroxide alone exceeds the alkalinity.
 */
export function solveEquilibrium(
  medium: Medium,
  c: Readonly<Composition>,
  rule: CarbonRule,
  work: Workspace,
): SolverStats {
  const { constants: k, metals } = work;
  const { alkalinity } = c;
  metals[0] = c.calcium;
  metals[1] = c.magnesium;
  metals[2] = c.sodium;
  metals[3] = c.potassium;
  const hasSulfate = c.sulfate > NOTHING;
  const byTotal = rule.by === 'total';
  const byPressure = rule.by === 'pressure';
  const hasCarbon = !byTotal || rule.carbon > NOTHING;
  // ln of the carbon, of the dissolved CO2 before its activity coefficient, or of the activity of H⁺.
  const lnRule = byTotal
    ? Math.log(rule.carbon)
    : byPressure
      ? medium.lnHenry + Math.log(rule.atm)
      : -rule.pH * LN10;
  const unpaired = (c.chloride + c.nitrate) / 2;
  let strength = firstStrength(c);
  let lastStrength = 0;
  let lastGap = 0;
  let x = firstLnH(medium, c, rule);
  let y = NONE;
  let z = hasSulfate ? Math.log(c.sulfate) : NONE;
  let lnTarget = lnRule;
  let lnQ0 = 0;
  let frozen = false;
  let iterations = 0;
  let residual = Number.POSITIVE_INFINITY;

  while (iterations < MAX_ITERATIONS) {
    iterations++;
    if (!frozen) {
      conditionalConstants(medium, strength, k);
      lnQ0 = k[K.lnQ0]!;
      lnTarget = byTotal ? lnRule : lnRule - (byPressure ? k[K.lnNeutral]! : k[K.lnH]!);
      if (iterations === 1 && hasCarbon) {
        if (byPressure) y = lnTarget - lnQ0 - 2 * x;
        else {
          const h = Math.exp(x);
          const per = 1 + k[K.q1]! * h + k[K.q0]! * h * h;
          y = byTotal ? lnRule - Math.log(per) : Math.log(Math.max(alkalinity, 1e-9) / (k[K.q1]! * h + 2));
        }
      }
    }

    const h = Math.exp(x);
    const c3 = hasCarbon ? Math.exp(y) : 0;
    const s = hasSulfate ? Math.exp(z) : 0;
    const hc = h * c3;
    const bicarbonate = k[K.q1]! * hc;
    const co2 = k[K.q0]! * h * hc;
    const hydroxide = k[K.water]! / h;
    const hso4 = k[K.hso4]! * h * s;

    // Sums and their slopes by x, y and z. "plus" and "minus" are the two sides of the alkalinity.
    let plus = bicarbonate + 2 * c3 + hydroxide;
    let plusX = bicarbonate - hydroxide;
    let plusY = bicarbonate + 2 * c3;
    let plusZ = 0;
    const minus = h + hso4;
    let carbon = co2 + bicarbonate + c3;
    let carbonX = 2 * co2 + bicarbonate;
    let carbonY = carbon;
    let carbonZ = 0;
    let sulfate = s + hso4;
    let sulfateX = hso4;
    let sulfateY = 0;
    let sulfateZ = sulfate;
    let ions = (bicarbonate + hydroxide + h + hso4) / 2 + 2 * (c3 + s) + unpaired;
    let ionsX = (bicarbonate - hydroxide + h + hso4) / 2;
    let ionsY = bicarbonate / 2 + 2 * c3;
    let ionsZ = hso4 / 2 + 2 * s;
    for (let metal = 0; metal < 4; metal++) {
      const total = metals[metal]!;
      if (total === 0) continue;
      const at = 4 * metal;
      const t1 = k[at]! * hc;
      const t2 = k[at + 1]! * c3;
      const t3 = k[at + 2]! * s;
      const t4 = k[at + 3]! / h;
      const free = total / (1 + t1 + t2 + t3 + t4);
      const p1 = t1 * free;
      const p2 = t2 * free;
      const p3 = t3 * free;
      const p4 = t4 * free;
      // How the free metal falls as it is taken up: d ln(free) by x, y and z.
      const gx = (p4 - p1) / total;
      const gy = -(p1 + p2) / total;
      const gz = -p3 / total;
      const bound = p1 + 2 * p2 + p4;
      plus += bound;
      plusX += p1 - p4 + bound * gx;
      plusY += p1 + 2 * p2 + bound * gy;
      plusZ += bound * gz;
      const held = p1 + p2;
      carbon += held;
      carbonX += p1 + held * gx;
      carbonY += held * (1 + gy);
      carbonZ += held * gz;
      sulfate += p3;
      sulfateX += p3 * gx;
      sulfateY += p3 * gy;
      sulfateZ += p3 * (1 + gz);
      const of = 5 * metal;
      const s1 = SQUARES[of + 1]! * p1;
      const s2 = SQUARES[of + 2]! * p2;
      const s3 = SQUARES[of + 3]! * p3;
      const s4 = SQUARES[of + 4]! * p4;
      const half = (SQUARES[of]! * free + s1 + s2 + s3 + s4) / 2;
      ions += half;
      ionsX += (s1 - s4) / 2 + half * gx;
      ionsY += (s1 + s2) / 2 + half * gy;
      ionsZ += s3 / 2 + half * gz;
    }

    // f1: alkalinity. f2: carbon, by its rule. f3: sulfate.
    const above = alkalinity < 0 ? plus - alkalinity : plus;
    const below = alkalinity > 0 ? minus + alkalinity : minus;
    const f1 = Math.log(above / below);
    let a11 = plusX / above - minus / below;
    let a12 = plusY / above;
    const a13 = plusZ / above - hso4 / below;
    let f2 = 0;
    let a21 = 0;
    let a22 = 1;
    let a23 = 0;
    if (byPressure) {
      f2 = lnQ0 + 2 * x + y - lnTarget;
      a21 = 2;
    } else if (!byTotal) {
      f2 = x - lnTarget;
      a21 = 1;
      a22 = 0;
    } else if (hasCarbon) {
      f2 = Math.log(carbon) - lnTarget;
      a21 = carbonX / carbon;
      a22 = carbonY / carbon;
      a23 = carbonZ / carbon;
    }
    let f3 = 0;
    let a31 = 0;
    let a32 = 0;
    if (hasSulfate) {
      f3 = Math.log(sulfate / c.sulfate) * (sulfate / sulfateZ);
      a31 = sulfateX / sulfateZ;
      a32 = sulfateY / sulfateZ;
    }
    const miss = Math.max(Math.abs(f1), Math.abs(f2), Math.abs(f3));
    if (frozen && (miss < 3e-15 || miss >= residual)) {
      residual = Math.min(miss, residual);
      break;
    }
    if (frozen) residual = miss;

    // The step: z is taken out first, since sulfate hardly feels the others.
    a11 -= a13 * a31;
    a12 -= a13 * a32;
    a21 -= a23 * a31;
    a22 -= a23 * a32;
    const r1 = f1 - a13 * f3;
    const r2 = f2 - a23 * f3;
    const det = a11 * a22 - a12 * a21;
    let dx = (r1 * a22 - a12 * r2) / det;
    let dy = (a11 * r2 - r1 * a21) / det;
    let dz = f3 - a31 * dx - a32 * dy;
    const longest = Math.max(Math.abs(dx), Math.abs(dy), Math.abs(dz));
    if (longest > MAX_STEP) {
      const cut = MAX_STEP / longest;
      dx *= cut;
      dy *= cut;
      dz *= cut;
    }
    x -= dx;
    y -= dy;
    z -= dz;
    if (!frozen) {
      // `strength` made the coefficients, `next` is where this step leads: close in on where the two agree.
      const next = longest < 1 ? ions - ionsX * dx - ionsY * dy - ionsZ * dz : ions;
      const gap = next - strength;
      frozen = longest < 1e-4 && Math.abs(gap) <= 1e-7 * next;
      const slope = (gap - lastGap) / (strength - lastStrength);
      lastGap = gap;
      lastStrength = strength;
      const secant = strength - gap / slope;
      const trusted = longest < 0.02 && slope < -0.5 && slope > -2 && Math.abs(secant - next) < 0.2 * next;
      strength = trusted ? secant : next;
    }
  }
  writeMolalities(c, work, Math.exp(x), hasCarbon ? Math.exp(y) : 0, hasSulfate ? Math.exp(z) : 0);
  work.ionicStrength = lastStrength;
  return { iterations, residual, converged: residual < 1e-12 };
}

/** All species from the three free ones and the conditional constants. */
function writeMolalities(c: Readonly<Composition>, work: Workspace, h: number, c3: number, s: number): void {
  const { molality: m, constants: k, metals } = work;
  const metal = (of: number, free: number, a: number, b: number, d: number, e: number): void => {
    const at = 4 * of;
    const t1 = k[at]! * h * c3;
    const t2 = k[at + 1]! * c3;
    const t3 = k[at + 2]! * s;
    const t4 = k[at + 3]! / h;
    const left = metals[of]! / (1 + t1 + t2 + t3 + t4);
    m[free] = left;
    if (a >= 0) m[a] = t1 * left;
    if (b >= 0) m[b] = t2 * left;
    m[d] = t3 * left;
    if (e >= 0) m[e] = t4 * left;
  };
  metal(0, I.Ca, I.CaHCO3, I.CaCO3, I.CaSO4, I.CaOH);
  metal(1, I.Mg, I.MgHCO3, I.MgCO3, I.MgSO4, I.MgOH);
  metal(2, I.Na, I.NaHCO3, I.NaCO3, I.NaSO4, -1);
  metal(3, I.K, -1, -1, I.KSO4, -1);
  m[I.H] = h;
  m[I.OH] = k[K.water]! / h;
  m[I.CO2] = k[K.q0]! * h * h * c3;
  m[I.HCO3] = k[K.q1]! * h * c3;
  m[I.CO3] = c3;
  m[I.SO4] = s;
  m[I.HSO4] = k[K.hso4]! * h * s;
  m[I.Cl] = c.chloride;
  m[I.NO3] = c.nitrate;
}

/** Ionic strength ½ Σ z² m [mol/kg]. */
export function ionicStrength(molality: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < CHARGES.length; i++) sum += CHARGES[i]! * CHARGES[i]! * molality[i]!;
  return sum / 2;
}

/** Ionic strength as if nothing were paired, to start from. */
const firstStrength = (c: Readonly<Composition>): number =>
  2 * (c.calcium + c.magnesium + c.sulfate) +
  (c.sodium + c.potassium + c.chloride + c.nitrate + Math.abs(c.alkalinity)) / 2 +
  1e-7;

/** ln of H⁺ to start from: that of the carbonates alone, roughly. */
function firstLnH(medium: Medium, c: Readonly<Composition>, rule: CarbonRule): number {
  const { alkalinity } = c;
  if (rule.by === 'pH') return -rule.pH * LN10;
  if (alkalinity < -1e-9) return Math.log(-alkalinity);
  const neutral = medium.lnWater / 2;
  if (rule.by === 'pressure') {
    const lnCO2 = medium.lnHenry + Math.log(rule.atm);
    // Bicarbonate is the alkalinity, or what CO2 alone makes of it.
    const lnB = alkalinity > 1e-9 ? Math.log(alkalinity) : (medium.lnK1 + lnCO2) / 2;
    return Math.min(medium.lnK1 + lnCO2 - lnB, -2 * LN10);
  }
  const { carbon } = rule;
  if (!(carbon > NOTHING)) return alkalinity > 1e-9 ? medium.lnWater - Math.log(alkalinity) : neutral;
  if (alkalinity <= 1e-9) return (medium.lnK1 + Math.log(carbon)) / 2;
  const spare = carbon - alkalinity;
  if (spare > 1e-3 * carbon) return medium.lnK1 + Math.log(spare / alkalinity);
  if (spare > -1e-3 * carbon) return (medium.lnK1 + medium.lnK2) / 2;
  const double = 2 * carbon - alkalinity;
  if (double > 1e-3 * carbon) return medium.lnK2 + Math.log(double / -spare);
  return Math.max(medium.lnWater - Math.log(alkalinity), -13 * LN10);
}
