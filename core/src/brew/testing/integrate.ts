/**
 * A general integrator, for checks against closed forms and faster methods: the classical Runge–Kutta method of fourth order
 * in `steps` equal steps. `slope(t, y, out)` writes dy/dt.
 */
export function integrate(
  slope: (t: number, y: Float64Array, out: Float64Array) => void,
  start: readonly number[],
  from: number,
  to: number,
  steps: number,
): Float64Array {
  const n = start.length;
  const y = Float64Array.from(start);
  const k = [0, 1, 2, 3].map(() => new Float64Array(n));
  const at = new Float64Array(n);
  const h = (to - from) / steps;
  for (let i = 0; i < steps; i++) {
    const t = from + i * h;
    slope(t, y, k[0]!);
    for (let stage = 1; stage < 4; stage++) {
      const part = stage === 3 ? h : h / 2;
      for (let j = 0; j < n; j++) at[j] = y[j]! + part * k[stage - 1]![j]!;
      slope(t + part, at, k[stage]!);
    }
    for (let j = 0; j < n; j++) y[j]! += (h / 6) * (k[0]![j]! + 2 * k[1]![j]! + 2 * k[2]![j]! + k[3]![j]!);
  }
  return y;
}
