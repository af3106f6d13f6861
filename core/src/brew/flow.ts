import type { Amounts } from './amounts.ts';
import type { BrewCase } from './case.ts';
import { factorColumns, solveColumns } from './columns.ts';
import { fillHeight } from './geometry.ts';
import { LIQUID_DENSITY, mobility } from './liquid.ts';
import type { State } from './state.ts';

/** A head below this is too thin to be shown as one [kg]. */
export const HEAD_SEEN = 3e-4;

/** Film that a draining head leaves last [kg]; below it the outflow fades so that no mass turns negative. */
const FILM = 2e-5;
/** A head this small goes down whole, so that it ends instead of fading for ever [kg]. */
const TRACE = 1e-11;
/** The last that grains take up goes at once, for the same reason [kg]. */
const LAST = 1e-9;
/** Liquid share at which a grain surface counts as wet enough to take up half its free rate. */
const WETTING_SHARE = 0.05;
const MAX_ITERATIONS = 30;
/** How a Newton step is shortened when the residual grew, and lengthened again when it fell. */
const SHORTER = 0.35;
const LONGER = 1.6;
/** Largest residual of a node's balance that ends the iteration [kg]; the rebuilt balance itself is exact. */
const TOLERANCE = 1e-9;
/** Half the span of saturation over which the pressure of a full cell sets in, so that its slope has no jump. */
const SOFT = 1e-5;
/** Largest change of a cell's saturation in one Newton step. */
const DAMPING = 0.25;
/** Least share of the head that a Newton step leaves: the film makes its outflow concave, and a jump to nothing swings. */
const LEAST_FALL = 0.1;
/** A head above this keeps the top of the bed full [kg]. */
const COVERED = 1e-3;

/** What the surroundings do during one stage. */
export interface FlowInput {
  dt: number;
  /** Stream entering the head [kg/s]. */
  inflow: number;
  /** Evaporation from head or top cells in this stage [kg]. */
  evaporated: number;
  outletOpen: boolean;
}

/** Liquid height over the bed [m]. */
export const headHeight = (c: BrewCase, s: State, mass: number): number =>
  mass <= 0 ? 0 : fillHeight(s.bedTopRadius, c.vessel.slope, mass / LIQUID_DENSITY);

/** Share of the bed's surface that is under a head of liquid: 0 for a bare bed, near 1 above a few grams. */
export const headCover = (mass: number): number => mass / (mass + 1e-3);

/**
 * Solves the liquid of one implicit stage: head, wetting front, saturated and unsaturated flow through the bed and the
 * paper in series, water taken up by grains. Starts from the amounts `from`; leaves what moved in `s.enters`, `s.drips`,
 * `s.aside`, `s.evaporated` [kg] and the new masses in `s.now`. Returns the Newton iterations used, or −1 when it did not
 * converge and the step must be shorter.
 *
 * Flux through a face: Darcy with pressure and gravity, relative permeability of the cell above at its lower edge,
 * downward only. After the iteration the masses are rebuilt from the fluxes from top to bottom, each flux limited to what
 * is there, so water is conserved to rounding whatever the residual.
 */
export function stepFlow(c: BrewCase, s: State, from: Amounts, input: FlowInput): number {
  const { water } = s.now;
  setConductances(c, s, input);
  setEdges(s);
  water.set(s.guess.water);
  let iterations = 0;
  let share = 1;
  let before = Number.POSITIVE_INFINITY;
  let worst = assemble(c, s, from, input);
  while (worst >= TOLERANCE) {
    if (++iterations > MAX_ITERATIONS) return -1;
    factorColumns(s.matrix);
    solveColumns(s.matrix, s.right);
    // At a kink Newton can swing between its two sides: a residual that grew asks for a shorter step.
    share = worst < before ? Math.min(1, LONGER * share) : SHORTER * share;
    before = worst;
    water[0] = Math.max(LEAST_FALL * water[0]!, water[0]! + share * s.right[0]!);
    for (let i = 1; i < s.nodes; i++) water[i] = bounded(s.full[i]!, water[i]!, share * s.right[i]!);
    worst = assemble(c, s, from, input);
  }
  settle(s, from, input);
  return iterations;
}

/**
 * A Newton step of a cell. The pressure turns sharply around full saturation, so a step that crosses it stops there, where
 * the next slope is between the two; other steps are damped.
 */
function bounded(full: number, here: number, change: number): number {
  const next = here + change;
  if (here < full * (1 - SOFT) && next > full) return full;
  if (here > full * (1 + SOFT) && next < full) return full;
  const limit = DAMPING * full;
  return Math.max(0, Math.min(here + limit, Math.max(here - limit, next)));
}

