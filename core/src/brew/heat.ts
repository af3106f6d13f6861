import { latentHeat, ZERO_CELSIUS } from '../units/index.ts';
import { type Amounts, LEDGER } from './amounts.ts';
import type { BrewCase } from './case.ts';
import { factorColumns, solveColumns } from './columns.ts';
import { headCover, headHeight } from './flow.ts';
import { LIQUID_HEAT_CAPACITY } from './liquid.ts';
import type { State } from './state.ts';

/** Contact of dry grounds with the wall over that of wet ones (assumed). */
const DRY_CONTACT = 0.05;

/** What the surroundings do during one stage. */
export interface HeatInput {
  dt: number;
  /** Stream that enters [kg] and its temperature [°C]. */
  poured: number;
  pouredTemperature: number;
  /** Convection and radiation of the free surface [W/K], surface factor included. */
  surface: number;
}

/**
 * Solves all temperatures of one implicit stage with the water moved in the same stage: enthalpy carried by liquid,
 * conduction, exchange by agitation, wall, free surface, latent heat, server. Grains and liquid of a cell share one
 * temperature. The wall is one node that touches every cell; it is eliminated by solving the bed twice (with and
 * without a unit wall temperature), so the whole is exact and the balance closes.
 */
export function stepHeat(c: BrewCase, s: State, from: Amounts, input: HeatInput): void {
  const air = c.air.temperature - ZERO_CELSIUS;
  const { matrix, right, right2 } = s;
  const { ledger, heat } = s.now;
  const { temperature } = s.levels;
  const contact = s.scratch;
  const cover = headCover(s.now.water[0]!);
  ledger.set(from.ledger);
  assembleHeat(c, s, from, input, contact, cover, air);
  factorColumns(matrix);
  solveColumns(matrix, right);
  solveColumns(matrix, right2);

  const outside = c.wall.outside * c.wall.outerArea * input.dt;
  let own = c.wall.heatCapacity + outside;
  let fed = from.ledger[LEDGER.wallHeat]! + outside * air;
  for (let i = 0; i < s.nodes; i++) {
    own += contact[i]! * (1 - right2[i]!);
    fed += contact[i]! * right[i]!;
  }
  const wall = c.wall.heatCapacity > 0 ? fed / own : 0;
  for (let i = 0; i < s.nodes; i++) {
    const T = right[i]! + right2[i]! * wall;
    temperature[i] = T;
    heat[i] =
      (s.dry[i]! * c.grains.heatCapacity + LIQUID_HEAT_CAPACITY * (s.now.water[i]! + s.now.absorbed[i]!)) * T;
  }
  if (c.wall.heatCapacity > 0) {
    ledger[LEDGER.heatOut]! += outside * (wall - air);
    ledger[LEDGER.wallHeat] = c.wall.heatCapacity * wall;
  }
  bookSurface(s, input, cover, air);
  fillServer(c, s, input.dt, air);
}

