import { setExchange } from '../../core/src/brew/agitation.ts';
import { type BrewCase, streamAt } from '../../core/src/brew/case.ts';
import { headCover, headHeight } from '../../core/src/brew/flow.ts';
import { LIQUID_HEAT_CAPACITY, mobility } from '../../core/src/brew/liquid.ts';
import { readRates } from '../../core/src/brew/rates.ts';
import { activeAction, activePour } from '../../core/src/brew/schedule.ts';
import { createState, type State } from '../../core/src/brew/state.ts';
import { surfaceLoss } from '../../core/src/brew/surface.ts';
import { latentHeat, ZERO_CELSIUS } from '../../core/src/units/index.ts';
import {
  ABSORBED,
  cellAt,
  DISSOLVED,
  GAS,
  HEAD_DISSOLVED,
  HEAD_HEAT,
  HEAD_WATER,
  HEAT,
  type Layout,
  layoutOf,
  poolsAt,
  startVector,
  WATER,
} from './layout.ts';

/** Constants of the laws that the engine keeps to itself; the agreement of the two shows that they are the same. */
const FILM = 2e-5;
const WETTING_SHARE = 0.05;
const SOFT = 1e-5;
const COVERED = 1e-3;
const DRY_CONTACT = 0.05;
const BARE = 1e-4;
/** Liquid below which a ratio or a temperature of a node is taken as if it held this much [kg]. */
const DRY = 1e-10;
const EMPTY = 1e-8;

/**
 * The equations of a brew as one right-hand side dy/dt = f(t, y), for solvers that know nothing of brewing: water (Darcy
 * through bed and paper, wetting, uptake, evaporation), gas, heat (bed, head, wall, server), every pool of every solute.
 * Same laws and same cells as the engine; its means of exact bookkeeping are not part of it. Left out: more than one
 * path, the rim running over, water by pour, the ledgers, bypass water. What pours and hands do is taken as it is at `moment`,
 * a time inside the present stretch between events, so that f is smooth there.
 */
export class Equations {
  readonly layout: Layout;
  readonly start: Float64Array;
  /** Any time inside the present stretch [s]. */
  moment = 0;
  /** Times f was asked for. */
  calls = 0;
  readonly state: State;
  readonly #case: BrewCase;
  readonly #ratio: Float64Array;
  readonly #into: Float64Array;
  readonly #surface = new Float64Array(2);

  constructor(c: BrewCase) {
    const s = createState(c);
    this.#case = c;
    this.state = s;
    this.layout = layoutOf(c);
    this.start = startVector(
      this.layout,
      s,
      c.wall.temperature - ZERO_CELSIUS,
      c.server.temperature - ZERO_CELSIUS,
    );
    this.#ratio = new Float64Array(s.solutes * s.nodes);
    this.#into = new Float64Array(s.nodes);
  }

  /** Writes dy/dt at time `t` [s]. */
  readonly slope = (t: number, y: Float64Array, out: Float64Array): void => {
    const c = this.#case;
    const s = this.state;
    this.calls++;
    const pour = activePour(c, this.moment);
    this.#read(y);
    const loss = this.#freeSurface();
    this.#water(y, out, pour >= 0 ? c.pours[pour]!.flow : 0, loss);
    setExchange(c, s, 1, pour, activeAction(c, this.moment));
    this.#heat(t, y, out, pour);
    this.#solutes(y, out);
  };

