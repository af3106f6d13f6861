import { describe, expect, it } from 'vitest';
import data from '../../../reference/materials/properties.json' with { type: 'json' };
import { MATERIALS, type Material } from '../documents/fields.ts';
import { materialProperties } from './materials.ts';

describe('wall materials', () => {
  it('covers every material a document may name', () => {
    expect(data.rows.map((row) => row.material).sort()).toEqual([...MATERIALS].sort());
  });
  it.each(data.rows)('$material stands as in its source', ({ material, from: _, ...expected }) => {
    expect(materialProperties(material as Material)).toEqual(expected);
  });
  it.each(MATERIALS)('%s has the effusivity computed by hand', (material) => {
    const { density, conductivity, heatCapacity } = materialProperties(material);
    const effusivity = Math.sqrt(density * conductivity * heatCapacity);
    expect(Math.abs(effusivity / data.effusivity[material] - 1)).toBeLessThan(1e-3);
  });
});