/**
 * Conductances of faces and outlets for this stage [kg per m of head], and uptake over its time constant [-]. Each half
 * cell resists with the viscosity of its own temperature; the paper with that of the cell above it.
 */
function setConductances(c: BrewCase, s: State, input: FlowInput): void {
  const { temperature, gas } = s.guess;
  const { dt } = input;
  const gasScale = c.dryMass / (4e-3 * c.dose);
  const paper = c.paper.resistance * (1 + c.paper.clogging * s.guess.passed[0]!);
  for (let p = 0; p < s.paths; p++) {
    const top = p * s.cells + 1;
    const bottom = top + s.cells - 1;
    let above = 0;
    let move = 0;
    for (let i = top; i <= bottom; i++) {
      const held = (gas[i]! / s.dry[i]!) * gasScale;
      move = mobility(temperature[i]!) * dt;
      const half = (s.halfResistance[i]! * (1 + c.gas.flowHindrance * held)) / move;
      s.conductance[i] = 1 / (above + half);
      above = half;
      s.uptake[i] = dt / (c.grains.absorptionTime * (1 + c.gas.absorptionDelay * held));
    }
    s.outlet[p] = input.outletOpen ? 1 / (above + paper / (s.paperArea[p]! * move)) : 0;
  }
}

/**
 * Saturation at the lower edge of each cell, less its mean: half the smaller of the two slopes to the neighbours, none at
 * an extreme (minmod). The upper neighbour of a top cell is full while a head stands on it.
 */
function setEdges(s: State): void {
  const { water } = s.guess;
  const covered = water[0]! > COVERED;
  for (let p = 0; p < s.paths; p++) {
    const top = p * s.cells + 1;
    const bottom = top + s.cells - 1;
    let here = water[top]! / s.full[top]!;
    let rise = covered ? here - 1 : Number.NaN;
    for (let i = top; i <= bottom; i++) {
      const next = i < bottom ? water[i + 1]! / s.full[i + 1]! : Number.NaN;
      const fall = i < bottom ? next - here : rise;
      const before = i === top && !covered ? fall : rise;
      s.edge[i] =
        top < bottom && before * fall > 0 ? 0.5 * (Math.abs(before) < Math.abs(fall) ? before : fall) : 0;
      rise = fall;
      here = next;
    }
  }
}

/** Fills the Newton system for the present masses and leaves the fluxes they make; returns the largest residual [kg]. */
function assemble(c: BrewCase, s: State, from: Amounts, input: FlowInput): number {
  const { water } = s.now;
  const { above, own, below, headTo } = s.matrix;
  const { right, full, enters } = s;
  const { residualSaturation: residual, relativeExponent: exponent, suction, storageHead } = c.bed;
  const width = 1 - residual;
  const head = water[0]!;
  const height = headHeight(c, s, head);
  const radius = s.bedTopRadius + c.vessel.slope * height;
  const heightSlope = 1 / (LIQUID_DENSITY * Math.PI * radius * radius);
  const film = head + FILM;
  const bypass = wallBypass(c, s, input, height);
  s.aside[0] = bypass;
  s.evaporated[0] = input.evaporated * headCover(s.guess.water[0]!);
  const bare = input.evaporated - s.evaporated[0]!;
  own[0] = 1 + (height > 0 ? (2 * bypass * heightSlope) / height : 0);
  right[0] = from.water[0]! - head + input.inflow * input.dt - bypass - s.evaporated[0]!;

  for (let p = 0; p < s.paths; p++) {
    const top = p * s.cells + 1;
    const bottom = top + s.cells - 1;
    let open = head / film;
    let openSlope = FILM / (film * film);
    let pressure = height;
    let pressureSlope = heightSlope;
    let halfAbove = 0;
    for (let i = top; i <= bottom; i++) {
      const mass = water[i]!;
      const saturation = mass / full[i]!;
      // Pressure head of the cell: suction while dry, none while draining, a stiff spring when full.
      let push = 0;
      let pushSlope = 0;
      const over = saturation - 1 + SOFT;
      if (over > 0) {
        const soft = over < 2 * SOFT;
        push = storageHead * (soft ? (over * over) / (4 * SOFT) : saturation - 1);
        pushSlope = (storageHead * (soft ? over / (2 * SOFT) : 1)) / full[i]!;
      } else if (saturation < residual) {
        push = suction * (saturation / residual - 1);
        pushSlope = suction / (residual * full[i]!);
      }
      const half = s.thickness[i]! / 2;
      const drive = halfAbove + half + pressure - push;
      const G = s.conductance[i]!;
      const flux = drive > 0 ? G * open * drive : 0;
      const byAbove = drive > 0 ? G * (openSlope * drive + open * pressureSlope) : 0;
      const byHere = drive > 0 ? -G * open * pushSlope : 0;
      enters[i] = flux;
      above[i] = -byAbove;
      if (i === top) {
        headTo[p] = byHere;
        own[0]! += byAbove;
        right[0]! -= flux;
      } else {
        below[i - 1] = byHere;
        own[i - 1]! += byAbove;
        right[i - 1]! -= flux;
      }
      const room = s.absorbMax[i]! - from.absorbed[i]!;
      let taken = 0;
      let takenSlope = 0;
      if (room > 0) {
        const wetting = saturation + WETTING_SHARE;
        const x = (s.uptake[i]! * saturation) / wetting;
        taken = (room * x) / (1 + x);
        takenSlope =
          ((room / ((1 + x) * (1 + x))) * s.uptake[i]! * WETTING_SHARE) / (wetting * wetting * full[i]!);
      }
      s.aside[i] = taken;
      s.evaporated[i] = i === top ? (bare * s.paperArea[p]!) / s.paperTotal : 0;
      own[i] = 1 + takenSlope - byHere;
      right[i] = from.water[i]! - mass + flux - taken - s.evaporated[i]!;
      // The cell as the upper side of the next face.
      const effective = (saturation + s.edge[i]! - residual) / width;
      if (effective <= 0) {
        open = 0;
        openSlope = 0;
      } else if (effective >= 1) {
        open = 1;
        openSlope = 0;
      } else {
        open = exponent === 3 ? effective * effective * effective : effective ** exponent;
        openSlope = (exponent * open) / (effective * width * full[i]!);
      }
      pressure = push;
      pressureSlope = pushSlope;
      halfAbove = half;
    }
    const drive = halfAbove + pressure;
    const G = s.outlet[p]!;
    const flux = drive > 0 ? G * open * drive : 0;
    s.drips[p] = flux;
    if (drive > 0) own[bottom]! += G * (openSlope * drive + open * pressureSlope);
    right[bottom]! -= flux;
  }
  let worst = 0;
  for (let i = 0; i < s.nodes; i++) {
    const miss = Math.abs(right[i]!);
    if (miss > worst) worst = miss;
  }
  return worst;
}

