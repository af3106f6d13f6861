import { GRAVITY, liquidDensity, liquidViscosity, ZERO_CELSIUS } from '../units/index.ts';
import type { BrewCase } from './case.ts';
import { fillHeight } from './geometry.ts';
import type { State } from './state.ts';
import { backTridiagonal, factorTridiagonal } from './tridiagonal.ts';

/**
 * Density that turns water masses into volumes in the bed [kg/m³]: water at 90 °C (IAPWS SR6-08). One figure for a
 * run keeps volumes proportional to conserved masses; the Darcy drive uses the density at the local temperature.
 */
export const LIQUID_DENSITY = 965.31;

/** A head below this is too thin to be shown as one [kg]. */
export const HEAD_SEEN = 3e-4;

/** Film that a draining head leaves last [kg]; below it the outflow fades so that no mass turns negative. */
const FILM = 2e-5;
/** A head this small goes down whole, so that it ends instead of fading for ever [kg]. */
const TRACE = 1e-11;
/** Liquid share at which a grain surface counts as wet enough to take up half its free rate. */
const WETTING_SHARE = 0.05;
const MAX_ITERATIONS = 30;
/** Largest residual of a node's balance that ends the iteration [kg]. */
const TOLERANCE = 1e-10;
/** How far beyond full saturation, either way, a step that crosses it stops. */
const KINK = 1e-5;
/** Largest change of a cell's saturation in one Newton step. */
const DAMPING = 0.25;

/** What the surroundings do during one flow step. */
export interface FlowInput {
  dt: number;
  /** Stream entering the head [kg/s]. */
  inflow: number;
  /** Evaporation from head or top cell in this step [kg]. */
  evaporated: number;
  outletOpen: boolean;
  /** Liquid passed so far [kg], for clogging. */
  passed: number;
}

/** Liquid height over the bed [m]. */
export const headHeight = (c: BrewCase, s: State, mass: number): number =>
  mass <= 0 ? 0 : fillHeight(s.bedTopRadius, c.vessel.slope, mass / LIQUID_DENSITY);

/** Relative permeability of a cell: effective saturation to a power. */
function relativePermeability(c: BrewCase, saturation: number): number {
  const effective = (saturation - c.bed.residualSaturation) / (1 - c.bed.residualSaturation);
  if (effective <= 0) return 0;
  return effective >= 1 ? 1 : effective ** c.bed.relativeExponent;
}

function relativeSlope(c: BrewCase, saturation: number): number {
  const width = 1 - c.bed.residualSaturation;
  const effective = (saturation - c.bed.residualSaturation) / width;
  if (effective <= 0 || effective >= 1) return 0;
  return (c.bed.relativeExponent * effective ** (c.bed.relativeExponent - 1)) / width;
}

/** Pressure head of a cell [m]: suction while dry, none while draining, a stiff spring when full. */
function pressureHead(c: BrewCase, saturation: number): number {
  if (saturation > 1) return c.bed.storageHead * (saturation - 1);
  const dry = 1 - saturation / c.bed.residualSaturation;
  return dry > 0 ? -c.bed.suction * dry : 0;
}

function pressureSlope(c: BrewCase, saturation: number): number {
  if (saturation > 1) return c.bed.storageHead;
  return saturation < c.bed.residualSaturation ? c.bed.suction / c.bed.residualSaturation : 0;
}

/**
 * Advances the liquid by one implicit step: head, wetting front, saturated and unsaturated flow through the bed and the
 * paper in series, water taken up by grains. Fluxes stand in `s.down` [kg], uptake and wall bypass in `s.aside`, masses in
 * `s.water`. Returns the Newton iterations used, or −1 when it did not converge and the step must be shorter.
 *
 * Flux between nodes: Darcy with pressure and gravity, upstream relative permeability, downward only. After the
 * iteration the masses are rebuilt from the fluxes from top to bottom, each flux limited to what is there, so water is
 * conserved to rounding whatever the residual.
 */
export function stepFlow(c: BrewCase, s: State, input: FlowInput): number {
  const n = s.nodes;
  const conductance = s.scratch2;
  const uptake = s.scratch3;
  s.waterBefore.set(s.water);
  setConductances(c, s, input, conductance, uptake);

  let iterations = 0;
  while (assemble(c, s, input, conductance, uptake) >= TOLERANCE) {
    if (++iterations > MAX_ITERATIONS) {
      s.water.set(s.waterBefore);
      return -1;
    }
    factorTridiagonal(n, s.lower, s.diagonal, s.upper, s.scratch);
    backTridiagonal(n, s.lower, s.upper, s.right, s.scratch);
    for (let i = 0; i < n; i++) {
      const next = i === 0 ? s.water[0]! + s.right[0]! : bounded(s, i, s.water[i]! + s.right[i]!);
      s.water[i] = Math.max(0, next);
    }
  }
  rebuild(c, s, input, conductance, uptake);
  for (let i = 1; i < n; i++) s.absorbed[i]! += s.aside[i]!;
  return iterations;
}

