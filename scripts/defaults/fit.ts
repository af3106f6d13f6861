/**
 * Fits the few free constants of the engine to published figures and prints what comes of it, before and after, for the figures
 * fitted to and for those left out. It changes nothing: values are taken over by hand, with their source.
 *
 *   npx tsx scripts/defaults/fit.ts
 */
import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { printTable } from '../../bench/table.ts';
import { drawWith, FREE } from './constants.ts';
import { type Figure, fitted, leftOut, misfit, residual } from './targets.ts';

/**
 * Constants as the optimiser sees them: logarithms, from −1 at the low end of the range to 1 at the high end. One pseudo-figure each
 * pulls it to the middle, as wide as the range: no answer depends on today's default, and what no figure tells stays plausible.
 */
const halfWidth = FREE.map(({ range }) => Math.log(range.high / range.low) / 2);
const valuesAt = (steps: readonly number[]): number[] =>
  FREE.map(({ range }, i) => Math.sqrt(range.low * range.high) * Math.exp(steps[i]! * halfWidth[i]!));

/** Residuals of all figures and priors at some steps, computed once for each place. */
function residualsAt(steps: readonly number[]): number[] {
  const figures = fitted(drawWith(valuesAt(steps)));
  return [...figures.map(residual), ...steps];
}

function solve(): { values: number[]; iterations: number } {
  const known = new Map<string, number[]>();
  const residuals = (steps: number[]): number[] => {
    const key = steps.join(' ');
    const found = known.get(key) ?? residualsAt(steps);
    known.set(key, found);
    return found;
  };
  const start = FREE.map(() => 0);
  const count = residuals(start).length;
  const result = levenbergMarquardt(
    { x: Array.from({ length: count }, (_, i) => i), y: new Array<number>(count).fill(0) },
    (steps) => (i) => residuals(steps)[i]!,
    {
      initialValues: start,
      minValues: FREE.map(() => -1),
      maxValues: FREE.map(() => 1),
      gradientDifference: 0.05,
      damping: 0.1,
      maxIterations: 15,
      errorTolerance: 1e-4,
    },
  );
  return { values: valuesAt(result.parameterValues), iterations: result.iterations };
}

function printFigures(title: string, before: readonly Figure[], after: readonly Figure[]): void {
  printTable(
    title,
    ['figure', 'published', '±', 'defaults', 'fitted', 'unit', 'miss before', 'after', 'source'],
    before.map((figure, i) => [
      figure.name,
      figure.published.toPrecision(3),
      figure.tolerance.toPrecision(2),
      figure.engine.toPrecision(3),
      after[i]!.engine.toPrecision(3),
      figure.unit,
      residual(figure).toFixed(2),
      residual(after[i]!).toFixed(2),
      figure.source,
    ]),
  );
  console.log(
    `Root mean square miss in tolerances: ${misfit(before).toFixed(2)} before, ${misfit(after).toFixed(2)} after.`,
  );
}

const defaults = FREE.map(({ range }) => range.value);
const { values, iterations } = solve();
const [before, after] = [drawWith(defaults), drawWith(values)];
printTable(
  `Free constants after ${iterations} rounds (Levenberg–Marquardt on logarithms, each pulled to the middle of its range as wide as the range)`,
  ['constant', 'default', 'fitted', 'low', 'high', 'unit'],
  FREE.map(({ name, range }, i) => [
    name,
    range.value.toPrecision(3),
    values[i]!.toPrecision(3),
    range.low.toPrecision(3),
    range.high.toPrecision(3),
    range.unit,
  ]),
);
printFigures('Fitted to', fitted(before), fitted(after));
printFigures('Left out', leftOut(before), leftOut(after));
