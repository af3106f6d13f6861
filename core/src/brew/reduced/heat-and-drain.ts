import { GRAVITY, liquidDensity, liquidViscosity } from '../../units/index.ts';
import type { BrewCase } from '../case.ts';
import { LIQUID_DENSITY, LIQUID_HEAT_CAPACITY } from '../liquid.ts';
import { blankCase } from './blank-case.ts';
import { fixedSteps } from './read.ts';

/** Density of the solid itself [kg/m³], from memory. */
const SKELETON = 1_400;

/** A saturated flat bed under a head. SI. */
export interface Drain {
  permeability: number;
  depth: number;
  head: number;
  /** [K] */
  temperature: number;
}

/** Mode 4: the drain in the engine, no solutes, no paper. */
export function drainingBed(drain: Drain, step = 1 / 16): BrewCase {
  const blank = blankCase();
  const area = Math.PI * blank.vessel.r0 ** 2;
  const mass = area * drain.depth * (1 - blank.bed.porosity) * blank.grains.envelopeDensity;
  const { temperature } = drain;
  return blankCase({
    dose: mass,
    dryMass: mass,
    bed: { ...blank.bed, permeability: drain.permeability },
    initial: { saturation: 1, absorbed: 1, head: area * drain.head * LIQUID_DENSITY, temperature },
    server: { ...blank.server, temperature },
    numerics: fixedSteps(24, 1, step),
  });
}

/** Time constant of the drain T = µ L/(k ρ g) [s]. */
export const drainTime = (d: Drain): number =>
  (liquidViscosity(d.temperature) * d.depth) / (d.permeability * liquidDensity(d.temperature) * GRAVITY);

/** Head over the bed at a time [m], exact: h + L = (h₀ + L) e^(−t/T). */
export const drainHead = (d: Drain, time: number): number =>
  Math.max(0, (d.head + d.depth) * Math.exp(-time / drainTime(d)) - d.depth);

/** Moment the surface reaches the bed [s], exact: T ln(1 + h₀/L). */
export const drainEnd = (d: Drain): number => drainTime(d) * Math.log(1 + d.head / d.depth);

/** A bed of 20 g that is flooded and drains, and none of whose gaps empties: it holds what its pores take. */
export function saturatedBed(grainPorosity: number, bedPorosity: number): BrewCase {
  const blank = blankCase();
  const envelopeDensity = SKELETON * (1 - grainPorosity);
  return blankCase({
    grains: { ...blank.grains, envelopeDensity, poreVolume: grainPorosity / envelopeDensity },
    bed: { ...blank.bed, porosity: bedPorosity, residualSaturation: 0.99 },
    pours: [{ id: 'a', start: 0, end: 20, flow: 0.01, temperature: 363.15, mixingDepth: 0, power: 0 }],
  });
}

/** Hot water on cool grounds. Masses [kg], temperatures [K]. */
export interface Mixing {
  grounds: number;
  groundsTemperature: number;
  heatCapacity: number;
  water: number;
  waterTemperature: number;
}

/** Mode 4: mixing in the engine, nothing lost. */
export function mixingVessel(m: Mixing): BrewCase {
  const blank = blankCase();
  return blankCase({
    dose: m.grounds,
    dryMass: m.grounds,
    grains: { ...blank.grains, temperature: m.groundsTemperature, heatCapacity: m.heatCapacity },
    outletOpens: Number.POSITIVE_INFINITY,
    pours: [
      {
        id: 'a',
        start: 0,
        end: 5,
        flow: m.water / 5,
        temperature: m.waterTemperature,
        mixingDepth: 0,
        power: 0,
      },
    ],
    actions: [{ start: 0, end: 60, depthShare: 1, rate: 5 }],
    horizon: 60,
  });
}

/** A stirred, closed vessel that warms its wall and through it the air. */
export interface Cooling {
  case: BrewCase;
  /** Heat capacities of contents and wall [J/K], conductances between them and to the air [W/K]. */
  contents: number;
  wall: number;
  between: number;
  outside: number;
  /** Temperatures at the start and of the air [°C]. */
  start: number;
  wallStart: number;
  air: number;
}

/** Mode 4: heat alone, from 92 °C in a vessel of 20 °C. */
export function coolingVessel(step = 1 / 8, horizon = 900): Cooling {
  const blank = blankCase();
  const dose = 0.02;
  const air = 293.15;
  const start = 365.15;
  const water = 0.3;
  const solid = dose / blank.grains.envelopeDensity;
  const pores = (solid * blank.bed.porosity) / (1 - blank.bed.porosity);
  const area = Math.PI * blank.vessel.r0 ** 2;
  const head = water - pores * LIQUID_DENSITY;
  const height = (solid + pores) / area + head / LIQUID_DENSITY / area;
  const contact = 300;
  const outside = 25;
  const outerArea = 0.03;
  return {
    case: blankCase({
      dose,
      dryMass: dose,
      outletOpens: Number.POSITIVE_INFINITY,
      actions: [{ start: 0, end: horizon, depthShare: 1, rate: 50 }],
      initial: { saturation: 1, absorbed: 1, head, temperature: start },
      wall: { heatCapacity: 80, temperature: air, contact, outside, outerArea },
      air: { ...blank.air, temperature: air },
      horizon,
      numerics: fixedSteps(4, 1, step),
    }),
    contents: dose * blank.grains.heatCapacity + water * LIQUID_HEAT_CAPACITY,
    wall: 80,
    between: contact * (2 * Math.PI * blank.vessel.r0 * height + area),
    outside: outside * outerArea,
    start: start - 273.15,
    wallStart: air - 273.15,
    air: air - 273.15,
  };
}

/**
 * Temperature of the contents [°C] at a time, exact: two bodies in series to the air are two exponentials. From the eigenvalues of
 * C₁ x′ = −G (x − y), C₂ y′ = G (x − y) − U y, x and y over the air.
 */
export function coolingCurve(k: Cooling, time: number): number {
  const a = k.between / k.contents;
  const b = k.between / k.wall;
  const c = (k.between + k.outside) / k.wall;
  const root = Math.sqrt((a - c) ** 2 + 4 * a * b);
  const slow = (-(a + c) + root) / 2;
  const fast = (-(a + c) - root) / 2;
  const x = k.start - k.air;
  const slope = -a * (x - (k.wallStart - k.air));
  const fastPart = (slope - slow * x) / (fast - slow);
  return k.air + (x - fastPart) * Math.exp(slow * time) + fastPart * Math.exp(fast * time);
}
