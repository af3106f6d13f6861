import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { activityCoefficient } from './activity.ts';
import {
  COMPONENTS,
  type Composition,
  compositionOf,
  excessCharge,
  ionsOf,
  pureWater,
} from './composition.ts';
import { conditionalConstants, K, K_COUNT } from './conditional.ts';
import { ionicStrength } from './equilibrium.ts';
import { heatWater } from './heat.ts';
import { makeMedium } from './medium.ts';
import { saturationIndex } from './saturation.ts';
import { alkalinityIn, type Conditions, carbonIn, mixWaters, molalityOf, speciate } from './speciate.ts';
import { CHARGES, SPECIES_INDEX as I } from './species.ts';
import { millimoles } from './testing/millimoles.ts';

/** Up to `max`, or nothing at all; what is less than an atom is nothing. */
const amount = (max: number) => fc.double({ min: 0, max, noNaN: true }).map((x) => (x < 1e-12 ? 0 : x));
/** A balanced water: anions to fit the metals, alkalinity a share of the charge. */
const balanced: fc.Arbitrary<Composition> = fc
  .record({
    ca: amount(4),
    mg: amount(3),
    na: amount(5),
    k: amount(3),
    kh: amount(1),
    so4: amount(1),
    no3: amount(1),
  })
  .map(({ ca, mg, na, k, kh, so4, no3 }) => {
    const charge = 2 * ca + 2 * mg + na + k;
    const alkalinity = kh * charge;
    const sulfate = (so4 * (charge - alkalinity)) / 2;
    const nitrate = no3 * (charge - alkalinity - 2 * sulfate) * 0.2;
    return millimoles({
      calcium: ca,
      magnesium: mg,
      sodium: na,
      potassium: k,
      alkalinity,
      sulfate,
      nitrate,
      chloride: charge - alkalinity - 2 * sulfate - nitrate,
    });
  });
const conditions: fc.Arbitrary<Conditions> = fc.record({
  temperature_C: amount(100),
  carbon: fc.constantFrom<Conditions['carbon']>('closed', 'air', { by: 'pressure', atm: 0.03 }),
});
const options = { seed: 20_261_125, numRuns: 400 };
const relative = (a: number, b: number, scale: number) => Math.abs(a - b) / (scale || 1);

