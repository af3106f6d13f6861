import { compileCase, grindTable } from '../../brew/compile.ts';
import { defaultParameters, type Parameters } from '../../brew/parameters.ts';
import type { Evenness, Resolution } from '../../brew/result.ts';
import { simulate } from '../../brew/simulate.ts';
import type { BrewBundle } from '../../documents/index.ts';
import { type SizeFigures, tableFigures } from '../figures.ts';
import { type GrindPart, withGrind, withoutLift } from './with-grind.ts';

/** What one grind does to flow and release in a brew. */
export interface GrindEffect {
  name: string;
  /** Share in the mix; 1 for the mix itself. */
  share: number;
  figures: SizeFigures;
  /** Permeability of the bed as laid [m²], and over that of the mix. */
  permeability_m2: number;
  permeability_ratio: number;
  /** With the dripper left in place. */
  drawdown_s: number | null;
  end_s: number;
  beverage_g: number;
  strength_pct: number;
  yield_pct: number;
  /** Yield of each size class, finest first. */
  sizes: Evenness['sizes'];
  /** Coefficient of variation of yield over sizes: lower is more even. */
  size_variation: number;
  /** Lowest over highest layer, 0–1. */
  top_to_bottom: number;
}

/** A mix beside each of its fractions alone, in the same brew. */
export interface MixEffect {
  mix: GrindEffect;
  pure: readonly GrindEffect[];
  /** What the mix is less the average of its fractions, by share: what only mixing does. */
  beyond_average: { drawdown_s: number | null; strength_pct: number; yield_pct: number };
}

export interface MixEffectOptions {
  resolution?: Resolution;
  parameters?: Parameters;
}

/** Runs one grind in a brew. */
export function grindEffect(
  bundle: BrewBundle,
  name: string,
  parts: readonly GrindPart[],
  { resolution = 'draft', parameters = defaultParameters() }: MixEffectOptions = {},
): GrindEffect {
  const brewed = withGrind(bundle, parts);
  const { cup, evenness } = simulate(brewed, { resolution, parameters });
  // A brew that is lifted early has no drawdown of its own; the bed's is asked for.
  const drawdown_s =
    cup.drawdown_s ??
    (brewed.plan.lift_s === null
      ? null
      : simulate(withoutLift(brewed), { resolution: 'draft', parameters }).cup.drawdown_s);
  const permeability = compileCase(brewed, parameters, resolution).bed.permeability;
  return {
    name,
    share: 1,
    figures: tableFigures(grindTable(brewed), parameters.finesLimit),
    permeability_m2: permeability,
    permeability_ratio: 1,
    drawdown_s,
    end_s: cup.end_s,
    beverage_g: cup.beverage_g,
    strength_pct: cup.strength_pct,
    yield_pct: cup.yield_pct,
    sizes: evenness.sizes,
    size_variation: evenness.size_variation,
    top_to_bottom: evenness.top_to_bottom,
  };
}

/**
 * What a mix does to flow and release, against each of its fractions alone in the same brew. One run of the engine for each; draft
 * resolution unless asked otherwise. Parts need a share above 0.
 */
export function mixEffect(
  bundle: BrewBundle,
  name: string,
  parts: readonly GrindPart[],
  options: MixEffectOptions = {},
): MixEffect {
  const used = parts.filter((part) => part.share > 0);
  const total = used.reduce((sum, part) => sum + part.share, 0);
  const mix = grindEffect(bundle, name, used, options);
  const pure = used.map((part): GrindEffect => {
    const alone = grindEffect(bundle, part.name, [{ ...part, share: 1 }], options);
    return {
      ...alone,
      share: part.share / total,
      permeability_ratio: alone.permeability_m2 / mix.permeability_m2,
    };
  });
  const average = (pick: (effect: GrindEffect) => number) =>
    pure.reduce((sum, effect) => sum + effect.share * pick(effect), 0);
  const times = [mix, ...pure].every((effect) => effect.drawdown_s !== null);
  return {
    mix,
    pure,
    beyond_average: {
      drawdown_s: times ? mix.drawdown_s! - average((effect) => effect.drawdown_s!) : null,
      strength_pct: mix.strength_pct - average((effect) => effect.strength_pct),
      yield_pct: mix.yield_pct - average((effect) => effect.yield_pct),
    },
  };
}
