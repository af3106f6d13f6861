import { figureOf, type GrindRemark, grindRemark } from './remarks.ts';

/** A jar with a dose in it. */
export interface DoseJar {
  name: string;
  /** As weighed, jar and all [g]. */
  weighed_g: number;
  /** The empty jar [g]; 0 when the scale had taken it off. */
  tare_g: number;
}

export interface JarOrder {
  jars: readonly DoseJar[];
  /** Grounds wanted in each brewer [g], one figure a brewer. */
  brewers_g: readonly number[];
  /** What stays in jar and grinder on the way to the brewer [g]. */
  retention_g: number;
  /** How far a dose may be off [g]. */
  tolerance_g: number;
  /** Step of the scale [g]. */
  step_g: number;
}

/** A jar judged. */
export interface JudgedJar {
  name: string;
  net_g: number;
  /** What reaches the brewer [g]. */
  delivers_g: number;
  /** Brewer it goes to, counted from 0; null for a spare. */
  brewer: number | null;
  /** Off what that brewer, or for a spare the nearest, wants [g]. */
  off_g: number;
  within: boolean;
}

export interface JarCheck {
  jars: readonly JudgedJar[];
  /** Largest less smallest miss among the jars that are used [g]: how uneven the cups will be. */
  spread_g: number;
  /** 2 standard uncertainties of one net mass from reading the scale twice [g]. */
  doubt_g: number;
  remarks: GrindRemark[];
}

/**
 * Weighs all jars against what the brewers want and says which goes where: of all choices that keep both in order of mass (no
 * other can be better), the one with the smallest sum of squared misses. The rest are spares, nearest first.
 */
export function checkJars({ jars, brewers_g, retention_g, tolerance_g, step_g }: JarOrder): JarCheck {
  const remarks: GrindRemark[] = [];
  const judged = jars.map(({ name, weighed_g, tare_g }): JudgedJar => {
    const net = weighed_g - tare_g;
    if (!(net > 0)) remarks.push(grindRemark('problem', 'jar_empty', { jar: name, net: figureOf(net) }));
    return { name, net_g: net, delivers_g: net - retention_g, brewer: null, off_g: 0, within: false };
  });
  const rising = judged.filter((jar) => jar.net_g > 0).sort((a, b) => a.delivers_g - b.delivers_g);
  const wants = brewers_g.map((want, brewer) => ({ want, brewer })).sort((a, b) => a.want - b.want);
  for (const [jar, brewer] of match(
    rising.map((jar) => jar.delivers_g),
    wants.map(({ want }) => want),
  ))
    rising[jar]!.brewer = wants[brewer]!.brewer;
  for (const jar of judged) {
    const offs = brewers_g.map((want) => jar.delivers_g - want);
    const nearest = offs.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a), Number.POSITIVE_INFINITY);
    jar.off_g = jar.brewer === null ? nearest : offs[jar.brewer]!;
    // Half a step is the scale's own doubt, not the dose's.
    jar.within = Math.abs(jar.off_g) <= tolerance_g + 1e-9;
    if (jar.net_g > 0 && !jar.within)
      remarks.push(
        grindRemark(jar.brewer === null ? 'note' : 'caution', 'jar_outside', {
          jar: jar.name,
          delivered: figureOf(jar.delivers_g, 4),
          difference: figureOf(jar.off_g),
          target: figureOf(jar.delivers_g - jar.off_g, 4),
          tolerance: figureOf(tolerance_g),
        }),
      );
  }
  const good = judged.filter((jar) => jar.within).length;
  if (good < brewers_g.length)
    remarks.push(
      grindRemark('problem', 'jars_short', {
        count: good,
        needed: brewers_g.length,
        missing: brewers_g.length - good,
      }),
    );
  const used = judged.filter((jar) => jar.brewer !== null).map((jar) => jar.off_g);
  return {
    jars: judged,
    spread_g: used.length > 0 ? Math.max(...used) - Math.min(...used) : 0,
    doubt_g: (2 * step_g) / Math.sqrt(6),
    remarks,
  };
}

/** Pairs [jar, brewer] that match rising masses to rising wishes, in order, with the least sum of squares. */
function match(masses: readonly number[], wants: readonly number[]): [number, number][] {
  const [n, m] = [masses.length, Math.min(wants.length, masses.length)];
  // best[i][k]: least cost of serving the first k brewers with the first i jars.
  const best = Array.from({ length: n + 1 }, () => new Float64Array(m + 1).fill(Number.POSITIVE_INFINITY));
  for (let i = 0; i <= n; i++) best[i]![0] = 0;
  const cost = (i: number, k: number) => best[i - 1]![k - 1]! + (masses[i - 1]! - wants[k - 1]!) ** 2;
  for (let i = 1; i <= n; i++)
    for (let k = 1; k <= Math.min(i, m); k++) best[i]![k] = Math.min(best[i - 1]![k]!, cost(i, k));
  const pairs: [number, number][] = [];
  for (let i = n, k = m; k > 0 && i > 0; i--) {
    if (best[i]![k] === best[i - 1]![k]) continue;
    pairs.push([i - 1, k - 1]);
    k--;
  }
  return pairs;
}
