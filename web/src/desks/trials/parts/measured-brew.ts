import type { CourseKind, Trial } from '@pourline/core';
import type { MeasuredBrew, MeasuredLine, MeasuredQuantity } from '../../../strip/measured.ts';
import { t, tMaybe } from '../../../words/index.ts';

const QUANTITY: Readonly<Partial<Record<CourseKind, MeasuredQuantity>>> = {
  poured_g: 'poured_g',
  beverage_g: 'beverage_g',
};

/** What the strip draws of a trial: its courses, its readings by hand, its pours as they were done. */
export function measuredBrew(trial: Trial): MeasuredBrew {
  const lines = trial.courses.map((course): MeasuredLine => {
    const place = course.of.replace(/_C$/, '');
    return {
      quantity: QUANTITY[course.of] ?? 'temperature_C',
      name: tMaybe(`trials.place.${place}`) ?? t('strip.measured'),
      time_s: Float64Array.from(course.time_s),
      values: Float64Array.from(course.value),
    };
  });
  const beverage = lines.find((line) => line.quantity === 'beverage_g');
  if (beverage) lines.push(slopeOf(beverage, 'drip_g_s'));
  if (trial.poured.length > 0) lines.push(flowOf(trial));
  return {
    name: trial.event ? `${trial.name} ${trial.event.cup}` : trial.name,
    lines,
    points: trial.temperatures.map(({ time_s, temperature_C, where }) => ({
      time_s,
      temperature_C,
      name: t(`trials.place.${where}`),
    })),
    pours: trial.poured,
  };
}

/** Half of the window over which a slope is taken [s]: shorter, and it would show the noise of the balance. */
const HALF_WINDOW_S = 2;

/** Slope of a mass, by differences over a window around each moment. */
export function slopeOf(line: MeasuredLine, quantity: MeasuredQuantity): MeasuredLine {
  const { time_s, values } = line;
  const n = time_s.length;
  const slope = new Float64Array(n).fill(Number.NaN);
  let from = 0;
  let to = 0;
  for (let i = 0; i < n; i++) {
    while (from < i && time_s[from]! < time_s[i]! - HALF_WINDOW_S) from++;
    while (to < n - 1 && time_s[to]! < time_s[i]! + HALF_WINDOW_S) to++;
    const span = time_s[to]! - time_s[from]!;
    if (span > 0) slope[i] = Math.max(0, (values[to]! - values[from]!) / span);
  }
  return { ...line, quantity, values: slope };
}

/** Mean flow of every pour, as steps. */
function flowOf(trial: Trial): MeasuredLine {
  const time_s: number[] = [];
  const values: number[] = [];
  for (const { start_s, end_s, water_g } of trial.poured) {
    const flow = water_g / (end_s - start_s);
    time_s.push(start_s, start_s, end_s, end_s);
    values.push(0, flow, flow, 0);
  }
  return {
    quantity: 'pour_g_s',
    name: t('strip.series.flow'),
    time_s: Float64Array.from(time_s),
    values: Float64Array.from(values),
  };
}