  /** Spreads the vector over the engine's arrays, for its functions of state. */
  #read(y: Float64Array): void {
    const s = this.state;
    const l = this.layout;
    const { water, absorbed, gas } = s.now;
    const { temperature } = s.levels;
    water[0] = Math.max(0, y[l.head + HEAD_WATER]!);
    temperature[0] = y[l.head + HEAD_HEAT]!;
    for (let i = 1; i <= l.cells; i++) {
      const at = cellAt(l, i);
      water[i] = Math.max(0, y[at + WATER]!);
      absorbed[i] = y[at + ABSORBED]!;
      gas[i] = y[at + GAS]!;
      temperature[i] = y[at + HEAT]!;
    }
    for (let q = 0; q < l.solutes; q++)
      for (let i = 0; i < s.nodes; i++) {
        const at = i === 0 ? l.head + HEAD_DISSOLVED : cellAt(l, i) + DISSOLVED;
        this.#ratio[q * s.nodes + i] = y[at + q]! / Math.max(DRY, water[i]!);
      }
  }

  /** Evaporation of head and top cell [kg/s]; returns convection and radiation of the surface [W/K]. */
  #freeSurface(): number {
    const c = this.#case;
    const s = this.state;
    const { water } = s.now;
    const { temperature } = s.levels;
    s.evaporated[0] = 0;
    s.evaporated[1] = 0;
    if (c.air.surfaceFactor === 0) return 0;
    const headed = water[0]! > BARE;
    const radius = s.bedTopRadius + c.vessel.slope * headHeight(c, s, water[0]!);
    const { temperature: air, pressure, vapourPressure } = c.air;
    const surface = (headed ? temperature[0]! : temperature[1]!) + ZERO_CELSIUS;
    surfaceLoss(surface, air, pressure, vapourPressure, 2 * radius, this.#surface);
    const area = Math.PI * radius * radius * c.air.surfaceFactor;
    const top = water[1]! / s.full[1]!;
    const gone = this.#surface[0]! * area * (headed ? 1 : top / (top + 0.1));
    s.evaporated[0] = gone * headCover(water[0]!);
    s.evaporated[1] = gone - s.evaporated[0];
    return this.#surface[1]! * area;
  }

  /** Fluxes, uptake and gas; leaves them in the engine's arrays [kg/s]. */
  #water(y: Float64Array, out: Float64Array, inflow: number, loss: number): void {
    const c = this.#case;
    const s = this.state;
    const l = this.layout;
    const { water, absorbed, gas } = s.now;
    const { temperature } = s.levels;
    const { residualSaturation: residual, relativeExponent: exponent, suction, storageHead } = c.bed;
    const gasScale = c.dryMass / (4e-3 * c.dose);
    const openOutlet = this.moment >= c.outletOpens;
    const height = headHeight(c, s, water[0]!);
    this.#setEdges();
    s.aside[0] =
      c.paper.wallBypass === 0 || !openOutlet
        ? 0
        : c.paper.wallBypass *
          (mobility(temperature[0]!) / c.paper.resistance) *
          (Math.PI * s.bedTopRadius * height * height);
    let open = water[0]! / (water[0]! + FILM);
    let pressure = height;
    let halfAbove = 0;
    let resistAbove = 0;
    let move = 0;
    for (let i = 1; i <= l.cells; i++) {
      const saturation = water[i]! / s.full[i]!;
      const held = (gas[i]! / s.dry[i]!) * gasScale;
      move = mobility(temperature[i]!);
      const resist = (s.halfResistance[i]! * (1 + c.gas.flowHindrance * held)) / move;
      let push = 0;
      const over = saturation - 1 + SOFT;
      if (over > 0) push = storageHead * (over < 2 * SOFT ? (over * over) / (4 * SOFT) : saturation - 1);
      else if (saturation < residual) push = suction * (saturation / residual - 1);
      const half = s.thickness[i]! / 2;
      s.enters[i] = (open * Math.max(0, halfAbove + half + pressure - push)) / (resistAbove + resist);
      const delay = c.grains.absorptionTime * (1 + c.gas.absorptionDelay * held);
      const room = Math.max(0, s.absorbMax[i]! - absorbed[i]!);
      s.aside[i] = (room * saturation) / ((saturation + WETTING_SHARE) * delay);
      const effective = (saturation + s.edge[i]! - residual) / (1 - residual);
      open = effective <= 0 ? 0 : effective >= 1 ? 1 : effective ** exponent;
      pressure = push;
      halfAbove = half;
      resistAbove = resist;
    }
    const served = y[l.servedWater]!;
    const paper = (c.paper.resistance * (1 + c.paper.clogging * served)) / (s.paperArea[0]! * move);
    s.drips[0] = openOutlet ? (open * Math.max(0, halfAbove + pressure)) / (resistAbove + paper) : 0;
    this.#moveWater(y, out, inflow);
    this.#loss = loss;
  }

  /** Convection and radiation of the free surface [W/K]. */
  #loss = 0;

  #moveWater(y: Float64Array, out: Float64Array, inflow: number): void {
    const c = this.#case;
    const s = this.state;
    const l = this.layout;
    out[l.head + HEAD_WATER] = inflow - s.aside[0]! - s.evaporated[0]! - s.enters[1]!;
    for (let i = 1; i <= l.cells; i++) {
      const at = cellAt(l, i);
      const leaves = i === l.cells ? s.drips[0]! : s.enters[i + 1]!;
      out[at + WATER] = s.enters[i]! - s.aside[i]! - (i === 1 ? s.evaporated[1]! : 0) - leaves;
      out[at + ABSORBED] = s.aside[i]!;
      const wet = s.absorbMax[i]! > 0 ? Math.min(1, (2 * y[at + ABSORBED]!) / s.absorbMax[i]!) : 1;
      out[at + GAS] = (-y[at + GAS]! / c.gas.releaseTime) * wet;
    }
    out[l.servedWater] = s.drips[0]! + s.aside[0]!;
  }

  /** Saturation at the lower edges of cells less their means: minmod of the slopes to the neighbours. */
  #setEdges(): void {
    const s = this.state;
    const { water } = s.now;
    const covered = water[0]! > COVERED;
    const n = s.cells;
    for (let i = 1; i <= n; i++) {
      const here = water[i]! / s.full[i]!;
      const above = i > 1 ? water[i - 1]! / s.full[i - 1]! : covered ? 1 : Number.NaN;
      const rise = here - above;
      const fall = i < n ? water[i + 1]! / s.full[i + 1]! - here : rise;
      const before = i === 1 && !covered ? fall : rise;
      s.edge[i] = n > 1 && before * fall > 0 ? 0.5 * (Math.abs(before) < Math.abs(fall) ? before : fall) : 0;
    }
  }

  #heat(t: number, y: Float64Array, out: Float64Array, pour: number): void {
    const c = this.#case;
    const s = this.state;
    const l = this.layout;
    const { water, absorbed } = s.now;
    const { temperature } = s.levels;
    const air = c.air.temperature - ZERO_CELSIUS;
    const cover = headCover(water[0]!);
    const wall = y[l.wall]!;
    const into = this.#into;
    const headContact = c.wall.contact * 2 * Math.PI * s.bedTopRadius * headHeight(c, s, water[0]!);
    const walled = c.wall.heatCapacity > 0 ? 1 : 0;
    let toWall = walled * headContact * (temperature[0]! - wall);
    into[0] = -this.#loss * cover * (temperature[0]! - air) - toWall - this.#latent(0);
    if (pour >= 0) {
      const stream = streamAt(c.pours[pour]!, t) - ZERO_CELSIUS;
      into[0]! += LIQUID_HEAT_CAPACITY * c.pours[pour]!.flow * (stream - temperature[0]!);
    }
    let resistAbove = 0;
    for (let i = 1; i <= l.cells; i++) {
      const T = temperature[i]!;
      const step = temperature[i - 1]! - T;
      const wet = Math.min(1, (2 * (water[i]! + absorbed[i]!)) / (s.full[i]! + s.absorbMax[i]!));
      const conducts = c.bed.dryConductivity + (c.bed.wetConductivity - c.bed.dryConductivity) * wet;
      const resist = s.thickness[i]! / (2 * conducts * s.area[i]!);
      const link = LIQUID_HEAT_CAPACITY * s.mixed[i]! + (i === 1 ? cover : 1) / (resistAbove + resist);
      const contact = walled * c.wall.contact * s.wallArea[i]! * (DRY_CONTACT + (1 - DRY_CONTACT) * wet);
      into[i - 1]! -= link * step;
      into[i] = link * step + LIQUID_HEAT_CAPACITY * s.enters[i]! * step - contact * (T - wall);
      if (i === 1) into[1]! -= this.#loss * (1 - cover) * (T - air) + this.#latent(1);
      toWall += contact * (T - wall);
      resistAbove = resist;
    }
    out[l.head + HEAD_HEAT] = into[0]! / (LIQUID_HEAT_CAPACITY * (water[0]! + EMPTY));
    for (let i = 1; i <= l.cells; i++) {
      const capacity = s.dry[i]! * c.grains.heatCapacity + LIQUID_HEAT_CAPACITY * (water[i]! + absorbed[i]!);
      out[cellAt(l, i) + HEAT] = into[i]! / capacity;
    }
    const outside = c.wall.outside * c.wall.outerArea;
    out[l.wall] = walled ? (toWall - outside * (wall - air)) / c.wall.heatCapacity : 0;
    const server = y[l.server]!;
    const arriving =
      s.drips[0]! * (temperature[l.cells]! - server) + s.aside[0]! * (temperature[0]! - server);
    out[l.server] =
      (LIQUID_HEAT_CAPACITY * arriving - c.server.loss * (server - air)) /
      (c.server.heatCapacity + LIQUID_HEAT_CAPACITY * Math.max(0, y[l.servedWater]!));
  }

  /** Heat that vapour carries off beyond the liquid's own [W]. */
  #latent(i: number): number {
    const s = this.state;
    const rate = s.evaporated[i]!;
    return rate > 0 ? rate * latentHeat(s.levels.temperature[i]! + ZERO_CELSIUS) : 0;
  }

  #solutes(y: Float64Array, out: Float64Array): void {
    const c = this.#case;
    const s = this.state;
    const l = this.layout;
    const { water, absorbed } = s.now;
    const ratio = this.#ratio;
    for (let q = 0; q < l.solutes; q++) {
      const r = q * s.nodes;
      out[l.head + HEAD_DISSOLVED + q] = -(s.aside[0]! + s.enters[1]!) * ratio[r]!;
    }
    for (let i = 1; i <= l.cells; i++) {
      readRates(s.rates, l.solutes, s.levels.temperature[i]!, s.rateOf);
      const soaked = c.grains.poreVolume > 0 ? absorbed[i]! / s.absorbMax[i]! : 1;
      const liquid = water[i]!;
      const wet = liquid / (liquid + WETTING_SHARE * (liquid + s.absorbMax[i]!));
      const on = liquid < DRY ? 0 : 1;
      const leaves = s.aside[i]! + (i === l.cells ? s.drips[0]! : s.enters[i + 1]!);
      const own = cellAt(l, i) + DISSOLVED;
      const up = i === 1 ? l.head + HEAD_DISSOLVED : cellAt(l, i - 1) + DISSOLVED;
      for (let q = 0; q < l.solutes; q++) {
        const solute = c.solutes[q]!;
        const here = ratio[q * s.nodes + i]!;
        const above = ratio[q * s.nodes + i - 1]!;
        const swapped = s.mixed[i]! * (above - here);
        const balance =
          (here * s.dry[i]!) / (1 + Math.max(0, here) / (solute.halfRatio ?? Number.POSITIVE_INFINITY));
        const core = solute.diffusivity * s.rateOf[q]! * soaked * on;
        const drawn = s.aside[i]! * here;
        let given = 0;
        const pool = poolsAt(l, i) + q * l.pools;
        for (let e = 0; e < l.pools; e++) {
          const rate = e === 0 ? solute.surfaceRate * s.rateOf[q]! * wet * on : core * s.poolRate[e]!;
          const gift = rate * (y[pool + e]! - s.capacity[q * l.pools + e]! * balance);
          out[pool + e] = -gift;
          given += gift;
        }
        out[pool]! += drawn;
        out[own + q] = s.enters[i]! * above + swapped - leaves * here + given;
        out[up + q]! -= swapped;
      }
    }
    for (let q = 0; q < l.solutes; q++)
      out[l.served + q] = s.drips[0]! * ratio[q * s.nodes + l.cells]! + s.aside[0]! * ratio[q * s.nodes]!;
  }
}