describe('every solved water', () => {
  it('keeps each total and the charge to 1e-12', () => {
    fc.assert(
      fc.property(balanced, conditions, (c, at) => {
        const s = speciate(c, at);
        const m = s.molality;
        expect(s.stats.converged).toBe(true);
        const sum = (...names: (keyof typeof I)[]) => names.reduce((t, n) => t + m[I[n]]!, 0);
        const totals: [number, number][] = [
          [sum('Ca', 'CaHCO3', 'CaCO3', 'CaSO4', 'CaOH'), c.calcium],
          [sum('Mg', 'MgHCO3', 'MgCO3', 'MgSO4', 'MgOH'), c.magnesium],
          [sum('Na', 'NaHCO3', 'NaCO3', 'NaSO4'), c.sodium],
          [sum('K', 'KSO4'), c.potassium],
          [sum('SO4', 'HSO4', 'CaSO4', 'MgSO4', 'NaSO4', 'KSO4'), c.sulfate],
        ];
        if (at.carbon === 'closed') totals.push([carbonIn(m), c.carbon]);
        for (const [found, total] of totals) expect(relative(found, total, total)).toBeLessThanOrEqual(1e-12);
        let charge = 0;
        let all = 0;
        CHARGES.forEach((z, i) => {
          charge += z * m[i]!;
          all += Math.abs(z) * m[i]!;
        });
        expect(Math.abs(charge) / all).toBeLessThanOrEqual(1e-12);
        expect(relative(alkalinityIn(m), c.alkalinity, all)).toBeLessThanOrEqual(1e-12);
        expect(relative(ionicStrength(m), s.ionicStrength, s.ionicStrength)).toBeLessThan(1e-6);
      }),
      options,
    );
  });

  it('obeys every law of mass action it is made of', () => {
    fc.assert(
      fc.property(balanced, conditions, (c, at) => {
        const s = speciate(c, at);
        const { medium } = s;
        const a = (name: keyof typeof I) => Math.log(s.molality[I[name]]!) + s.lnGamma[I[name]]!;
        const laws: [keyof typeof I, number][] = [
          ['OH', medium.lnWater - a('H')],
          ['HCO3', a('H') + a('CO3') - medium.lnK2],
          ['CO2', a('H') + a('HCO3') - medium.lnK1],
          ['CaHCO3', medium.lnCaHCO3 + a('Ca') + a('HCO3')],
          ['CaCO3', medium.lnCaCO3 + a('Ca') + a('CO3')],
          ['CaSO4', medium.lnCaSO4 + a('Ca') + a('SO4')],
          ['CaOH', medium.lnCaOH + a('Ca') - a('H')],
          ['MgHCO3', medium.lnMgHCO3 + a('Mg') + a('HCO3')],
          ['MgCO3', medium.lnMgCO3 + a('Mg') + a('CO3')],
          ['MgSO4', medium.lnMgSO4 + a('Mg') + a('SO4')],
          ['MgOH', medium.lnMgOH + a('Mg') - a('H')],
          ['NaHCO3', medium.lnNaHCO3 + a('Na') + a('HCO3')],
          ['NaCO3', medium.lnNaCO3 + a('Na') + a('CO3')],
          ['NaSO4', medium.lnNaSO4 + a('Na') + a('SO4')],
          ['KSO4', medium.lnKSO4 + a('K') + a('SO4')],
          ['HSO4', medium.lnHSO4 + a('H') + a('SO4')],
        ];
        for (const [name, expected] of laws)
          if (s.molality[I[name]]! > 1e-40) expect(Math.abs(a(name) - expected)).toBeLessThan(1e-7);
      }),
      options,
    );
  });

  it('does not feel the order in which its salts went in, and keeps its alkalinity when CO2 comes', () => {
    fc.assert(
      fc.property(balanced, balanced, balanced, (a, b, c) => {
        const mix = (...of: Composition[]) => speciate(mixWaters(of.map((w) => ({ of: w, mass: 1 }))));
        expect(Math.abs(mix(a, b, c).pH - mix(c, a, b).pH)).toBeLessThan(1e-11);
        const before = speciate(a);
        const after = speciate({ ...a, carbon: a.carbon + 1e-4 });
        const scale = a.alkalinity + 1e-6;
        expect(relative(alkalinityIn(after.molality), alkalinityIn(before.molality), scale)).toBeLessThan(
          1e-9,
        );
        if (a.alkalinity > 1e-9) expect(after.pH).toBeLessThan(before.pH);
      }),
      options,
    );
  });

  it('mixes in a straight line for every total', () => {
    fc.assert(
      fc.property(balanced, balanced, fc.double({ min: 0, max: 1, noNaN: true }), (a, b, share) => {
        const mixed = mixWaters([
          { of: a, mass: share },
          { of: b, mass: 1 - share },
        ]);
        for (const name of COMPONENTS)
          expect(Math.abs(mixed[name] - share * a[name] - (1 - share) * b[name])).toBeLessThan(1e-16);
        expect(Math.abs(alkalinityIn(speciate(mixed).molality) - mixed.alkalinity)).toBeLessThan(1e-15);
      }),
      options,
    );
  });

  it('is found from any water to any temperature, acid ones too', () => {
    fc.assert(
      fc.property(balanced, conditions, amount(3), (c, at, acid) => {
        const sour = { ...c, alkalinity: c.alkalinity - acid / 1e3, chloride: c.chloride + acid / 1e3 };
        const s = speciate(sour, at);
        expect(s.stats.converged).toBe(true);
        expect(s.stats.iterations).toBeLessThan(60);
        expect(s.pH).toBeGreaterThan(2);
        expect(s.pH).toBeLessThan(13);
      }),
      options,
    );
  });
});

