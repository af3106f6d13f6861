import { describe, expect, it } from 'vitest';
import { checkParameters, ParameterError } from './check-parameters.ts';
import { defaultParameters, PARAMETER_NAMES, PARAMETERS, type ParameterName } from './parameters.ts';
import { simulate } from './simulate.ts';
import { demoBundle } from './testing/demo-bundle.ts';

const withValue = (name: ParameterName, value: number) => ({ ...defaultParameters(), [name]: value });

describe('constants of the engine', () => {
  it('are fine at their defaults and at both ends of every plausible range', () => {
    expect(checkParameters(defaultParameters())).toEqual([]);
    for (const name of PARAMETER_NAMES)
      for (const end of ['low', 'high'] as const)
        expect(checkParameters(withValue(name, PARAMETERS[name][end]))).toEqual([]);
  });

  it.each([
    ['bedPorosity', -0.1, 'Bed porosity is -0.1; it must be at least 0.05.'],
    ['grainPorosity', 1.2, 'Grain porosity is 1.2; it must be at most 0.95.'],
    ['residualSaturation', 1, 'Residual saturation is 1; it must be at most 0.99.'],
    ['permeabilityFactor', 0, 'Permeability factor is 0; it must be more than 0.'],
    ['holdHalf', Number.NaN, 'Hold half is NaN; it must be a number.'],
    ['flowUnevenness', 1, 'Flow unevenness is 1; it must be at most 0.95.'],
    ['dispersivity', -1e-3, 'Dispersivity is -0.001; it must be at least 0.'],
  ] as const)('%s of %s is refused in a sentence', (name, value, sentence) => {
    expect(checkParameters(withValue(name, value)).map((p) => p.sentence)).toEqual([sentence]);
  });

  it('are not computed with when no brew can have them', () => {
    const parameters = withValue('bedPorosity', -0.1);
    expect(() => simulate(demoBundle(), { parameters })).toThrow(ParameterError);
    expect(() => simulate(demoBundle(), { parameters })).toThrow(/Bed porosity is -0\.1/);
  });

  it('are refused together when grains would swell until no space is left between them', () => {
    const [found] = checkParameters({ ...defaultParameters(), swelling: 0.3, swellingIntoPores: 1 });
    expect(found?.sentence).toBe('Swelling is 0.3; it must be at most 0.165.');
    expect(
      checkParameters({
        ...defaultParameters(),
        swelling: Number(found?.values.limit),
        swellingIntoPores: 1,
      }),
    ).toEqual([]);
  });
});
