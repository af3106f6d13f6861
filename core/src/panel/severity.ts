import { inverse, Matrix } from 'ml-matrix';

/** One score that a judge gave to a cup; positions from 0. */
export interface JudgeScore {
  judge: number;
  cup: number;
  score: number;
}

/** Scores freed from the severity of judges. */
export interface Severity {
  /** Plain mean of each cup's scores. */
  raw_means: number[];
  /** Mean of each cup if every judge had scored it, with its standard error (null when no freedom is left). */
  fair_means: { value: number; se: number | null }[];
  /** How much higher than the average judge each judge scores; they add up to 0. Negative is severe. */
  judges: { value: number; se: number | null }[];
  residual_sd: number | null;
  df: number;
}

/** Groups of cups and judges that no score links; one group when the plan is connected. */
export function linkedGroups(scores: readonly JudgeScore[]): { cups: number[]; judges: number[] }[] {
  const groups: { cups: Set<number>; judges: Set<number> }[] = [];
  for (const { cup, judge } of scores) {
    const touching = groups.filter((g) => g.cups.has(cup) || g.judges.has(judge));
    const merged = { cups: new Set([cup]), judges: new Set([judge]) };
    for (const g of touching) {
      for (const c of g.cups) merged.cups.add(c);
      for (const j of g.judges) merged.judges.add(j);
      groups.splice(groups.indexOf(g), 1);
    }
    groups.push(merged);
  }
  const sorted = (of: Set<number>) => [...of].sort((a, b) => a - b);
  return groups.map((g) => ({ cups: sorted(g.cups), judges: sorted(g.judges) }));
}

/**
 * Additive severity: score = cup + judge + error by least squares, judges adding up to 0; plans may be incomplete. A cup's fair mean is
 * what the average judge would give. null when the plan falls into groups that nothing links: then levels cannot be compared at
 * all; see `linkedGroups`. Every cup and judge from 0 to the largest must have a score.
 */
export function additiveSeverity(scores: readonly JudgeScore[]): Severity | null {
  const cups = 1 + Math.max(...scores.map((s) => s.cup));
  const judges = 1 + Math.max(...scores.map((s) => s.judge));
  const groups = linkedGroups(scores);
  if (groups.length !== 1 || groups[0]!.cups.length !== cups || groups[0]!.judges.length !== judges)
    return null;
  const size = cups + judges - 1;
  const x = new Matrix(
    scores.map(({ cup, judge }) => {
      const row = new Array<number>(size).fill(0);
      row[cup] = 1;
      if (judge < judges - 1) row[cups + judge] = 1;
      else for (let j = cups; j < size; j++) row[j] = -1;
      return row;
    }),
  );
  const y = Matrix.columnVector(scores.map((s) => s.score));
  const xt = x.transpose();
  const unscaled = inverse(xt.mmul(x));
  const beta = unscaled.mmul(xt.mmul(y));
  const left = Matrix.sub(y, x.mmul(beta)).to1DArray();
  const df = scores.length - size;
  const sd = df > 0 ? Math.sqrt(left.reduce((t, v) => t + v * v, 0) / df) : null;
  const spread = (row: number[]) => {
    const l = Matrix.rowVector(row);
    return sd === null ? null : sd * Math.sqrt(l.mmul(unscaled).mmul(l.transpose()).get(0, 0));
  };
  const unit = (k: number) => Array.from({ length: size }, (_, i) => (i === k ? 1 : 0));
  const lastJudge = Array.from({ length: size }, (_, i) => (i >= cups ? -1 : 0));
  const rows = Array.from({ length: judges }, (_, j) => (j < judges - 1 ? unit(cups + j) : lastJudge));
  return {
    raw_means: Array.from({ length: cups }, (_, c) =>
      mean(scores.filter((s) => s.cup === c).map((s) => s.score)),
    ),
    fair_means: Array.from({ length: cups }, (_, c) => ({ value: beta.get(c, 0), se: spread(unit(c)) })),
    judges: rows.map((row) => ({
      value: row.reduce<number>((t, v, i) => t + v * beta.get(i, 0), 0),
      se: spread(row),
    })),
    residual_sd: sd,
    df,
  };
}

const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