describe('beside a second solver: bisection on pH with pairs left to fixed-point sweeps', () => {
  /** Slow and simple: given pH, sweep free ions and activities until they stand, then compare alkalinities. */
  function bisect(c: Composition, T: number): number {
    const medium = makeMedium(T);
    const k = new Float64Array(K_COUNT);
    const alkalinityAt = (pH: number): number => {
      let strength = 5e-3;
      let alk = 0;
      let carbonate = c.carbon * 1e-2;
      let [ca, mg, na, ka, so4] = [c.calcium, c.magnesium, c.sodium, c.potassium, c.sulfate];
      for (let i = 0; i < 400; i++) {
        conditionalConstants(medium, strength, k);
        const h = 10 ** -pH / Math.exp(k[K.lnH]!);
        const bound = ca * (k[0]! * h + k[1]!) + mg * (k[4]! * h + k[5]!) + na * (k[8]! * h + k[9]!);
        carbonate = c.carbon / (k[K.q0]! * h * h + k[K.q1]! * h + 1 + bound);
        so4 = c.sulfate / (1 + k[K.hso4]! * h + k[2]! * ca + k[6]! * mg + k[10]! * na + k[14]! * ka);
        ca = c.calcium / (1 + (k[0]! * h + k[1]!) * carbonate + k[2]! * so4 + k[3]! / h);
        mg = c.magnesium / (1 + (k[4]! * h + k[5]!) * carbonate + k[6]! * so4 + k[7]! / h);
        na = c.sodium / (1 + (k[8]! * h + k[9]!) * carbonate + k[10]! * so4);
        ka = c.potassium / (1 + k[14]! * so4);
        const bicarbonate = k[K.q1]! * h * carbonate;
        const oh = k[K.water]! / h;
        const hso4 = k[K.hso4]! * h * so4;
        const one = (k[0]! * ca + k[4]! * mg + k[8]! * na) * h * carbonate;
        const two = (k[1]! * ca + k[5]! * mg + k[9]! * na) * carbonate;
        alk = bicarbonate + 2 * carbonate + oh - h + one + 2 * two + (k[3]! * ca + k[7]! * mg) / h - hso4;
        strength =
          2 * (ca + mg + so4 + carbonate) +
          (na + ka + c.chloride + c.nitrate + h + oh + bicarbonate + hso4) / 2 +
          ((k[0]! * ca + k[4]! * mg) * h * carbonate + k[9]! * na * carbonate) / 2 +
          ((k[10]! * na + k[14]! * ka) * so4 + (k[3]! * ca + k[7]! * mg) / h) / 2;
      }
      return alk;
    };
    let low = 3;
    let high = 12;
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      if (alkalinityAt(middle) < c.alkalinity) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  }
  it.each([
    [
      25,
      { calcium: 2.6, magnesium: 0.7, sodium: 0.9, alkalinity: 5, chloride: 1.3, sulfate: 0.6, carbon: 5.5 },
    ],
    [93, { calcium: 0.5, magnesium: 0.3, sodium: 0.8, alkalinity: 0.8, chloride: 1, sulfate: 0.3 }],
    [60, { magnesium: 1, potassium: 2, sulfate: 1.5, alkalinity: 1, carbon: 1.2 }],
  ])('%s °C, %j', (celsius, of) => {
    const c = millimoles(of);
    const s = speciate(c, { temperature_C: celsius, carbon: 'closed' });
    expect(Math.abs(s.pH - bisect(c, celsius + 273.15))).toBeLessThan(1e-7);
  });
});

describe('conditional constants', () => {
  it('are made of the activity coefficients of activity.ts', () => {
    const medium = makeMedium(333.15);
    const k = new Float64Array(K_COUNT);
    for (const strength of [1e-6, 1e-3, 0.02, 0.3]) {
      conditionalConstants(medium, strength, k);
      const g = (name: keyof typeof I) => activityCoefficient(medium, strength, name);
      const b = (g('H') * g('CO3')) / Math.exp(medium.lnK2);
      const expected: [number, number][] = [
        [0, (Math.exp(medium.lnCaHCO3) * b * g('Ca')) / g('CaHCO3')],
        [3, (Math.exp(medium.lnCaOH) * g('Ca')) / g('H') / g('CaOH')],
        [6, (Math.exp(medium.lnMgSO4) * g('Mg') * g('SO4')) / g('MgSO4')],
        [7, (Math.exp(medium.lnMgOH) * g('Mg')) / g('H') / g('MgOH')],
        [9, (Math.exp(medium.lnNaCO3) * g('Na') * g('CO3')) / g('NaCO3')],
        [10, (Math.exp(medium.lnNaSO4) * g('Na') * g('SO4')) / g('NaSO4')],
        [14, (Math.exp(medium.lnKSO4) * g('K') * g('SO4')) / g('KSO4')],
        [K.q0, (b * g('H')) / Math.exp(medium.lnK1) / g('CO2')],
        [K.q1, b / g('HCO3')],
        [K.water, Math.exp(medium.lnWater) / g('H') / g('OH')],
        [K.hso4, (Math.exp(medium.lnHSO4) * g('H') * g('SO4')) / g('HSO4')],
      ];
      for (const [at, value] of expected) expect(k[at]! / value).toBeCloseTo(1, 12);
    }
  });
});

