import { lnActivities } from './activity.ts';
import type { Composition } from './composition.ts';
import { LN10, type Medium } from './medium.ts';
import { CHARGES, SPECIES_INDEX, SPECIES_NAMES } from './species.ts';

/**
 * What fixes the carbon of a water: the total that is in it (closed), the pressure of CO2 over it [atm] (open), or a pH that
 * was measured.
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
  /** ln γ of every species. */
  lnGamma: Float64Array;
}

export const makeWorkspace = (): Workspace => ({
  molality: new Float64Array(SPECIES_NAMES.length),
  lnGamma: new Float64Array(SPECIES_NAMES.length),
});

const MAX_ITERATIONS = 200;
/** Longest step in the logarithm of a concentration. */
const MAX_STEP = 6;
/** ln of a concentration that stands for "none". */
const NONE = -250;
const COUNT = SPECIES_NAMES.length;
const I = SPECIES_INDEX;

/**
 * Finds the equilibrium of one water: molalities of all species into `work.molality`.
 *
 * Newton's method on the logarithms of free H⁺, CO3²⁻ and SO4²⁻; the metals follow from their totals in closed form. The
 * three equations are logarithms of balances, ln(what is there / what should be), which makes them nearly straight and the
 * method converge from afar. Activity coefficients are renewed between steps until the ionic strength stands still, and
 * then held while the balances close to rounding.
 *
 * `c` [mol/kg]: `c.carbon` is not read, the rule says. Alkalinity may be negative (an acid water).
 */
