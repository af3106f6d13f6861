import type { BrewBundle } from '../documents/index.ts';
import type { BrewCase } from './case.ts';
import { compileCase } from './compile.ts';
import {
  defaultParameters,
  PARAMETER_NAMES,
  PARAMETERS,
  type Parameter,
  type ParameterName,
  type Parameters,
} from './parameters.ts';
import type { Resolution } from './result.ts';
import { HELD_LEVEL, SOLUTE_CONSTANT_NAMES, SOLUTE_CONSTANTS, type SoluteConstantName } from './solutes.ts';

/** Factors on the default constants of one solute group. */
type SoluteFactors = Record<SoluteConstantName, number>;

/** One choice of everything about the engine that is not known exactly. */
export interface Draw {
  parameters: Parameters;
  /** By solute key. */
  solutes: Record<string, SoluteFactors>;
}

/** A constant of the engine that has a range. */
export interface UncertainConstant {
  /** `permeabilityFactor`, `held.acids`, `held` for the level of what grains hold of all solutes. */
  readonly id: string;
  readonly range: Parameter;
  /** The solute group it belongs to; null for the rest. */
  readonly solute: string | null;
  /** Puts a value [unit of the range] into a draw. */
  readonly put: (draw: Draw, value: number) => void;
}

/** The defaults of everything. */
export function defaultDraw(): Draw {
  const factors = (): SoluteFactors => ({ share: 1, diffusivity: 1, activation: 1, held: 1 });
  return {
    parameters: defaultParameters(),
    solutes: Object.fromEntries(SOLUTE_CONSTANTS.map(({ key }) => [key, factors()])),
  };
}

const ofParameter = (name: ParameterName): UncertainConstant => ({
  id: name,
  range: PARAMETERS[name],
  solute: null,
  put: (draw, value) => {
    draw.parameters[name] = value;
  },
});

const ofSolute = (key: string, name: SoluteConstantName, range: Parameter): UncertainConstant => ({
  id: `${name}.${key}`,
  range,
  solute: key,
  put: (draw, value) => {
    draw.solutes[key]![name] *= value / range.value;
  },
});

const heldLevel: UncertainConstant = {
  id: 'held',
  range: HELD_LEVEL,
  solute: null,
  put: (draw, value) => {
    for (const factors of Object.values(draw.solutes)) factors.held *= value;
  },
};

/**
 * What moved the demo's plans most when they were screened (`sensitivity.ts`). The first dimensions of a Sobol sequence fill
 * their space best, so these come first.
 */
const MOST_TELLING = [
  'diffusionFactor',
  'permeabilityFactor',
  'paperResistance',
  'finesHydraulicShare',
  'extractable',
  'jetDepth',
  'held',
  'diffusivity.polymers',
  'bedPorosity',
  'surfaceReleaseRate',
  'cloggingPerThroughput',
  'wallContact',
  'surfaceFactor',
  'grainPorosity',
  'held.polymers',
  'jetDensityStep',
];

const rank = ({ id }: UncertainConstant): number =>
  MOST_TELLING.includes(id) ? MOST_TELLING.indexOf(id) : MOST_TELLING.length;

/** Every constant of the engine that has a range: the most telling first, then parameters in table order, then solutes. */
export const UNCERTAIN: readonly UncertainConstant[] = [
  ...PARAMETER_NAMES.map(ofParameter),
  heldLevel,
  ...SOLUTE_CONSTANTS.flatMap((solute) =>
    SOLUTE_CONSTANT_NAMES.map((name) => ofSolute(solute.key, name, solute[name])),
  ),
]
  .filter(({ range }) => range.high > range.low)
  .sort((a, b) => rank(a) - rank(b));

/**
 * The value of a constant at a share `u` (0–1) of its plausible spread. The range is split at the default, each side uniform, so
 * that the default is the median.
 */
export const spreadValue = ({ value, low, high }: Parameter, u: number): number =>
  u < 0.5 ? low + 2 * u * (value - low) : value + (2 * u - 1) * (high - value);

/** The draw at one point of the unit cube: `u[i]` belongs to `UNCERTAIN[i]`. */
export function drawAt(u: ArrayLike<number>): Draw {
  const draw = defaultDraw();
  UNCERTAIN.forEach((constant, i) => {
    constant.put(draw, spreadValue(constant.range, u[i]!));
  });
  return draw;
}

/** The case of a bundle with the constants of a draw. Shares of the solute groups are scaled to sum to 1 again. */
export function caseOf(bundle: BrewBundle, draw: Draw, resolution: Resolution): BrewCase {
  const c = compileCase(bundle, draw.parameters, resolution);
  const factors = c.solutes.map(({ key }) => draw.solutes[key]!);
  const all = c.solutes.reduce((sum, solute) => sum + solute.extractable, 0);
  const drawn = c.solutes.reduce((sum, solute, q) => sum + solute.extractable * factors[q]!.share, 0);
  return {
    ...c,
    solutes: c.solutes.map((solute, q) => {
      const f = factors[q]!;
      return {
        ...solute,
        extractable: (solute.extractable * f.share * all) / drawn,
        diffusivity: solute.diffusivity * f.diffusivity,
        activation: solute.activation * f.activation,
        partition: solute.partition * f.held,
      };
    }),
  };
}
