import { fAbove } from '../../panel/distributions.ts';

/** Analysis of variance of groups. */
export interface OneWay {
  between: { ss: number; df: number };
  within: { ss: number; df: number };
  f: number;
  p: number;
  r2: number;
  /** Residual deviation. */
  s: number;
}

/**
 * One-way analysis of variance: groups against the scatter within them. Everything counts from the first value, and means are taken a second
 * time over what is left, so that large figures with small differences keep their digits (NIST StRD AtmWtAg, SmLs).
 */
export function oneWay(groups: readonly (readonly number[])[]): OneWay {
  const origin = groups.find((g) => g.length > 0)?.[0] ?? 0;
  const shifted = groups.filter((g) => g.length > 0).map((g) => g.map((v) => v - origin));
  const n = shifted.reduce((t, g) => t + g.length, 0);
  const mean = (values: readonly number[]) => {
    const first = values.reduce((t, v) => t + v, 0) / values.length;
    return first + values.reduce((t, v) => t + (v - first), 0) / values.length;
  };
  const means = shifted.map(mean);
  const grand = mean(shifted.flat());
  const between = {
    ss: means.reduce((t, m, g) => t + shifted[g]!.length * (m - grand) ** 2, 0),
    df: shifted.length - 1,
  };
  const within = {
    ss: shifted.reduce((t, g, k) => t + g.reduce((u, v) => u + (v - means[k]!) ** 2, 0), 0),
    df: n - shifted.length,
  };
  const f = between.ss / between.df / (within.ss / within.df);
  return {
    between,
    within,
    f,
    p: fAbove(f, between.df, within.df),
    r2: between.ss / (between.ss + within.ss),
    s: Math.sqrt(within.ss / within.df),
  };
}