/** Rebuilds masses from the fluxes, each limited to what is there: structural conservation. */
function settle(s: State, from: Amounts, input: FlowInput): void {
  const { water, absorbed } = s.now;
  let left = from.water[0]! + input.inflow * input.dt;
  s.aside[0] = Math.min(left, s.aside[0]!);
  left -= s.aside[0]!;
  s.evaporated[0] = Math.min(left, s.evaporated[0]!);
  left -= s.evaporated[0]!;
  let wanted = 0;
  for (let p = 0; p < s.paths; p++) wanted += s.enters[p * s.cells + 1]!;
  const share = wanted > left || left - wanted < TRACE ? (wanted > 0 ? left / wanted : 0) : 1;
  let gone = s.evaporated[0]!;
  for (let p = 0; p < s.paths; p++) {
    const top = p * s.cells + 1;
    const bottom = top + s.cells - 1;
    s.enters[top]! *= share;
    for (let i = top; i <= bottom; i++) {
      let available = from.water[i]! + s.enters[i]!;
      s.aside[i] = Math.min(available, s.aside[i]!);
      available -= s.aside[i]!;
      s.evaporated[i] = Math.min(available, s.evaporated[i]!);
      available -= s.evaporated[i]!;
      gone += s.evaporated[i]!;
      const leaving = Math.min(available, i === bottom ? s.drips[p]! : s.enters[i + 1]!);
      if (i === bottom) s.drips[p] = leaving;
      else s.enters[i + 1] = leaving;
      let rest = available - leaving;
      if (rest < LAST && s.aside[i]! > 0) {
        s.aside[i]! += rest;
        rest = 0;
      }
      water[i] = rest;
      absorbed[i] = from.absorbed[i]! + s.aside[i]!;
    }
  }
  water[0] = Math.max(0, left - wanted * share);
  input.evaporated = gone;
}

/** Water that runs down a ribbed wall past the bed in this stage [kg]: head over the bare paper, mean depth h/2. */
function wallBypass(c: BrewCase, s: State, input: FlowInput, height: number): number {
  if (c.paper.wallBypass === 0 || height <= 0 || !input.outletOpen) return 0;
  const wall = 2 * Math.PI * s.bedTopRadius * height;
  const move = (mobility(s.guess.temperature[0]!) * input.dt) / c.paper.resistance;
  return c.paper.wallBypass * move * wall * (height / 2);
}
