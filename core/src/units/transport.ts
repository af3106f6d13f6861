/**
 * Viscosity and thermal conductivity of water and steam for any density: IAPWS R12-08 and R15-11, both without their
 * critical terms, which are nothing (under 1e-4 relative) below 400 K. For liquid at atmospheric pressure the shorter
 * equations of `water.ts` are meant. Check values: reference/iapws-r12-08, reference/iapws-r15-11.
 */

const T_C = 647.096;
const RHO_C = 322;

/** Coefficients of R12-08 table 2 by power of (T̄⁻¹ − 1) in rows, of (ρ̄ − 1) in columns. */
const H: readonly (readonly number[])[] = [
  [0.520094, 0.222531, -0.281378, 0.161913, -0.0325372, 0, 0],
  [0.0850895, 0.999115, -0.906851, 0.257399, 0, 0, 0],
  [-1.08374, 1.88797, -0.772479, 0, 0, 0, 0],
  [-0.289555, 1.26613, -0.489837, 0, 0.0698452, 0, -0.00435673],
  [0, 0, -0.25704, 0, 0, 0.00872102, 0],
  [0, 0.120573, 0, 0, 0, 0, -0.000593264],
];

/** Coefficients of R15-11 table 2, laid out like {@link H}. */
const L: readonly (readonly number[])[] = [
  [1.60397357, -0.646013523, 0.111443906, 0.102997357, -0.0504123634, 0.00609859258],
  [2.33771842, -2.78843778, 1.53616167, -0.463045512, 0.0832827019, -0.00719201245],
  [2.19650529, -4.54580785, 3.55777244, -1.40944978, 0.275418278, -0.0205938816],
  [-1.21051378, 1.60812989, -0.621178141, 0.0716373224, 0, 0],
  [-2.720337, 4.57586331, -3.18369245, 1.1168348, -0.19268305, 0.012913842],
];

/** Σᵢ xⁱ Σⱼ rows[i][j] yʲ, both by Horner's rule. */
function doubleSum(rows: readonly (readonly number[])[], x: number, y: number): number {
  let sum = 0;
  for (let i = rows.length - 1; i >= 0; i--) {
    const row = rows[i]!;
    let inner = 0;
    for (let j = row.length - 1; j >= 0; j--) inner = inner * y + row[j]!;
    sum = sum * x + inner;
  }
  return sum;
}

/**
 * Dynamic viscosity of water or steam [Pa s] at T [K] and density rho [kg/m³]: µ = µ0(T) µ1(T, ρ). IAPWS R12-08 eq. 11
 * and 12; valid from the melting line to 1173 K and 1 GPa. Outside it is evaluated as it stands.
 */
export function viscosity(T: number, rho: number): number {
  const t = T_C / T;
  const d = rho / RHO_C;
  const dilute = 100 / Math.sqrt(t) / (1.67752 + t * (2.20462 + t * (0.6366564 + t * -0.241605)));
  return 1e-6 * dilute * Math.exp(d * doubleSum(H, t - 1, d - 1));
}

/**
 * Thermal conductivity of water or steam [W/m/K] at T [K] and density rho [kg/m³]: λ = λ0(T) λ1(T, ρ). IAPWS R15-11
 * eq. 16 and 17; valid from the melting line to 1173 K and 1 GPa, away from the critical point. Outside it is evaluated
 * as it stands.
 */
export function conductivity(T: number, rho: number): number {
  const t = T_C / T;
  const d = rho / RHO_C;
  const dilute =
    1 /
    Math.sqrt(t) /
    (2.443221e-3 + t * (1.323095e-2 + t * (6.770357e-3 + t * (-3.454586e-3 + t * 4.096266e-4))));
  return 1e-3 * dilute * Math.exp(d * doubleSum(L, t - 1, d - 1));
}
