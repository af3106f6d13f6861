import type { Composition } from './composition.ts';
import {
  type ExpectedReading,
  expectedReading,
  judgeReading,
  type Meter,
  type MeterScale,
  type Verdict,
} from './meter.ts';
import { type Mistake, mistakesOf } from './mistakes.ts';
import type { WaterOrder } from './order.ts';
import { speciate } from './speciate.ts';
import { dosingDoubt, type WeighSheet } from './weigh-sheet.ts';

/** What a meter's reading says of a water that was just made. */
export interface JudgedReading {
  /** What it should show at the temperature of the sample. */
  expected: ExpectedReading;
  verdict: Verdict;
  /**
   * Mistakes that would read like this, the nearest first. With a reading as expected: the mistakes that it does not rule out.
   */
  mistakes: Mistake[];
  /** Scales on which the right water would read like this: what the meter may be set to instead. */
  scales: MeterScale[];
  /** Without its temperature compensation the meter would read the right water like this. */
  uncompensated: boolean;
}

/** Scales that a meter may be set to by mistake. */
const SCALES: readonly MeterScale[] = [
  { by: 'uS_cm' },
  { by: 'factor', factor: 0.5 },
  { by: 'factor', factor: 0.7 },
  { by: 'NaCl' },
  { by: '442' },
];

/** Kelvins from 25 °C at which a missing compensation begins to show. */
const SHOWS_FROM = 2;

/**
 * Holds what the meter shows against what it should show for this water at the temperature of the sample, and looks for what would
 * explain the difference: a mistake at the table, another scale on the meter, a compensation that is off.
 */
export function readMeter(
  order: WaterOrder,
  sheet: WeighSheet,
  shown: number,
  sample_C: number,
): JudgedReading {
  const { meter } = order.instruments;
  const expected = readingOf(sheet.composition, meter, sample_C, dosingDoubt(sheet.figures));
  const verdict = judgeReading(expected, shown);
  const like = (of: ExpectedReading): boolean => judgeReading(of, shown) === 'as expected';
  const read = mistakesOf(order, sheet).map((mistake) => ({
    mistake,
    would: readingOf(mistake.composition, meter, sample_C),
  }));
  const off = ({ would }: (typeof read)[number]): number =>
    Math.abs(Math.log(Math.max(would.reading?.value ?? 0, 1e-9) / Math.max(shown, 1e-9)));
  const mistakes = read
    .filter(({ would }) => like(would))
    .sort((a, b) => off(a) - off(b))
    .map(({ mistake }) => mistake);
  const flagged = verdict === 'too low' || verdict === 'too high';
  const scales = flagged
    ? SCALES.filter((scale) => like(readingOf(sheet.composition, { ...meter, scale }, sample_C)))
    : [];
  const bare: Meter = { ...meter, compensation: { by: 'none' } };
  const uncompensated =
    flagged &&
    meter.compensation.by !== 'none' &&
    Math.abs(sample_C - 25) > SHOWS_FROM &&
    like(readingOf(sheet.composition, bare, sample_C));
  return { expected, verdict, mistakes, scales, uncompensated };
}

/** What a meter shows in a water that stood in air at 25 °C and was then brought to the temperature of the sample. */
const readingOf = (of: Composition, meter: Meter, sample_C: number, dosing = 0): ExpectedReading =>
  expectedReading(speciate(of, { temperature_C: 25, carbon: 'air' }), meter, sample_C, dosing);
