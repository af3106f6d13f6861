import { HELD_LEVEL, PARAMETERS, type Parameter } from '@pourline/core';
import { type Draw, defaultDraw } from '../../core/src/brew/spread.ts';

/** A constant that the fit may move, within its plausible range. */
export interface Free {
  name: string;
  range: Parameter;
  put: (draw: Draw, value: number) => void;
}

const parameter = (name: keyof typeof PARAMETERS): Free => ({
  name,
  range: PARAMETERS[name],
  put: (draw, value) => {
    draw.parameters[name] = value;
  },
});

/** The constants that no paper gives and some published figure can tell: one for each kind of figure, two for the release. */
export const FREE: readonly Free[] = [
  parameter('diffusionFactor'),
  parameter('surfaceReleaseRate'),
  {
    name: 'level of what grains hold',
    range: HELD_LEVEL,
    put: (draw, value) => {
      for (const factors of Object.values(draw.solutes)) factors.held *= value;
    },
  },
  parameter('residualSaturation'),
  parameter('permeabilityFactor'),
  parameter('surfaceFactor'),
];

/** The engine's constants with the free ones at some values, in the order of {@link FREE}. */
export function drawWith(values: readonly number[]): Draw {
  const draw = defaultDraw();
  FREE.forEach((free, i) => {
    free.put(draw, values[i]!);
  });
  return draw;
}
