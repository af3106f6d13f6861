/**
 * Root of a continuous f in [low, high] where it changes sign, by Brent's method (bisection, secant and inverse quadratic
 * interpolation; R. P. Brent 1973, chapter 4, from memory). When the ends have one sign, the end with the smaller |f|.
 */
export function findRoot(f: (x: number) => number, low: number, high: number, tolerance = 1e-13): number {
  let [a, b] = [low, high];
  let [fa, fb] = [f(a), f(b)];
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (fa > 0 === fb > 0) return Math.abs(fa) < Math.abs(fb) ? a : b;
  let [c, fc, step, last] = [a, fa, b - a, b - a];
  for (let k = 0; k < 200; k++) {
    if (fb > 0 === fc > 0) [c, fc, step, last] = [a, fa, b - a, b - a];
    if (Math.abs(fc) < Math.abs(fb)) [a, b, c, fa, fb, fc] = [b, c, b, fb, fc, fb];
    const near = 2 * Number.EPSILON * Math.abs(b) + tolerance / 2;
    const middle = (c - b) / 2;
    if (Math.abs(middle) <= near || fb === 0) return b;
    const tried =
      Math.abs(last) >= near && Math.abs(fa) > Math.abs(fb) ? interpolate(a, b, c, fa, fb, fc) : null;
    if (
      tried !== null &&
      tried * middle > 0 &&
      Math.abs(tried) < Math.min(1.5 * Math.abs(middle) - near / 2, Math.abs(last) / 2)
    ) {
      [last, step] = [step, tried];
    } else [last, step] = [middle, middle];
    [a, fa] = [b, fb];
    b += Math.abs(step) > near ? step : Math.sign(middle) * near;
    fb = f(b);
  }
  return b;
}

function interpolate(a: number, b: number, c: number, fa: number, fb: number, fc: number): number {
  const s = fb / fa;
  if (a === c) {
    const q = 1 - s;
    return (s * (c - b)) / q;
  }
  const q = fa / fc;
  const r = fb / fc;
  const p = s * ((c - b) * q * (q - r) - (b - a) * (r - 1));
  return -p / ((q - 1) * (r - 1) * (s - 1));
}

/** Where f is largest in [low, high], by golden section to `tolerance`; f must have one peak there. */
export function findPeak(f: (x: number) => number, low: number, high: number, tolerance = 1e-10): number {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let [a, b] = [low, high];
  let [c, d] = [b - ratio * (b - a), a + ratio * (b - a)];
  let [fc, fd] = [f(c), f(d)];
  while (b - a > tolerance) {
    if (fc >= fd) {
      [b, d, fd] = [d, c, fc];
      c = b - ratio * (b - a);
      fc = f(c);
    } else {
      [a, c, fc] = [c, d, fd];
      d = a + ratio * (b - a);
      fd = f(d);
    }
  }
  return (a + b) / 2;
}

/**
 * Where f is largest, by the simplex of Nelder & Mead 1965 (from memory), from `start` with first steps of `size`; restarted
 * until a restart gains less than 1e-9. For the smooth likelihoods of a few parameters used here.
 */
export function climb(f: (x: readonly number[]) => number, start: readonly number[], size = 0.5): number[] {
  let best = [...start];
  for (let restart = 0; restart < 8; restart++) {
    const next = simplex(f, best, size / 2 ** restart);
    const gain = f(next) - f(best);
    best = next;
    if (restart > 0 && gain < 1e-9) break;
  }
  return best;
}

function simplex(f: (x: readonly number[]) => number, start: readonly number[], size: number): number[] {
  const n = start.length;
  const corners = [start, ...start.map((_, k) => start.map((v, i) => (i === k ? v + size : v)))].map((x) => ({
    x: [...x],
    y: f(x),
  }));
  const toward = (from: readonly number[], to: readonly number[], t: number) =>
    from.map((v, i) => v + t * (to[i]! - v));
  const at = (x: number[]) => ({ x, y: f(x) });
  for (let step = 0; step < 400 * n; step++) {
    corners.sort((p, q) => q.y - p.y);
    const worst = corners[n]!;
    if (corners[0]!.y - worst.y < 1e-13 * (1 + Math.abs(worst.y))) break;
    const centre = start.map((_, i) => corners.slice(0, n).reduce((sum, p) => sum + p.x[i]!, 0) / n);
    const mirrored = at(toward(worst.x, centre, 2));
    if (mirrored.y > corners[0]!.y) {
      const further = at(toward(worst.x, centre, 3));
      corners[n] = further.y > mirrored.y ? further : mirrored;
    } else if (mirrored.y > corners[n - 1]!.y) corners[n] = mirrored;
    else {
      const shorter = at(toward(worst.x, centre, mirrored.y > worst.y ? 1.5 : 0.5));
      if (shorter.y > Math.max(worst.y, mirrored.y)) corners[n] = shorter;
      else for (let k = 1; k <= n; k++) corners[k] = at(toward(corners[0]!.x, corners[k]!.x, 0.5));
    }
  }
  corners.sort((p, q) => q.y - p.y);
  return corners[0]!.x;
}

/** Second derivatives of f at x by central differences of `step` in each direction: [n][n]. */
export function curvature(
  f: (x: readonly number[]) => number,
  x: readonly number[],
  step = 1e-4,
): number[][] {
  const moved = (i: number, a: number, j: number, b: number) => {
    const y = [...x];
    y[i]! += a * step;
    y[j]! += b * step;
    return f(y);
  };
  return x.map((_, i) =>
    x.map((__, j) =>
      i === j
        ? (moved(i, 1, j, 0) - 2 * f(x) + moved(i, -1, j, 0)) / (step * step)
        : (moved(i, 1, j, 1) - moved(i, 1, j, -1) - moved(i, -1, j, 1) + moved(i, -1, j, -1)) /
          (4 * step * step),
    ),
  );
}
