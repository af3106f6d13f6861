/**
 * The double-porosity equations of Moroney, Lee, O'Brien, Suijver and Marra (2015, Chem. Eng. Sci. 137, 216) for a saturated packed
 * bed, in their time-constant form, and an integrator of its own for them: nothing here is shared with the engine.
 *
 * Form and most constants are from memory; the time constants and the shares in the grains are second hand, from Moroney et
 * al. 2016 (J. Math. Industry 7:3) as quoted elsewhere.
 */

/** A packed bed of the published rig. SI. */
export interface Rig {
  name: string;
  /** Inner radius of the chamber [m]. */
  radius: number;
  depth: number;
  /** Space between grains over the whole. */
  porosity: number;
  /** Pores inside grains over the grain. */
  grainPorosity: number;
  /** Sauter diameter of all grains [m], for the permeability. */
  sauter: number;
  /** Soluble volume over grain volume at the start. */
  soluble: number;
  /** Share of the soluble stock that is dissolved inside intact cells at the start. */
  inside: number;
  /** Release from the surface and from the kernel [s]. */
  fastTime: number;
  slowTime: number;
  /** Measured pressure drop [Pa]. */
  pressureDrop: number;
}

/** Density of the soluble solid and saturation of the liquid [kg/m³], from memory. */
export const SOLID_DENSITY = 1_400;
export const SATURATION = 212.4;
/** Constant of Kozeny–Carman in the rig's papers, k = d² ε³/(36 κ (1−ε)²); 5 gives the usual 180 (from memory). */
export const KAPPA = 3.1;
/** Flow of the rig: 250 mL/min [m³/s]. */
export const RIG_FLOW = 250e-6 / 60;
/** Dose of the rig [kg]. */
export const RIG_DOSE = 0.06;

export const FINE_RIG: Rig = {
  name: 'fine',
  radius: 29.5e-3,
  depth: 40.5e-3,
  porosity: 0.2,
  grainPorosity: 0.62,
  sauter: 27.35e-6,
  soluble: 0.143,
  inside: 0.7,
  fastTime: 1.18,
  slowTime: 42.2,
  pressureDrop: 2.3e5,
};
export const COARSE_RIG: Rig = {
  name: 'coarse',
  radius: 29.5e-3,
  depth: 52.6e-3,
  porosity: 0.25,
  grainPorosity: 0.62,
  sauter: 38.77e-6,
  soluble: 0.122,
  inside: 0.5,
  fastTime: 19.4,
  slowTime: 270,
  pressureDrop: 0.65e5,
};

/** The bed when the wash begins, all per volume of bed [kg/m³] but for the concentrations. */
export interface RigStart {
  /** Concentration in the pores [kg/m³]. */
  pores: number;
  /** Left on the surfaces, per volume of bed. */
  surface: number;
  /** Concentration inside the grains [kg/m³]. */
  inside: number;
}

/**
 * Start of a run on a bed that was filled before: the pores hold `filled` of saturation, taken from the surface stock. The papers
 * start at saturation for the fine grind; for the coarse one they start on a ramp whose end is not known to us.
 */
export function rigStart(rig: Rig, filled: number): RigStart {
  const stock = (1 - rig.porosity) * rig.soluble * SOLID_DENSITY;
  const pores = filled * SATURATION;
  return {
    pores,
    surface: Math.max(0, (1 - rig.inside) * stock - rig.porosity * pores),
    inside: (rig.inside * stock) / ((1 - rig.porosity) * rig.grainPorosity),
  };
}

/**
 * Outlet concentration [kg/m³] at the given times [s], rising, since the wash with pure water began:
 *
 * φ ∂c/∂t + u ∂c/∂z = (1−φ) φᵥ (v − c)/t_slow + (1 − c/c_sat) m/t_fast,
 * ∂v/∂t = −(v − c)/t_slow, ∂m/∂t = −(1 − c/c_sat) m/t_fast.
 *
 * Along its own path the liquid sees ordinary equations, so the grid moves with it: one cell per time step, the exchange in between by the
 * midpoint rule. No numerical spreading.
 *
 * @param cells of the bed; the time step is pore time / cells
 */
export function publishedOutlet(
  rig: Rig,
  start: RigStart,
  times: readonly number[],
  cells = 600,
): Float64Array {
  const area = Math.PI * rig.radius ** 2;
  const dt = (area * rig.depth * rig.porosity) / RIG_FLOW / cells;
  const c = new Float64Array(cells).fill(start.pores);
  const v = new Float64Array(cells).fill(start.inside);
  const m = new Float64Array(cells).fill(start.surface);
  const out = new Float64Array(times.length);
  let last = c[cells - 1]!;
  let time = 0;
  let next = 0;
  while (next < times.length) {
    for (let i = 0; i < cells; i++) exchange(rig, c, v, m, i, dt);
    const leaving = c[cells - 1]!;
    for (; next < times.length && times[next]! <= time + dt; next++) {
      const share = (times[next]! - time) / dt;
      out[next] = last + share * (leaving - last);
    }
    c.copyWithin(1, 0, cells - 1);
    c[0] = 0;
    last = leaving;
    time += dt;
  }
  return out;
}

/** One midpoint step of the exchange in cell i. */
function exchange(rig: Rig, c: Float64Array, v: Float64Array, m: Float64Array, i: number, dt: number): void {
  const hold = ((1 - rig.porosity) * rig.grainPorosity) / rig.slowTime / rig.porosity;
  let conc = c[i]!;
  let inner = v[i]!;
  let left = m[i]!;
  for (const step of [dt / 2, dt]) {
    const fast = ((1 - conc / SATURATION) * left) / rig.fastTime;
    const slow = inner - conc;
    conc = c[i]! + step * (hold * slow + fast / rig.porosity);
    inner = v[i]! - (step * slow) / rig.slowTime;
    left = m[i]! - step * fast;
  }
  c[i] = conc;
  v[i] = inner;
  m[i] = left;
}