export function solveEquilibrium(
  medium: Medium,
  c: Readonly<Composition>,
  rule: CarbonRule,
  work: Workspace,
): SolverStats {
  const { molality: m, lnGamma: g } = work;
  const hasSulfate = c.sulfate > 0;
  const hasCarbon = rule.by === 'total' ? rule.carbon > 0 : true;
  const alkalinity = c.alkalinity;
  m[I.Cl] = c.chloride;
  m[I.NO3] = c.nitrate;
  let strength = firstStrength(c);
  let x = firstLnH(medium, c, rule);
  let y = NONE;
  let z = hasSulfate ? Math.log(c.sulfate) : NONE;
  let frozen = false;
  let started = false;
  const stats: SolverStats = { iterations: 0, residual: Number.POSITIVE_INFINITY, converged: false };

  // Conditional constants: equilibrium constants over activity coefficients, renewed with these.
  let q0 = 0;
  let q1 = 0;
  let w = 0;
  let b = 0;
  let ca1 = 0;
  let ca2 = 0;
  let ca3 = 0;
  let ca4 = 0;
  let mg1 = 0;
  let mg2 = 0;
  let mg3 = 0;
  let mg4 = 0;
  let na1 = 0;
  let na2 = 0;
  let na3 = 0;
  let k3 = 0;
  let lnQ0 = 0;
  let lnTarget = 0;
  let lnH = 0;

  while (stats.iterations < MAX_ITERATIONS) {
    stats.iterations++;
    if (!frozen) {
      lnActivities(medium, strength, g);
      const gH = g[I.H]!;
      const gC = g[I.CO3]!;
      const gS = g[I.SO4]!;
      const gB = g[I.HCO3]!;
      const gN = g[I.CO2]!; // every uncharged species
      const gCa = g[I.Ca]!;
      const gMg = g[I.Mg]!;
      const gNa = g[I.Na]!;
      const lnB = gH + gC - medium.lnK2;
      lnQ0 = lnB + gH - medium.lnK1 - gN;
      q0 = Math.exp(lnQ0);
      q1 = Math.exp(lnB - gB);
      w = Math.exp(medium.lnWater - gH - g[I.OH]!);
      b = Math.exp(medium.lnHSO4 + gH + gS - g[I.HSO4]!);
      ca1 = Math.exp(medium.lnCaHCO3 + lnB + gCa - g[I.CaHCO3]!);
      ca2 = Math.exp(medium.lnCaCO3 + gCa + gC - gN);
      ca3 = Math.exp(medium.lnCaSO4 + gCa + gS - gN);
      ca4 = Math.exp(medium.lnCaOH + gCa - gH - g[I.CaOH]!);
      mg1 = Math.exp(medium.lnMgHCO3 + lnB + gMg - g[I.MgHCO3]!);
      mg2 = Math.exp(medium.lnMgCO3 + gMg + gC - gN);
      mg3 = Math.exp(medium.lnMgSO4 + gMg + gS - gN);
      mg4 = Math.exp(medium.lnMgOH + gMg - gH - g[I.MgOH]!);
      na1 = Math.exp(medium.lnNaHCO3 + lnB + gNa - gN);
      na2 = Math.exp(medium.lnNaCO3 + gNa + gC - g[I.NaCO3]!);
      na3 = Math.exp(medium.lnNaSO4 + gNa + gS - g[I.NaSO4]!);
      k3 = Math.exp(medium.lnKSO4 + g[I.K]! + gS - g[I.KSO4]!);
      if (rule.by === 'pressure') lnTarget = medium.lnHenry + Math.log(rule.atm) - gN;
      if (rule.by === 'pH') lnH = -rule.pH * LN10 - gH;
    }
    if (!started) {
      started = true;
      if (rule.by === 'pH') x = lnH;
      if (!hasCarbon) y = NONE;
      else if (rule.by === 'pressure') y = lnTarget - lnQ0 - 2 * x;
      else {
        const h = Math.exp(x);
        const per = 1 + q1 * h + q0 * h * h;
        const carbon =
          rule.by === 'total' ? rule.carbon : (Math.max(alkalinity, 1e-9) * per) / (q1 * h + 2);
        y = Math.log(carbon / per);
      }
    }

    const h = Math.exp(x);
    const c3 = hasCarbon ? Math.exp(y) : 0;
    const s = hasSulfate ? Math.exp(z) : 0;
    const hc = h * c3;
    const bicarbonate = q1 * hc;
    const co2 = q0 * h * hc;
    const hydroxide = w / h;
    const hso4 = b * h * s;

    // Sums and their slopes by x, y and z; "plus" and "minus" are the two sides of the alkalinity.
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
    for (let metal = 0; metal < 4; metal++) {
      const total =
        metal === 0 ? c.calcium : metal === 1 ? c.magnesium : metal === 2 ? c.sodium : c.potassium;
      const t1 = (metal === 0 ? ca1 : metal === 1 ? mg1 : metal === 2 ? na1 : 0) * hc;
      const t2 = (metal === 0 ? ca2 : metal === 1 ? mg2 : metal === 2 ? na2 : 0) * c3;
      const t3 = (metal === 0 ? ca3 : metal === 1 ? mg3 : metal === 2 ? na3 : k3) * s;
      const t4 = (metal === 0 ? ca4 : metal === 1 ? mg4 : 0) / h;
      const free = total / (1 + t1 + t2 + t3 + t4);
      const p1 = t1 * free;
      const p2 = t2 * free;
      const p3 = t3 * free;
      const p4 = t4 * free;
      if (metal === 0) {
        m[I.Ca] = free;
        m[I.CaHCO3] = p1;
        m[I.CaCO3] = p2;
        m[I.CaSO4] = p3;
        m[I.CaOH] = p4;
      } else if (metal === 1) {
        m[I.Mg] = free;
        m[I.MgHCO3] = p1;
        m[I.MgCO3] = p2;
        m[I.MgSO4] = p3;
        m[I.MgOH] = p4;
      } else if (metal === 2) {
        m[I.Na] = free;
        m[I.NaHCO3] = p1;
        m[I.NaCO3] = p2;
        m[I.NaSO4] = p3;
      } else {
        m[I.K] = free;
        m[I.KSO4] = p3;
      }
      if (total === 0) continue;
      // How the free metal falls as it is taken up: d ln(free) by x, y and z.
      const gx = -(p1 - p4) / total;
      const gy = -(p1 + p2) / total;
      const gz = -p3 / total;
      const bound = p1 + 2 * p2 + p4;
      plus += bound;
      plusX += p1 - p4 + bound * gx;
      plusY += p1 + 2 * p2 + bound * gy;
      plusZ += bound * gz;
      carbon += p1 + p2;
      carbonX += p1 + (p1 + p2) * gx;
      carbonY += (p1 + p2) * (1 + gy);
      carbonZ += (p1 + p2) * gz;
      sulfate += p3;
      sulfateX += p3 * gx;
      sulfateY += p3 * gy;
      sulfateZ += p3 * (1 + gz);
    }
    m[I.H] = h;
    m[I.OH] = hydroxide;
    m[I.CO2] = co2;
    m[I.HCO3] = bicarbonate;
    m[I.CO3] = c3;
    m[I.SO4] = s;
    m[I.HSO4] = hso4;

    // F1: alkalinity. F2: carbon, by its rule. F3: sulfate.
    const above = plus + (alkalinity < 0 ? -alkalinity : 0);
    const below = minus + (alkalinity > 0 ? alkalinity : 0);
    const f1 = Math.log(above / below);
    let a11 = plusX / above - minus / below;
    let a12 = plusY / above;
    let a13 = plusZ / above - hso4 / below;
    let f2 = 0;
    let a21 = 0;
    let a22 = 1;
    let a23 = 0;
    if (rule.by === 'pressure') {
      f2 = lnQ0 + 2 * x + y - lnTarget;
      a21 = 2;
    } else if (rule.by === 'pH') {
      f2 = x - lnH;
      a21 = 1;
      a22 = 0;
    } else if (hasCarbon) {
      f2 = Math.log(carbon / rule.carbon);
      a21 = carbonX / carbon;
      a22 = carbonY / carbon;
      a23 = carbonZ / carbon;
    }
    let f3 = 0;
    let a31 = 0;
    let a32 = 0;
    let a33 = 1;
    if (hasSulfate) {
      f3 = Math.log(sulfate / c.sulfate);
      a31 = sulfateX / sulfate;
      a32 = sulfateY / sulfate;
      a33 = sulfateZ / sulfate;
    }
    const miss = Math.max(Math.abs(f1), Math.abs(f2), Math.abs(f3));
    if (frozen && (miss < 2e-15 || miss >= stats.residual)) {
      stats.residual = miss;
      stats.converged = miss < 1e-12;
      return stats;
    }
    stats.residual = frozen ? miss : Number.POSITIVE_INFINITY;

    // The step: 3 × 3, z out first, since sulfate hardly feels the others.
    a31 /= a33;
    a32 /= a33;
    const r3 = f3 / a33;
    a11 -= a13 * a31;
    a12 -= a13 * a32;
    a21 -= a23 * a31;
    a22 -= a23 * a32;
    a13 = f1 - a13 * r3;
    a23 = f2 - a23 * r3;
    const det = a11 * a22 - a12 * a21;
    let dx = (a13 * a22 - a12 * a23) / det;
    let dy = (a11 * a23 - a13 * a21) / det;
    let dz = r3 - a31 * dx - a32 * dy;
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
      const next = ionicStrength(m);
      if (longest < 1e-6 && Math.abs(next - strength) <= 1e-9 * next) frozen = true;
      strength = next;
    }
  }
  return stats;
}

/** Ionic strength ½ Σ z² m [mol/kg]. */
export function ionicStrength(molality: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < COUNT; i++) sum += CHARGES[i]! * CHARGES[i]! * molality[i]!;
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
  if (!(carbon > 0)) return alkalinity > 1e-9 ? medium.lnWater - Math.log(alkalinity) : neutral;
  if (alkalinity <= 1e-9) return (medium.lnK1 + Math.log(carbon)) / 2;
  const spare = carbon - alkalinity;
  if (spare > 1e-3 * carbon) return medium.lnK1 + Math.log(spare / alkalinity);
  if (spare > -1e-3 * carbon) return (medium.lnK1 + medium.lnK2) / 2;
  const double = 2 * carbon - alkalinity;
  if (double > 1e-3 * carbon) return medium.lnK2 + Math.log(double / -spare);
  return Math.max(medium.lnWater - Math.log(alkalinity), -13 * LN10);
}
