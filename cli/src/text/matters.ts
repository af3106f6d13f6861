import type { MatterInput, WhatExplains, WhatMatters } from '@pourline/core';
import { fixed, table } from './table.ts';

/** How figures are called and how many decimals their changes have. */
const FIGURES = {
  strength: { name: 'strength', decimals: 2 },
  yield: { name: 'yield', decimals: 2 },
  drawdown: { name: 'drawdown', decimals: 1 },
  peak_bed: { name: 'hottest in the bed', decimals: 1 },
  server: { name: 'server', decimals: 1 },
  balance: { name: 'acids over large molecules', decimals: 3 },
} as const;

/** Rows of each kind that are printed. */
const ROWS = 8;

/** A knob by its step, a constant by the name that the JSON has for it. */
const nameOf = (input: MatterInput): string => input.step?.phrase ?? input.id;

const range = ({ low, high, unit }: MatterInput): string =>
  `${+low.toPrecision(3)} to ${+high.toPrecision(3)} ${unit === '-' ? '' : unit}`.trimEnd();

const signed = (value: number, decimals: number): string =>
  `${value > 0 ? '+' : ''}${fixed(value, decimals)}`;

/** Elementary effects, by figure: what one step of a hand does, and what an unknown does over its whole range. */
export function mattersText(result: WhatMatters): string[] {
  const lines = [
    '',
    `What matters: ${result.runs} draft runs, ${result.trajectories} rounds of screening (Morris), all ranges at once`,
  ];
  for (const { key, unit, now, effects } of result.targets) {
    const { name, decimals } = FIGURES[key];
    lines.push('', `${name}, ${fixed(now, decimals)} ${unit} as planned`.trimEnd());
    if (effects.length === 0) lines.push('nothing moves it');
    for (const kind of ['hand', 'engine'] as const) {
      const rows = effects.filter(({ input }) => result.inputs[input]!.kind === kind).slice(0, ROWS);
      if (rows.length === 0) continue;
      lines.push(
        ...table([
          kind === 'hand'
            ? ['in your hands', 'one step', 'whole range', 'size', 'spread']
            : ['not known exactly', 'plausible', 'whole range', 'size', 'spread'],
          ...rows.map((effect) => [
            nameOf(result.inputs[effect.input]!),
            effect.step_effect === null
              ? range(result.inputs[effect.input]!)
              : signed(effect.step_effect, decimals),
            signed(effect.mean, decimals),
            fixed(effect.size, decimals),
            fixed(effect.spread, decimals),
          ]),
        ]),
      );
    }
  }
  return lines;
}

/** Shares of the variance, by figure. */
export function explainsText(result: WhatExplains): string[] {
  const lines = ['', `What explains the spread: ${result.runs} draft runs, shares of the variance (Sobol)`];
  for (const { key, unit, mean, deviation, rows, shares } of result.targets) {
    const { name, decimals } = FIGURES[key];
    lines.push(
      '',
      `${name}, ${fixed(mean, decimals)} ± ${fixed(deviation, decimals)} ${unit} over all ranges, ${rows} rows`,
      ...table([
        ['input', 'alone', '±', 'in all company', '±'],
        ...shares
          .slice(0, 2 * ROWS)
          .map((share) => [
            nameOf(result.inputs[share.input]!),
            fixed(share.first, 2),
            fixed(share.firstError, 2),
            fixed(share.total, 2),
            fixed(share.totalError, 2),
          ]),
      ]),
    );
  }
  return lines;
}