/**
 * Limits a Newton step of a cell. The pressure turns sharply at full saturation, so a step that crosses it stops just
 * beyond, where the next slope is the right one; other steps are damped.
 */
function bounded(s: State, i: number, next: number): number {
  const full = s.poreVolume[i]! * LIQUID_DENSITY;
  const here = s.water[i]!;
  if (here < full && next > full * (1 + KINK)) return full * (1 + KINK);
  if (here > full && next < full * (1 - KINK)) return full * (1 - KINK);
  const limit = DAMPING * full;
  return Math.min(here + limit, Math.max(here - limit, next));
}

/** Conductances between nodes [kg per m of head in this step] and uptake rates [-], at the temperatures before. */
function setConductances(
  c: BrewCase,
  s: State,
  input: FlowInput,
  conductance: Float64Array,
  uptake: Float64Array,
): void {
  const last = s.nodes - 1;
  const gasScale = 1 / (4e-3 * (c.dose / s.cells));
  let above = 0;
  for (let i = 0; i <= last; i++) {
    const T = s.temperature[i === 0 ? 1 : i]! + ZERO_CELSIUS;
    const drive = (LIQUID_DENSITY * liquidDensity(T) * GRAVITY * input.dt) / liquidViscosity(T);
    const gas = i === 0 ? 0 : s.gas[i]! * gasScale;
    const half =
      i === 0
        ? 0
        : (s.thickness[i]! / (2 * s.area[i]! * c.bed.permeability)) * (1 + c.gas.flowHindrance * gas);
    if (i > 0) conductance[i - 1]! /= above + half;
    above = half;
    conductance[i] = drive;
    const x = input.dt / (c.grains.absorptionTime * (1 + c.gas.absorptionDelay * gas));
    uptake[i] = i === 0 ? 0 : x;
  }
  const paper = c.paper.resistance * (1 + c.paper.clogging * input.passed);
  const paperArea = c.shape === 'cone' ? s.area[1]! : s.area[last]!;
  conductance[last] = input.outletOpen ? conductance[last]! / (above + paper / paperArea) : 0;
}

/** Fills the Newton system for the present guess in `s.water`; returns the largest residual [kg]. */
function assemble(
  c: BrewCase,
  s: State,
  input: FlowInput,
  conductance: Float64Array,
  uptake: Float64Array,
): number {
  const last = s.nodes - 1;
  let worst = 0;
  let fluxAbove = 0;
  let fluxAboveByAbove = 0;
  let fluxAboveByHere = 0;
  for (let i = 0; i <= last; i++) {
    const water = s.water[i]!;
    const capacity = i === 0 ? 0 : s.poreVolume[i]! * LIQUID_DENSITY;
    const saturation = i === 0 ? 0 : water / capacity;
    const here = i === 0 ? headHeight(c, s, water) : pressureHead(c, saturation);
    const hereSlope = i === 0 ? headSlope(c, s, here) : pressureSlope(c, saturation) / capacity;
    const open = i === 0 ? water / (water + FILM) : relativePermeability(c, saturation);
    const openSlope = i === 0 ? FILM / (water + FILM) ** 2 : relativeSlope(c, saturation) / capacity;
    let below = 0;
    let belowSlope = 0;
    if (i < last) {
      const capacityBelow = s.poreVolume[i + 1]! * LIQUID_DENSITY;
      const saturationBelow = s.water[i + 1]! / capacityBelow;
      below = pressureHead(c, saturationBelow);
      belowSlope = pressureSlope(c, saturationBelow) / capacityBelow;
    }
    const fall = ((i === 0 ? 0 : s.thickness[i]!) + (i < last ? s.thickness[i + 1]! : 0)) / 2;
    const drive = fall + here - below;
    const G = conductance[i]!;
    let flux = 0;
    let byHere = 0;
    let byBelow = 0;
    if (drive > 0) {
      flux = G * open * drive;
      byHere = G * (openSlope * drive + open * hereSlope);
      byBelow = -G * open * belowSlope;
    }
    let loss = flux;
    let lossByHere = byHere;
    if (i === 0) {
      const bypass = wallBypass(c, s, input, here);
      loss += bypass;
      lossByHere += here > 0 ? (2 * bypass * hereSlope) / here : 0;
    } else {
      const room = c.grains.poreVolume > 0 ? s.absorbMax - s.absorbed[i]! : 0;
      if (room > 0) {
        const wet = saturation / (saturation + WETTING_SHARE);
        const x = uptake[i]! * wet;
        loss += (room * x) / (1 + x);
        lossByHere +=
          ((room / (1 + x) ** 2) * uptake[i]! * WETTING_SHARE) / (saturation + WETTING_SHARE) ** 2 / capacity;
      }
    }
    const gained = i === 0 ? input.inflow * input.dt : fluxAbove;
    const residual = water - s.waterBefore[i]! - gained + loss + evaporationFrom(s, input, i);
    if (Math.abs(residual) > worst) worst = Math.abs(residual);
    s.right[i] = -residual;
    s.lower[i] = -fluxAboveByAbove;
    s.diagonal[i] = 1 + lossByHere - fluxAboveByHere;
    s.upper[i] = byBelow;
    fluxAbove = flux;
    fluxAboveByAbove = byHere;
    fluxAboveByHere = byBelow;
  }
  return worst;
}

