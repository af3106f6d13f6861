import { LIQUID_HEAT_CAPACITY } from './liquid.ts';

/**
 * Heat that passes from a thin falling film to a body, per kelvin [W/K]: about 2 kW/m²K (from memory: 1–4) over 30 cm² of a
 * body that a drip wets (assumed).
 */
export const CHILL_CONTACT = 6;
/** Loss of a small vessel with the caught fraction to the air [W/K] (assumed). */
const CAUGHT_LOSS = 0.15;
/** Inflow below which an interval counts as dry [kg]. */
const DRY = 1e-9;

/** What the server did without any chilling. All of one length `[n]`. */
export interface ServerHistory {
  /** [s] */
  time: Float64Array;
  /** Water in the server [kg]. */
  water: Float64Array;
  /** [°C] */
  temperature: Float64Array;
  /** Share of the inflow between moment i−1 and i that meets the body, 0–1. */
  share: Float64Array;
}

/** A body or vessel of one temperature. */
export interface ColdBody {
  how: 'runs_over' | 'caught';
  /** [J/K] */
  heatCapacity: number;
  /** [°C] */
  temperature: number;
  /** [W/K] */
  contact: number;
}

/** The server of the brew. */
export interface ServerBody {
  /** [J/K] */
  heatCapacity: number;
  /** [W/K] */
  loss: number;
  /** [°C] */
  air: number;
  /** Water put straight into it when the brew is done, part of the last moment [kg], [°C]. */
  bypass: { mass: number; temperature: number } | null;
}

export interface ChillOutcome {
  /** Temperature of the server with the chilling [°C], `[n]`. */
  server: Float64Array;
  /** Water that met the body [kg], and its mean temperature before and after [°C]. */
  chilled: number;
  before: number;
  after: number;
  /** The body when the brew is done [°C], and the heat it took [J]. */
  body: number;
  heat: number;
  /** How much the last of its part was cooled [K]. */
  lastDrop: number;
  /** Relative closure of the enthalpy of server, body and what they lost. */
  closure: number;
}

/** Everything that changes from moment to moment. Heat in [J], mass in [kg], temperatures in [°C]. */
interface Tally {
  readonly server: Float64Array;
  body: number;
  /** Water standing apart in the cold vessel. */
  caught: number;
  chilled: number;
  /** Heat that the chilled water brought, what a body took from it, what came in by all water, what went to the air. */
  carried: number;
  taken: number;
  entered: number;
  lost: number;
  lastDrop: number;
}

/** What came in between two moments, and the part of it that meets the body. */
interface Inflow {
  dt: number;
  heat: number;
  drip: number;
  part: number;
  partHeat: number;
}

const C = LIQUID_HEAT_CAPACITY;

/**
 * What a cold body in the way of the first drip does to the server. The heat that came in is taken from the history itself:
 * what the server gained between two moments plus what it lost, so that without a body the history comes back to rounding.
 *
 * - `runs_over`: a film of inflow ṁ gives the body q = ε ṁ c (T − T_body), ε = 1 − e^(−G/(ṁ c)); between two moments T_body
 *   approaches T exponentially, which is exact for a steady drip.
 * - `caught`: fraction and vessel share one temperature, lose heat to the air, and join the server at the last moment.
 *
 * The server takes the implicit step of the engine, and every joule is booked, so closure is to rounding. The body has one
 * temperature; what it takes from the air is neglected.
 */
export function chillServer(history: ServerHistory, body: ColdBody, server: ServerBody): ChillOutcome {
  const n = history.time.length;
  const tally: Tally = {
    server: new Float64Array(n),
    body: body.temperature,
    caught: 0,
    chilled: 0,
    carried: 0,
    taken: 0,
    entered: 0,
    lost: 0,
    lastDrop: 0,
  };
  tally.server[0] = history.temperature[0]!;
  for (let i = 1; i < n; i++) {
    const inflow = inflowAt(history, server, i);
    const aside = tally.caught;
    const kept =
      body.how === 'caught' ? catchPart(tally, body, server, inflow) : runOver(tally, body, inflow);
    const loss = server.loss * inflow.dt;
    const before = server.heatCapacity + C * (history.water[i - 1]! - aside);
    const after = server.heatCapacity + C * (history.water[i]! - tally.caught);
    tally.server[i] =
      (before * tally.server[i - 1]! + inflow.heat - kept + loss * server.air) / (after + loss);
    tally.entered += inflow.heat;
    tally.lost += loss * (tally.server[i]! - server.air);
  }
  return outcome(history, body, server, tally);
}

