import { type Problem, problem } from '../documents/index.ts';
import { PARAMETER_NAMES, type ParameterName, type Parameters } from './parameters.ts';
import { mostSwelling } from './swelling.ts';

/** Least space between grains that a bed can still be computed with. */
const LEAST_POROSITY = 0.05;

/** What a constant can be at all, wider than what is plausible; those not named here may be anything from 0 up. */
const LIMITS: Partial<Record<ParameterName, readonly [low: number, high: number]>> = {
  grainPorosity: [0, 0.95],
  bedPorosity: [LEAST_POROSITY, 0.95],
  residualSaturation: [0.01, 0.99],
  coneOpenTip: [0.01, 1],
  coneWallBypass: [0, 1],
  flowUnevenness: [0, 0.95],
  finesHydraulicShare: [0, 1],
  swelling: [0, 0.5],
  swellingIntoPores: [0, 1],
  gasLostInGrinding: [0, 1],
  gasFastShare: [0, 1],
  rinseEfficiency: [0, 1],
  swirlDepth: [0, 1],
  extractable: [0, 0.6],
};

/** Constants that something is divided by. */
const ABOVE_0: readonly ParameterName[] = [
  'skeletalDensity',
  'cellSize',
  'grainHeatCapacity',
  'grainConductivity',
  'permeabilityFactor',
  'finesLimit',
  'paperResistance',
  'relativePermeabilityExponent',
  'storageHead',
  'absorptionTime',
  'gasReleaseTime',
  'gasFastTime',
  'gasSlowTime',
  'dryBedConductivity',
  'wetBedConductivity',
  'jetDensityStep',
  'streamBreaks',
  'spoutDiameter',
  'holdHalf',
];

/** Thrown for constants that no brew can have; `problems` say which, and what they could be. */
export class ParameterError extends Error {
  readonly code = 'bad_parameters';
  readonly problems: readonly Problem[];
  constructor(problems: readonly Problem[]) {
    super(`compileCase: ${problems.map(({ sentence }) => sentence).join(' ')}`);
    this.name = 'ParameterError';
    this.problems = problems;
  }
}

/** Says which constants no brew can have; empty when all can be computed with, plausible or not. */
export function checkParameters(p: Parameters): Problem[] {
  const found = PARAMETER_NAMES.flatMap((name) => checkOne(name, p[name]));
  if (found.length > 0) return found;
  const limit = mostSwelling(p.bedPorosity, p.swellingIntoPores, LEAST_POROSITY);
  if (p.swelling > limit)
    found.push(said('swelling', 'too_big', { value: p.swelling, limit: Math.floor(limit * 1e3) / 1e3 }));
  return found;
}

/** @throws ParameterError when {@link checkParameters} finds anything */
export function refuseBadParameters(p: Parameters): void {
  const problems = checkParameters(p);
  if (problems.length > 0) throw new ParameterError(problems);
}

function checkOne(name: ParameterName, value: number): Problem[] {
  const [low, high] = LIMITS[name] ?? [0, Number.POSITIVE_INFINITY];
  if (!Number.isFinite(value))
    return [said(name, 'wrong_type', { value: String(value), expected: 'a number' })];
  if (ABOVE_0.includes(name) && value <= 0) return [said(name, 'not_above', { value, limit: 0 })];
  if (value < low) return [said(name, 'too_small', { value, limit: low })];
  if (value > high) return [said(name, 'too_big', { value, limit: high })];
  return [];
}

/** A problem that names the constant in words: `bed porosity`. */
const said = (name: ParameterName, code: string, values: Record<string, string | number>): Problem =>
  problem([name], code, {
    field: name.replaceAll(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`),
    ...values,
  });
