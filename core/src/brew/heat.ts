import { latentHeat, ZERO_CELSIUS } from '../units/index.ts';
import type { BrewCase } from './case.ts';
import { headCover, headHeight, LIQUID_DENSITY } from './flow.ts';
import type { State } from './state.ts';
import { backTridiagonal, factorTridiagonal } from './tridiagonal.ts';

/**
 * Heat capacity of liquid [J/kg/K]: water at 80 °C (IAPWS SR6-08; it varies by 0.7 % between 20 and 100 °C). One
 * figure makes enthalpy proportional to temperature, so the balance closes to rounding.
 */
export const LIQUID_HEAT_CAPACITY = 4196.86;

/** Contact of dry grounds with the wall over that of wet ones (assumed). */
const DRY_CONTACT = 0.05;

/** What the surroundings do during one heat step. */
export interface HeatInput {
  dt: number;
  /** Stream that entered [kg] and its temperature [°C]. */
  poured: number;
  pouredTemperature: number;
  /** Convection and radiation of the free surface [W/K], surface factor included. */
  surface: number;
}

/** How wet a cell is, 0–1: liquid in and between grains over half of what fits. */
export const wetness = (s: State, i: number): number =>
  Math.min(1, (2 * (s.water[i]! + s.absorbed[i]!)) / (s.poreVolume[i]! * LIQUID_DENSITY + s.absorbMax));

/**
 * Advances all temperatures by one implicit step with the water moved in the same step: enthalpy carried by liquid,
 * conduction, exchange by agitation, wall, free surface, latent heat, server. Grains and liquid of a cell share one
 * temperature. The wall is one node that touches every cell; it is eliminated by solving the bed twice (with and
 * without a unit wall temperature), so the whole is exact and the balance closes.
 */
export function stepHeat(c: BrewCase, s: State, input: HeatInput): void {
  const air = c.air.temperature - ZERO_CELSIUS;
  const contact = s.scratch3;
  const cover = headCover(s.water[0]!);
  assembleHeat(c, s, input, contact, cover, air);
  const n = s.nodes;
  factorTridiagonal(n, s.lower, s.diagonal, s.upper, s.scratch);
  backTridiagonal(n, s.lower, s.upper, s.right, s.scratch);
  backTridiagonal(n, s.lower, s.upper, s.right2, s.scratch);

  const outside = c.wall.outside * c.wall.outerArea * input.dt;
  let own = c.wall.heatCapacity + outside;
  let fed = c.wall.heatCapacity * s.totals.wallTemperature + outside * air;
  for (let i = 0; i < n; i++) {
    own += contact[i]! * (1 - s.right2[i]!);
    fed += contact[i]! * s.right[i]!;
  }
  const wall = own > 0 ? fed / own : s.totals.wallTemperature;
  for (let i = 0; i < n; i++) {
    s.temperatureBefore[i] = s.temperature[i]!;
    s.temperature[i] = s.right[i]! + s.right2[i]! * wall;
  }
  if (c.wall.heatCapacity > 0) s.totals.heatOut += outside * (wall - air);
  s.totals.wallTemperature = wall;
  bookHeat(s, input, cover, air);
  stepServer(c, s, input.dt, air);
}

function assembleHeat(
  c: BrewCase,
  s: State,
  input: HeatInput,
  contact: Float64Array,
  cover: number,
  air: number,
): void {
  const n = s.nodes;
  const dt = input.dt;
  let link = 0;
  for (let i = 0; i < n; i++) {
    const before =
      i === 0
        ? LIQUID_HEAT_CAPACITY * s.waterBefore[0]!
        : s.dryCell * c.grains.heatCapacity +
          LIQUID_HEAT_CAPACITY * (s.waterBefore[i]! + s.absorbed[i]! - s.aside[i]!);
    const after =
      i === 0
        ? LIQUID_HEAT_CAPACITY * s.water[0]!
        : s.dryCell * c.grains.heatCapacity + LIQUID_HEAT_CAPACITY * (s.water[i]! + s.absorbed[i]!);
    contact[i] = wallContact(c, s, i) * dt;
    const nextLink = i < n - 1 ? LIQUID_HEAT_CAPACITY * s.exchange[i]! + conduction(c, s, i, cover) * dt : 0;
    const surface = i === 0 ? input.surface * cover * dt : i === 1 ? input.surface * (1 - cover) * dt : 0;
    const latent = s.evaporated[i]! > 0 ? s.evaporated[i]! * latentHeat(s.temperature[i]! + ZERO_CELSIUS) : 0;
    const leaving = s.down[i]! + s.evaporated[i]! + (i === 0 ? s.aside[0]! : 0);
    const carried = i === 0 ? 0 : LIQUID_HEAT_CAPACITY * s.down[i - 1]!;
    s.lower[i] = -(carried + link);
    s.upper[i] = -nextLink;
    s.diagonal[i] = after + LIQUID_HEAT_CAPACITY * leaving + link + nextLink + surface + contact[i]!;
    s.right[i] = before * s.temperature[i]! + surface * air - latent;
    s.right2[i] = contact[i]!;
    s.totals.heatOut += latent;
    link = nextLink;
  }
  s.right[0]! += LIQUID_HEAT_CAPACITY * input.poured * input.pouredTemperature;
  if (s.diagonal[0]! <= 0) {
    // No liquid, no flow: the head has no temperature of its own; follow the bed so that nothing divides by zero.
    s.diagonal[0] = 1;
    s.right[0] = s.temperature[1]!;
    s.right2[0] = 0;
    s.upper[0] = 0;
  }
}

