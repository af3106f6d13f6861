import { CACO3 } from './atoms.ts';
import { IONS, type IonField } from './basics.ts';
import type { Composition } from './composition.ts';
import { waterFigures } from './figures.ts';
import { type MeterScale, onScale } from './meter.ts';
import { quantityOf } from './quantities.ts';

/** Ways to write an amount of one ion in water. `mg_L_CaCO3`: as much charge as that calcium carbonate. */
export const ION_UNITS = ['mg_L', 'mmol_L', 'meq_L', 'mg_L_CaCO3'] as const;
export type IonUnit = (typeof ION_UNITS)[number];

/** Converts an amount of one ion. A milligram per litre of calcium is 2.497 as CaCO3. */
export function convertIon(value: number, ion: IonField, from: IonUnit, to: IonUnit): number {
  const { molarMass, charge } = IONS[ion];
  const z = Math.abs(charge);
  const perMmol: Record<IonUnit, number> = {
    mg_L: molarMass,
    mmol_L: 1,
    meq_L: z,
    mg_L_CaCO3: (z * CACO3) / 2,
  };
  return (value / perMmol[from]) * perMmol[to];
}

/** One of the things that a bare "ppm" on a bottle or a meter can stand for. */
export interface PpmMeaning {
  meaning:
    | 'sum of ions'
    | 'dry residue'
    | 'hardness as CaCO3'
    | 'alkalinity as CaCO3'
    | 'meter, factor 0.5'
    | 'meter, factor 0.7'
    | 'meter, NaCl scale'
    | 'meter, 442 scale';
  /** What this water has by that meaning. */
  value: number;
}

/** What "ppm" says of one water by each of its usual meanings. Two waters may change places between them. */
export function ppmMeanings(c: Composition): PpmMeaning[] {
  const figures = waterFigures(c);
  const kappa = quantityOf('conductivity', c);
  const meter = (meaning: PpmMeaning['meaning'], scale: MeterScale): PpmMeaning => ({
    meaning,
    value: onScale(kappa, scale),
  });
  return [
    { meaning: 'sum of ions', value: quantityOf('ion_sum', c) },
    { meaning: 'dry residue', value: figures.residue_mg_L.value },
    { meaning: 'hardness as CaCO3', value: quantityOf('hardness', c) },
    { meaning: 'alkalinity as CaCO3', value: quantityOf('alkalinity', c) },
    meter('meter, factor 0.5', { by: 'factor', factor: 0.5 }),
    meter('meter, factor 0.7', { by: 'factor', factor: 0.7 }),
    meter('meter, NaCl scale', { by: 'NaCl' }),
    meter('meter, 442 scale', { by: '442' }),
  ];
}
