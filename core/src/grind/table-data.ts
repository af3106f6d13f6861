import type { SizingData } from '../documents/index.ts';
import { MICROMETRE } from '../units/index.ts';
import { type Binned, binnedQuantile } from './binned.ts';
import { figureOf, type GrindRemark, grindRemark } from './remarks.ts';
import type { ReadSizes } from './size-data.ts';
import { coarsestCarry, reweigh, type Weighting } from './weighting.ts';

type Table = Extract<SizingData, { by: 'table' }>;

/** What shares may be short of 100 before it is said [%]. */
const SUM_SLACK = 1;
/** What a cumulative curve may fall by, from rounding in print [%]. */
const ROUNDING = 0.051;

/** Mass shares from a printed table: cumulative or by class, of volume, area or number. */
export function readTable(data: Table): ReadSizes {
  const remarks: GrindRemark[] = [];
  const raw = data.of === 'class' ? fromClasses(data, remarks) : fromCumulative(data, remarks);
  if (!raw) return { data: null, remarks };
  const binned = data.weighting === 'volume' ? raw : toVolume(raw, data.weighting, remarks);
  const { limits, share } = binned;
  const J = limits.length;
  const open = (code: string, part: number, limit: number) => {
    if (part > 0.001)
      remarks.push(
        grindRemark('caution', code, {
          percent: figureOf(100 * part, 2),
          size: figureOf(limit / MICROMETRE),
        }),
      );
  };
  open('open_below', share[0]!, limits[0]!);
  open('open_above', share[J]!, limits[J - 1]!);
  return {
    data: {
      by: 'table',
      binned,
      limitDoubt: new Float64Array(J),
      effective: worthOfMedian(binned, data.repeat_pct / 100),
      grains: null,
      scaleDoubt: 0,
    },
    remarks,
  };
}

/**
 * Independent grains whose median scatters as the instrument's does: u(ln D50) = 1.2533 s/√N for a log-normal of spread s. The usual
 * 3 % is the limit that ISO 13320 sets for the median (from memory).
 */
function worthOfMedian(binned: Binned, repeat: number): number {
  const high = binnedQuantile(binned, 0.8413);
  const low = binnedQuantile(binned, 0.1587);
  const spread = high !== null && low !== null ? Math.log(high / low) / 2 : 0.5;
  return Math.min(1e6, ((1.2533 * Math.max(spread, 0.05)) / Math.max(repeat, 1e-4)) ** 2);
}

function fromClasses({ rows, sizes }: Table, remarks: GrindRemark[]): Binned | null {
  const values = rows.map((row) => row.value_pct);
  const sum = values.reduce((total, x) => total + x, 0);
  if (!(sum > 0)) {
    remarks.push(grindRemark('problem', 'table_sum', { sum: 0 }));
    return null;
  }
  const whole = Math.abs(sum - 1) < 0.02 ? 1 : 100;
  if (Math.abs(sum / whole - 1) > SUM_SLACK / 100)
    remarks.push(grindRemark('caution', 'table_sum', { sum: figureOf(sum, 4) }));
  const share = values.map((x) => x / sum);
  const limits = rows.map((row) => row.size_um * MICROMETRE);
  if (sizes === 'upper') return binnedOf(limits, [...share, 0]);
  if (sizes === 'lower') return binnedOf(limits, [0, ...share]);
  const between = limits.slice(1).map((x, i) => Math.sqrt(x * limits[i]!));
  const first = limits[0]! ** 2 / between[0]!;
  const last = limits.at(-1)! ** 2 / between.at(-1)!;
  return binnedOf([first, ...between, last], [0, ...share, 0]);
}

const binnedOf = (limits: readonly number[], share: readonly number[]): Binned => ({
  limits: Float64Array.from(limits),
  share: Float64Array.from(share),
});

function fromCumulative({ rows, of }: Table, remarks: GrindRemark[]): Binned | null {
  const fractions = Math.max(...rows.map((row) => row.value_pct)) <= 1.0001;
  const below = rows.map(({ value_pct }) => {
    const pct = Math.min(100, fractions ? 100 * value_pct : value_pct);
    return of === 'undersize' ? pct : 100 - pct;
  });
  for (let i = 1; i < below.length; i++) {
    if (below[i]! >= below[i - 1]! - ROUNDING) {
      below[i] = Math.max(below[i]!, below[i - 1]!);
      continue;
    }
    const shown = of === 'undersize' ? (x: number) => x : (x: number) => 100 - x;
    const values = {
      size: rows[i]!.size_um,
      value: figureOf(shown(below[i]!), 4),
      before: figureOf(shown(below[i - 1]!), 4),
    };
    const other = of === 'undersize' ? 'oversize' : 'undersize';
    remarks.push(grindRemark('problem', 'undersize_falls', values, { other }));
    return null;
  }
  const share = [below[0]!, ...below.slice(1).map((x, i) => x - below[i]!), 100 - below.at(-1)!];
  return binnedOf(
    rows.map((row) => row.size_um * MICROMETRE),
    share.map((x) => Math.max(0, x) / 100),
  );
}

function toVolume(raw: Binned, from: Weighting, remarks: GrindRemark[]): Binned {
  const binned = reweigh(raw, from, 'volume');
  const carry = coarsestCarry(raw, binned);
  remarks.push(
    grindRemark('caution', from === 'number' ? 'weighted_by_number' : 'weighted_by_area', {
      share: figureOf(100 * carry.volume, 2),
      number: figureOf(100 * carry.counted, 2),
      count: carry.classes,
    }),
  );
  return binned;
}