/** Wall conductance of a node [W/K]. */
function wallContact(c: BrewCase, s: State, i: number): number {
  if (c.wall.heatCapacity <= 0) return 0;
  if (i > 0) {
    const wet = wetness(s, i);
    return c.wall.contact * s.wallArea[i]! * (DRY_CONTACT + (1 - DRY_CONTACT) * wet);
  }
  return c.wall.contact * 2 * Math.PI * s.bedTopRadius * headHeight(c, s, s.water[0]!);
}

/** Conductance from node i to the one below [W/K]: two half cells in series; head to bed through the upper half cell. */
function conduction(c: BrewCase, s: State, i: number, cover: number): number {
  const below = cellConductivity(c, s, i + 1);
  const halfBelow = s.thickness[i + 1]! / (2 * below * s.area[i + 1]!);
  if (i === 0) return cover / halfBelow;
  const halfHere = s.thickness[i]! / (2 * cellConductivity(c, s, i) * s.area[i]!);
  return 1 / (halfHere + halfBelow);
}

function cellConductivity(c: BrewCase, s: State, i: number): number {
  return c.bed.dryConductivity + (c.bed.wetConductivity - c.bed.dryConductivity) * wetness(s, i);
}

/** Books what crossed the border of the bed in this step. */
function bookHeat(s: State, input: HeatInput, cover: number, air: number): void {
  s.totals.heatIn += LIQUID_HEAT_CAPACITY * input.poured * input.pouredTemperature;
  const { dt, surface } = input;
  s.totals.heatOut +=
    surface * cover * dt * (s.temperature[0]! - air) +
    surface * (1 - cover) * dt * (s.temperature[1]! - air) +
    LIQUID_HEAT_CAPACITY * (s.evaporated[0]! * s.temperature[0]! + s.evaporated[1]! * s.temperature[1]!);
}

/** The server: what drips in, its own mass, its loss to the air. */
function stepServer(c: BrewCase, s: State, dt: number, air: number): void {
  const last = s.nodes - 1;
  const t = s.totals;
  const dripped = s.down[last]!;
  const side = s.aside[0]!;
  const loss = c.server.loss * dt;
  const held = c.server.heatCapacity + LIQUID_HEAT_CAPACITY * t.served;
  const incoming = LIQUID_HEAT_CAPACITY * (dripped * s.temperature[last]! + side * s.temperature[0]!);
  const total = held + LIQUID_HEAT_CAPACITY * (dripped + side) + loss;
  if (total > 0) t.serverTemperature = (held * t.serverTemperature + incoming + loss * air) / total;
  t.heatOut += loss * (t.serverTemperature - air);
  t.served += dripped + side;
  t.dripFlow = (dripped + side) / dt;
  t.dripTemperature = dripped + side > 0 ? incoming / (LIQUID_HEAT_CAPACITY * (dripped + side)) : Number.NaN;
}

/** Enthalpy of everything the run holds [J above 0 °C]. */
export function enthalpyOf(c: BrewCase, s: State): number {
  let sum = LIQUID_HEAT_CAPACITY * s.water[0]! * s.temperature[0]!;
  for (let i = 1; i < s.nodes; i++)
    sum +=
      (s.dryCell * c.grains.heatCapacity + LIQUID_HEAT_CAPACITY * (s.water[i]! + s.absorbed[i]!)) *
      s.temperature[i]!;
  return (
    sum +
    c.wall.heatCapacity * s.totals.wallTemperature +
    (c.server.heatCapacity + LIQUID_HEAT_CAPACITY * s.totals.served) * s.totals.serverTemperature
  );
}
