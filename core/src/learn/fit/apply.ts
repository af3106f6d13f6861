import { defaultParameters, PARAMETERS, type Parameters } from '../../brew/index.ts';
import type { BrewBundle, Distribution, Grinder } from '../../documents/index.ts';
import { HEAT_LOSSES } from './prior.ts';

/** Everything that is learned, as one brew sees it: of its coffee at its age, its setup, its grinders. */
export interface LearnedValues {
  /** Share of the dose. */
  extractable: number;
  /** Factor on the diffusivities. */
  diffusion: number;
  /** Factor on the permeability. */
  permeability: number;
  /** Share of the space between grains that stays full after draining. */
  retained: number;
  /** Factor on the constants of heat loss. */
  heat_loss: number;
  /** Factor on the sizes of each grinder, by its id; 1 where none is given. */
  grind: Readonly<Record<string, number>>;
}

/** A bundle and constants that carry the learned values into the engine: `simulate(bundle, { parameters })`. */
export interface Applied {
  bundle: BrewBundle;
  parameters: Parameters;
}

/**
 * Puts learned values where the engine reads them. The coffee's own extractable share gives way to the learned one, which started
 * from it. Fines keep their size: a dial moves what is ground, not what breaks off.
 */
export function applyLearned(bundle: BrewBundle, values: LearnedValues): Applied {
  const parameters = defaultParameters();
  parameters.extractable = values.extractable;
  parameters.diffusionFactor *= values.diffusion;
  parameters.permeabilityFactor *= values.permeability;
  parameters.residualSaturation = values.retained;
  for (const name of HEAT_LOSSES) parameters[name] *= values.heat_loss;
  const grinders = Object.fromEntries(
    Object.entries(bundle.grinders).map(([id, grinder]) => [id, reground(grinder, values.grind[id] ?? 1)]),
  );
  return {
    bundle: { ...bundle, grinders, coffee: { ...bundle.coffee, extractable_pct: null } },
    parameters,
  };
}

const reground = (grinder: Grinder, factor: number): Grinder =>
  factor === 1
    ? grinder
    : {
        ...grinder,
        settings: grinder.settings.map((s) => ({ ...s, distribution: scaled(s.distribution, factor) })),
      };

const FINES_UM = PARAMETERS.finesLimit.value * 1e6;

/** Sizes times a factor, those of fines left alone; classes stay in rising order. */
function scaled(distribution: Distribution, factor: number): Distribution {
  const size = (um: number): number => (um < FINES_UM ? um : um * factor);
  if (distribution.by === 'modes')
    return {
      ...distribution,
      modes: distribution.modes.map((mode) => ({ ...mode, median_um: size(mode.median_um) })),
    };
  return {
    ...distribution,
    classes: distribution.classes
      .map((row) => ({ ...row, diameter_um: size(row.diameter_um) }))
      .sort((a, b) => a.diameter_um - b.diameter_um),
  };
}