function assembleHeat(
  c: BrewCase,
  s: State,
  from: Amounts,
  input: HeatInput,
  contact: Float64Array,
  cover: number,
  air: number,
): void {
  const { above, own, below, headTo } = s.matrix;
  const { right, right2 } = s;
  const { water, absorbed, ledger } = s.now;
  const { dt } = input;
  const headContact =
    c.wall.heatCapacity > 0
      ? c.wall.contact * 2 * Math.PI * s.bedTopRadius * headHeight(c, s, water[0]!) * dt
      : 0;
  const surface = input.surface * dt;
  let latent = latentOf(s, 0);
  contact[0] = headContact;
  own[0] =
    LIQUID_HEAT_CAPACITY * (water[0]! + s.evaporated[0]! + s.aside[0]!) + surface * cover + headContact;
  right[0] =
    from.heat[0]! +
    LIQUID_HEAT_CAPACITY * input.poured * input.pouredTemperature +
    surface * cover * air -
    latent;
  right2[0] = headContact;
  ledger[LEDGER.heatOut]! += latent;
  for (let p = 0; p < s.paths; p++) {
    const top = p * s.cells + 1;
    const bottom = top + s.cells - 1;
    const bare = surface * (1 - cover) * c.bed.paths[p]!.share;
    let resistAbove = 0;
    for (let i = top; i <= bottom; i++) {
      const wet = Math.min(1, (2 * (water[i]! + absorbed[i]!)) / (s.full[i]! + s.absorbMax[i]!));
      s.wetness[i] = wet;
      const conducts = c.bed.dryConductivity + (c.bed.wetConductivity - c.bed.dryConductivity) * wet;
      const resist = s.thickness[i]! / (2 * conducts * s.area[i]!);
      const link =
        LIQUID_HEAT_CAPACITY * s.mixed[i]! + (dt * (i === top ? cover : 1)) / (resistAbove + resist);
      const carried = LIQUID_HEAT_CAPACITY * s.enters[i]!;
      const up = i === top ? 0 : i - 1;
      above[i] = -(carried + link);
      if (i === top) headTo[p] = -link;
      else below[i - 1] = -link;
      own[up]! += carried + link;
      contact[i] =
        c.wall.heatCapacity > 0
          ? c.wall.contact * s.wallArea[i]! * (DRY_CONTACT + (1 - DRY_CONTACT) * wet) * dt
          : 0;
      latent = latentOf(s, i);
      ledger[LEDGER.heatOut]! += latent;
      const loss = i === top ? bare : 0;
      own[i] =
        s.dry[i]! * c.grains.heatCapacity +
        LIQUID_HEAT_CAPACITY * (water[i]! + absorbed[i]! + s.evaporated[i]!) +
        link +
        loss +
        contact[i]!;
      right[i] = from.heat[i]! + loss * air - latent;
      right2[i] = contact[i]!;
      resistAbove = resist;
    }
    own[bottom]! += LIQUID_HEAT_CAPACITY * s.drips[p]!;
  }
  if (own[0]! <= 0) {
    // No liquid, no flow: the head has no temperature of its own; follow the bed so that nothing divides by zero.
    own[0] = 1;
    right[0] = s.guess.temperature[1]!;
    right2[0] = 0;
    headTo.fill(0);
  }
}

/** Heat that the vapour of a node carries off beyond the liquid's own [J]. */
const latentOf = (s: State, i: number): number =>
  s.evaporated[i]! > 0 ? s.evaporated[i]! * latentHeat(s.guess.temperature[i]! + ZERO_CELSIUS) : 0;

/** Books what crossed the free surface in this stage. */
function bookSurface(s: State, input: HeatInput, cover: number, air: number): void {
  const { ledger } = s.now;
  const { temperature } = s.levels;
  ledger[LEDGER.heatIn]! += LIQUID_HEAT_CAPACITY * input.poured * input.pouredTemperature;
  const surface = input.surface * input.dt;
  let out =
    surface * cover * (temperature[0]! - air) + LIQUID_HEAT_CAPACITY * s.evaporated[0]! * temperature[0]!;
  for (let p = 0; p < s.paths; p++) {
    const top = p * s.cells + 1;
    const share = s.paperArea[p]! / s.paperTotal;
    out +=
      surface * (1 - cover) * share * (temperature[top]! - air) +
      LIQUID_HEAT_CAPACITY * s.evaporated[top]! * temperature[top]!;
  }
  ledger[LEDGER.heatOut]! += out;
}

/** The server: what drips in, its own mass, its loss to the air. */
function fillServer(c: BrewCase, s: State, dt: number, air: number): void {
  const { ledger } = s.now;
  const { temperature } = s.levels;
  const side = s.aside[0]!;
  let arrived = side;
  let incoming = LIQUID_HEAT_CAPACITY * side * temperature[0]!;
  for (let p = 0; p < s.paths; p++) {
    const dripped = s.drips[p]!;
    arrived += dripped;
    incoming += LIQUID_HEAT_CAPACITY * dripped * temperature[(p + 1) * s.cells]!;
  }
  ledger[LEDGER.served]! += arrived;
  const capacity = c.server.heatCapacity + LIQUID_HEAT_CAPACITY * ledger[LEDGER.served]!;
  const loss = c.server.loss * dt;
  if (capacity > 0) {
    const T = (ledger[LEDGER.serverHeat]! + incoming + loss * air) / (capacity + loss);
    ledger[LEDGER.heatOut]! += loss * (T - air);
    ledger[LEDGER.serverHeat] = capacity * T;
  }
  s.drip.flow = arrived / dt;
  s.drip.temperature = arrived > 0 ? incoming / (LIQUID_HEAT_CAPACITY * arrived) : Number.NaN;
}

/** Enthalpy of everything the run holds [J above 0 °C]. */
export function enthalpyOf(s: State): number {
  const { heat, ledger } = s.now;
  let sum = ledger[LEDGER.wallHeat]! + ledger[LEDGER.serverHeat]!;
  for (let i = 0; i < s.nodes; i++) sum += heat[i]!;
  return sum;
}
