import {
  CACO3,
  type Composition,
  co2Pressure,
  conductivity,
  DENSITY_25,
  type Deviation,
  expectedReading,
  type Heating,
  heatWater,
  langelierIndex,
  type Meter,
  MICROSIEMENS_PER_CM,
  molalityOf,
  type PpmMeaning,
  ppmMeanings,
  type Spread,
  speciate,
  type WaterFigures,
  waterFigures,
} from '@pourline/core';

/** One water to be held against another. */
export interface Side {
  key: string;
  name: string;
  composition: Composition;
  /** How far it may be off, where it was made from an order. */
  deviations: readonly Deviation[];
}

/** How both waters are looked at. */
export interface View {
  heating: Heating | null;
  meter: Meter;
  /** Temperature of the sample that is measured and asked about [°C]; null for none. */
  sample_C: number | null;
  kettle_g: number | null;
}

/** Everything there is to say of one side. */
export interface SideFigures {
  figures: WaterFigures;
  langelier: number;
  /** Dissolved CO2 of the water in open air [mg/L]. */
  co2_mg_L: number;
  ppm: readonly PpmMeaning[];
  /** At the sample's temperature. */
  sample: { conductivity_uS_cm: number; pH: number; reading: Spread | null; unit: string } | null;
  kettle: KettleResult | null;
}

export interface KettleResult {
  pH: number;
  saturation: number;
  doubt: number;
  /** Scale as far as was said, and at most [mg per kg of water]. */
  scale_mg_kg: number;
  most_mg_kg: number;
  /** In one filling of the kettle [mg]; null without a filling. */
  per_filling_mg: number | null;
  alkalinity_mg_L: number;
  hardness_mg_L: number;
  co2_atm: number;
  conductivity_uS_cm: number;
}

const CO2_MASS = 44.009;

/** Computes one side. */
export function sideFigures(side: Side, view: View): SideFigures {
  const { composition } = side;
  const open = speciate(composition, { temperature_C: 25, carbon: 'air' });
  const hot_C = view.heating?.to_C ?? 93;
  return {
    figures: waterFigures(composition, side.deviations, hot_C),
    langelier: langelierIndex(open),
    co2_mg_L: molalityOf(open, 'CO2') * CO2_MASS * DENSITY_25,
    ppm: ppmMeanings(composition),
    sample: view.sample_C === null ? null : sampleOf(composition, view.meter, view.sample_C),
    kettle: view.heating && kettleOf(composition, view.heating, view.kettle_g),
  };
}

/** What a sample at some temperature has and shows: it stood open at 25 °C and was warmed or cooled as it is. */
function sampleOf(c: Composition, meter: Meter, sample_C: number): SideFigures['sample'] {
  const open = speciate(c, { temperature_C: 25, carbon: 'air' });
  const { reading, unit, conductivity_uS_cm } = expectedReading(open, meter, sample_C);
  const there = speciate(open.composition, { temperature_C: sample_C, carbon: 'closed' });
  return { conductivity_uS_cm, pH: there.pH, reading, unit };
}

function kettleOf(c: Composition, heating: Heating, kettle_g: number | null): KettleResult {
  const heated = heatWater(c, heating);
  const { after } = heated;
  const most = heatWater(c, { ...heating, scale: { by: 'share', share: 1 } }).scale_mg_kg;
  return {
    pH: after.pH,
    saturation: heated.saturation,
    doubt: heated.saturation_doubt,
    scale_mg_kg: heated.scale_mg_kg,
    most_mg_kg: most,
    per_filling_mg: kettle_g === null ? null : (heated.scale_mg_kg * kettle_g * (1 - heating.steam)) / 1000,
    alkalinity_mg_L: after.composition.alkalinity * (CACO3 / 2) * DENSITY_25,
    hardness_mg_L: (after.composition.calcium + after.composition.magnesium) * CACO3 * DENSITY_25,
    co2_atm: co2Pressure(after),
    conductivity_uS_cm: MICROSIEMENS_PER_CM * conductivity(after),
  };
}
