import { type Composition, combine } from './composition.ts';
import { CONDUCTIVITY_DOUBT, conductivity25 } from './conductivity.ts';
import { type Spread, spreadOf } from './meter.ts';
import { QUANTITY_NAMES, type Quantity, quantityOf } from './quantities.ts';
import { saturationDoubt, saturationIndex } from './saturation.ts';
import { speciate } from './speciate.ts';

/** One independent way a water may be off: its composition changes by this at one standard uncertainty [mol/kg]. */
export interface Deviation {
  /** How it may be off: the giving of a dose, what a jar or bottle holds, the analysis of a base, the mass of the batch. */
  cause: 'giving' | 'holding' | 'analysis' | 'batch';
  /** Name of the jar, bottle or base; empty for the batch. */
  source: string;
  /** The water it is in, where several meet in one. */
  water?: string;
  by: Composition;
}

/** Everything there is to say of a finished water, open to air, each figure with its spread (± two standard uncertainties). */
export interface WaterFigures {
  /** Every quantity that can be asked for, in its unit. A ratio that has no value is left out. */
  quantities: Partial<Record<Quantity, Spread>>;
  pH: Spread;
  /** Calcite index at 25 °C and at the kettle's temperature. */
  calcite_25: Spread;
  calcite_hot: Spread;
  hot_C: number;
  /** Evaporated residue at 180 °C [mg/L]: bicarbonate leaves as carbonate, the rest is gas. */
  residue_mg_L: Spread;
  /** Ionic strength [mol/kg]. */
  ionicStrength: number;
}

/** Share of bicarbonate's mass that leaves as gas when water is evaporated: 1 − ½·60.008/61.016. */
export const RESIDUE_LOSS = 0.508;

/** Figures of a composition as plain numbers, in the order that spreads are made of. */
function plain(c: Composition, hot_C: number) {
  const s = speciate(c, { temperature_C: 25, carbon: 'air' });
  const hot = speciate(c, { temperature_C: hot_C, carbon: 'air' });
  const quantities = QUANTITY_NAMES.map((of) =>
    of === 'conductivity' ? conductivity25(s) : quantityOf(of, c),
  );
  const sum = quantityOf('ion_sum', c);
  return {
    quantities,
    pH: s.pH,
    calcite_25: saturationIndex(s),
    calcite_hot: saturationIndex(hot),
    residue: sum - RESIDUE_LOSS * quantityOf('bicarbonate', c),
    ionicStrength: s.ionicStrength,
    hotDoubt: saturationDoubt(hot.medium.T),
    coldDoubt: saturationDoubt(s.medium.T),
  };
}

/** ± of the computed pH of an open water by the air's CO2 alone: a factor of 1.5 either way is ± 0.18. */
const AIR_PH = Math.log10(1.5) / 2;

/**
 * Figures of a water with what the deviations make of each: a full step of every deviation, differences squared and added
 * (GUM, JCGM 100:2008, 5.1.2, for independent causes). The model's own doubts come on top for conductivity, pH and scale.
 */
export function waterFigures(
  c: Composition,
  deviations: readonly Deviation[] = [],
  hot_C = 93,
): WaterFigures {
  const here = plain(c, hot_C);
  const moved = deviations.map(({ by }) =>
    plain(
      combine([
        { of: c, share: 1 },
        { of: by, share: 1 },
      ]),
      hot_C,
    ),
  );
  const spread = (pick: (of: ReturnType<typeof plain>) => number, own = 0): Spread => {
    const value = pick(here);
    let variance = own * own;
    for (const other of moved) {
      const step = pick(other) - value;
      if (Number.isFinite(step)) variance += step * step;
    }
    return spreadOf(value, Math.sqrt(variance));
  };
  const quantities: Partial<Record<Quantity, Spread>> = {};
  QUANTITY_NAMES.forEach((of, i) => {
    const value = here.quantities[i]!;
    if (!Number.isFinite(value)) return;
    quantities[of] = spread((p) => p.quantities[i]!, of === 'conductivity' ? CONDUCTIVITY_DOUBT * value : 0);
  });
  return {
    quantities,
    pH: spread((p) => p.pH, AIR_PH),
    calcite_25: spread((p) => p.calcite_25, Math.hypot(AIR_PH, here.coldDoubt / 2)),
    calcite_hot: spread((p) => p.calcite_hot, Math.hypot(AIR_PH, here.hotDoubt / 2)),
    hot_C,
    residue_mg_L: spread((p) => p.residue),
    ionicStrength: here.ionicStrength,
  };
}