/** Rebuilds masses from fluxes, each limited to what is there: structural conservation. */
function rebuild(
  c: BrewCase,
  s: State,
  input: FlowInput,
  conductance: Float64Array,
  uptake: Float64Array,
): void {
  const last = s.nodes - 1;
  const guess = s.water;
  let gained = input.inflow * input.dt;
  let evaporatedLeft = input.evaporated;
  for (let i = 0; i <= last; i++) {
    const capacity = i === 0 ? 0 : s.poreVolume[i]! * LIQUID_DENSITY;
    const saturation = i === 0 ? 0 : guess[i]! / capacity;
    const here = i === 0 ? headHeight(c, s, guess[0]!) : pressureHead(c, saturation);
    const below = i < last ? pressureHead(c, guess[i + 1]! / (s.poreVolume[i + 1]! * LIQUID_DENSITY)) : 0;
    const fall = ((i === 0 ? 0 : s.thickness[i]!) + (i < last ? s.thickness[i + 1]! : 0)) / 2;
    const open = i === 0 ? guess[0]! / (guess[0]! + FILM) : relativePermeability(c, saturation);
    const drive = fall + here - below;
    let flux = drive > 0 ? conductance[i]! * open * drive : 0;
    let available = s.waterBefore[i]! + gained;
    let side = 0;
    if (i === 0) {
      side = Math.min(available, wallBypass(c, s, input, here));
    } else {
      const room = c.grains.poreVolume > 0 ? s.absorbMax - s.absorbed[i]! : 0;
      const x = uptake[i]! * (saturation / (saturation + WETTING_SHARE));
      side = room > 0 ? Math.min(available, (room * x) / (1 + x)) : 0;
    }
    available -= side;
    s.aside[i] = side;
    const gone = Math.min(available, i === 0 ? headEvaporation(s, input) : i === 1 ? evaporatedLeft : 0);
    available -= gone;
    evaporatedLeft -= gone;
    s.evaporated[i] = gone;
    flux = Math.min(flux, available);
    if (i === 0 && available - flux < TRACE) flux = available;
    s.down[i] = flux;
    guess[i] = available - flux;
    gained = flux;
  }
  input.evaporated -= evaporatedLeft;
}

/** Evaporation is shared between head and top cell by how much of a head there is. */
const headEvaporation = (s: State, input: FlowInput): number =>
  input.evaporated * headCover(s.waterBefore[0]!);

const evaporationFrom = (s: State, input: FlowInput, node: number): number => {
  if (node > 1) return 0;
  const head = headEvaporation(s, input);
  return node === 0 ? head : input.evaporated - head;
};

/** Share of the bed's surface that is under a head of liquid: 0 for a bare bed, near 1 above a few grams. */
export const headCover = (mass: number): number => mass / (mass + 1e-3);

function headSlope(c: BrewCase, s: State, height: number): number {
  const r = s.bedTopRadius + c.vessel.slope * height;
  return 1 / (LIQUID_DENSITY * Math.PI * r * r);
}

/** Water that runs down a ribbed wall past the bed in this step [kg]: head over the bare paper, mean depth h/2. */
function wallBypass(c: BrewCase, s: State, input: FlowInput, height: number): number {
  if (c.paper.wallBypass === 0 || height <= 0 || !input.outletOpen) return 0;
  const T = s.temperature[0]! + ZERO_CELSIUS;
  const wall = 2 * Math.PI * s.bedTopRadius * height;
  const mobility = (LIQUID_DENSITY * liquidDensity(T) * GRAVITY) / (liquidViscosity(T) * c.paper.resistance);
  return c.paper.wallBypass * mobility * wall * (height / 2) * input.dt;
}