describe('what cannot be', () => {
  it('does not converge at a pH that the alkalinity forbids', () => {
    const c = millimoles({ sodium: 0.01, alkalinity: 0.01 });
    expect(speciate(c, { temperature_C: 25, carbon: { by: 'pH', pH: 11 } }).stats.converged).toBe(false);
  });
  it('has no index without calcium, and no CO2 without carbon', () => {
    const s = speciate(millimoles({ sodium: 1, chloride: 1 }));
    expect(saturationIndex(s)).toBe(Number.NEGATIVE_INFINITY);
    expect(molalityOf(s, 'CO2')).toBe(0);
    expect(s.pH).toBeCloseTo(6.997, 2);
  });
  it('refuses masses that cannot be', () => {
    expect(() => mixWaters([])).toThrow('no mass');
    expect(() => mixWaters([{ of: pureWater(), mass: -1 }])).toThrow('mass -1');
  });
});

describe('heating', () => {
  const tap = millimoles({
    calcium: 1.2,
    magnesium: 0.4,
    sodium: 0.5,
    alkalinity: 2.5,
    chloride: 0.6,
    sulfate: 0.3,
  });
  const boil = (more: Partial<Parameters<typeof heatWater>[1]>) =>
    heatWater(tap, { to_C: 96, steam: 0, co2: 'lost', scale: { by: 'share', share: 1 }, ...more });
  it('drops scale between nothing and balance, two of alkalinity for each', () => {
    const half = boil({ scale: { by: 'share', share: 0.5 } });
    expect(half.after.composition.alkalinity).toBeCloseTo(tap.alkalinity - 2 * half.scale_mol_kg, 12);
    expect(saturationIndex(half.after)).toBeGreaterThan(0);
    expect(saturationIndex(half.scaled)).toBeCloseTo(0, 9);
    expect(half.unscaled.composition.alkalinity).toBe(tap.alkalinity);
    expect(boil({ scale: { by: 'share', share: 0 } }).scale_mol_kg).toBe(0);
  });
  it('takes a measured alkalinity for the share', () => {
    const measured = boil({ scale: { by: 'alkalinity', alkalinity: 1.5e-3 } });
    expect(measured.after.composition.alkalinity).toBeCloseTo(1.5e-3, 12);
    expect(measured.scale_mg_kg).toBeCloseTo(0.5e-3 * 100.086 * 1e3, 6);
  });
  it('leaves a soft water clear, and says how far the index may be wrong', () => {
    const soft = millimoles({ calcium: 0.2, chloride: 0.4, potassium: 0.35, alkalinity: 0.35 });
    const heated = heatWater(soft, { to_C: 93, steam: 0, co2: 'lost', scale: { by: 'share', share: 1 } });
    expect(heated.scale_mol_kg).toBe(0);
    expect(heated.saturation_doubt).toBeGreaterThan(0.29);
    expect(heated.saturation_doubt).toBeLessThan(0.31);
  });
  it('boiling off a tenth makes everything 1/0.9 as strong', () => {
    const { unscaled } = boil({ steam: 0.1 });
    expect(unscaled.composition.magnesium / tap.magnesium).toBeCloseTo(1 / 0.9, 12);
    expect(() => boil({ steam: 1 })).toThrow('steam 1');
    expect(() => boil({ scale: { by: 'share', share: 2 } })).toThrow('share of scale 2');
  });
});

describe('a document and its composition', () => {
  it('go there and back', () => {
    const c = millimoles({
      calcium: 1.2,
      magnesium: 0.4,
      sodium: 0.5,
      alkalinity: 2.5,
      chloride: 0.6,
      sulfate: 0.3,
    });
    const back = compositionOf(ionsOf(c));
    for (const name of COMPONENTS) expect(back[name]).toBeCloseTo(c[name], 15);
    expect(Math.abs(excessCharge(c))).toBeLessThan(1e-15);
  });
});