function inflowAt({ time, water, temperature, share }: ServerHistory, server: ServerBody, i: number): Inflow {
  const dt = time[i]! - time[i - 1]!;
  const bypass = i === time.length - 1 ? server.bypass : null;
  const heat =
    (server.heatCapacity + C * water[i]!) * temperature[i]! -
    (server.heatCapacity + C * water[i - 1]!) * temperature[i - 1]! +
    server.loss * dt * (temperature[i]! - server.air);
  const drip = water[i]! - water[i - 1]! - (bypass?.mass ?? 0);
  const dripHeat = heat - (bypass ? C * bypass.mass * bypass.temperature : 0);
  const met = drip > DRY ? share[i]! : 0;
  return { dt, heat, drip, part: met * drip, partHeat: met * dripHeat };
}

/** The part runs over the body; returns the heat it leaves there [J]. */
function runOver(tally: Tally, body: ColdBody, { dt, drip, part, partHeat }: Inflow): number {
  if (part <= 0) return 0;
  const arriving = partHeat / (C * part);
  const effect = 1 - Math.exp((-body.contact * dt) / (C * drip));
  const next = arriving + (tally.body - arriving) * Math.exp((-effect * C * part) / body.heatCapacity);
  const taken = body.heatCapacity * (next - tally.body);
  tally.lastDrop = effect * (arriving - next);
  tally.body = next;
  tally.chilled += part;
  tally.carried += partHeat;
  tally.taken += taken;
  return taken;
}

/** The part goes to the cold vessel, which also loses to the air; returns the heat that stays apart from the server [J]. */
function catchPart(tally: Tally, body: ColdBody, server: ServerBody, inflow: Inflow): number {
  const { dt, part, partHeat } = inflow;
  if (part > 0) {
    const before = body.heatCapacity + C * tally.caught;
    const next = (before * tally.body + partHeat) / (before + C * part);
    tally.lastDrop = partHeat / (C * part) - next;
    tally.body = next;
    tally.caught += part;
    tally.chilled += part;
    tally.carried += partHeat;
  }
  if (tally.caught <= 0) return 0;
  const held = body.heatCapacity + C * tally.caught;
  const loss = CAUGHT_LOSS * dt;
  tally.body = (held * tally.body + loss * server.air) / (held + loss);
  tally.lost += loss * (tally.body - server.air);
  return part > 0 ? partHeat : 0;
}

/** Brings a caught fraction back to the server, and closes the books. */
function outcome(history: ServerHistory, body: ColdBody, server: ServerBody, t: Tally): ChillOutcome {
  const last = t.server.length - 1;
  const water = history.water[last]!;
  const rest = server.heatCapacity + C * (water - t.caught);
  t.server[last] = (rest * t.server[last]! + C * t.caught * t.body) / (rest + C * t.caught);
  const heat = body.heatCapacity * (t.body - body.temperature);
  const before = t.carried / (C * t.chilled);
  const gained =
    (server.heatCapacity + C * water) * t.server[last]! -
    (server.heatCapacity + C * history.water[0]!) * t.server[0]!;
  return {
    server: t.server,
    chilled: t.chilled,
    before,
    after: body.how === 'caught' ? t.body : before - t.taken / (C * t.chilled),
    body: t.body,
    heat,
    lastDrop: t.lastDrop,
    closure: Math.abs(gained + heat + t.lost - t.entered) / Math.max(1, Math.abs(t.entered)),
  };
}
