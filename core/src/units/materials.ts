import type { Material } from '../documents/fields.ts';

/** Properties of a wall material near room temperature. */
export interface MaterialProperties {
  /** Density [kg/m³]. */
  density: number;
  /** Thermal conductivity [W/m/K]. */
  conductivity: number;
  /** Specific heat capacity [J/kg/K]. */
  heatCapacity: number;
}

/**
 * What drippers and servers are made of. All but one row are the design values of EN 12524:2000 ("Building materials and
 * products; hygrothermal properties"), read in the table of a general heat-transfer library (`ht`, insulation.py); that
 * of borosilicate glass is from memory. Walls of one kind differ: a few per cent for metals and glass, up to 20 % for
 * ceramics and plastics. Numbers and sources also stand in reference/materials.
 */
export const MATERIAL_PROPERTIES: Readonly<Record<Material, MaterialProperties>> = {
  polypropylene: { density: 910, conductivity: 0.22, heatCapacity: 1800 },
  polycarbonate: { density: 1200, conductivity: 0.2, heatCapacity: 1200 },
  acrylic: { density: 1050, conductivity: 0.2, heatCapacity: 1500 },
  porcelain: { density: 2300, conductivity: 1.3, heatCapacity: 840 },
  soda_lime_glass: { density: 2500, conductivity: 1, heatCapacity: 750 },
  borosilicate_glass: { density: 2230, conductivity: 1.1, heatCapacity: 830 },
  stainless_steel: { density: 7900, conductivity: 17, heatCapacity: 460 },
  copper: { density: 8900, conductivity: 380, heatCapacity: 380 },
};

/** Properties of a material of the documents. */
export const materialProperties = (material: Material): MaterialProperties => MATERIAL_PROPERTIES[material];
