import { KETTLE_EFFICIENCY } from '../../brew/kettles.ts';
import {
  type BrewBundle,
  type Contest,
  pourDuration,
  type RunKettle,
  type Talk,
  venuePressure,
} from '../../documents/index.ts';
import { boilingPoint, celsius } from '../../units/index.ts';
import { type HeatingOrder, heatingOrder } from '../brewers/heating.ts';
import { type BrewerOrder, brewerOrder } from '../brewers/order.ts';

/** Length of a run when neither the talk nor the rules say one (common practice: ten minutes) [s]. */
export const USUAL_LIMIT_S = 600;
/** Voltage taken where the venue does not say [V]. */
const USUAL_V = 230;

/** All that a run is planned from. */
export interface RunDocuments {
  talk: Talk;
  /** The plan with what it points to; the venue already that of the run. */
  bundle: BrewBundle;
  contest: Contest | null;
}

/** Time there is for a run [s]. */
export const limitOf = (talk: Talk, contest: Contest | null): number =>
  talk.limit_s ?? contest?.timers.run_s ?? USUAL_LIMIT_S;

/** How hot a kettle is when the run starts: as it says, else as the first pour from it asks. */
function startOf({ start_C, kettle_id }: RunKettle, { plan }: BrewBundle): number {
  if (start_C !== null) return start_C;
  const pours = [...plan.pours].sort((a, b) => a.start_s - b.start_s);
  return (pours.find((pour) => pour.kettle_id === kettle_id) ?? pours[0]!).kettle_temperature_C;
}

/** Kettles of a run: as listed, or those of the setup, full. */
export function kettlesOfRun({ talk, bundle }: RunDocuments): RunKettle[] {
  if (talk.kettles.length > 0) return talk.kettles;
  return bundle.setup.kettles.map((kettle) => ({
    id: kettle.id,
    kettle_id: kettle.id,
    name: kettle.name,
    fill_g: kettle.capacity_g,
    keep_g: 50,
    power_W: kettle.power_W,
    rated_V: USUAL_V,
    start_C: null,
    set_C: null,
    between: 'on_base',
    body_equivalent_g: kettle.body_equivalent_g,
    loss_W_K: kettle.loss_W_K,
    from_C: 20,
    circuit: 'wall',
  }));
}

const boils_C = ({ venue }: BrewBundle): number => celsius(boilingPoint(venuePressure(venue)));

/**
 * The brewers of a run as the schedule asks for them: every brewer poured as the plan says, each wait as long as there or longer by what is given.
 *
 * @param drain_s from the end of the last pour until it has drained, where the talk does not say
 */
export function brewerOrderOf(documents: RunDocuments, drain_s: number): BrewerOrder {
  const { talk, bundle, contest } = documents;
  const { brewing } = talk;
  const pours = [...bundle.plan.pours].sort((a, b) => a.start_s - b.start_s);
  const boils = boils_C(bundle);
  const volts = bundle.venue.mains_V ?? USUAL_V;
  const limit = limitOf(talk, contest);
  const kettles = kettlesOfRun(documents);
  const kettleOf = (id: string | null): number | null => {
    const at = kettles.findIndex(({ kettle_id }) => kettle_id !== null && kettle_id === id);
    return at < 0 ? null : at + 1;
  };
  return brewerOrder.parse({
    brewers: brewing.brewers,
    pours: pours.map((pour, p) => {
      const wait = p === 0 ? 0 : pour.start_s - pours[p - 1]!.start_s;
      return {
        water_g: pour.water_g,
        after_s: brewing.give_s === 0 ? wait : { min: wait, max: wait + brewing.give_s },
        flow_g_s: Math.min(60, Math.max(0.2, brewing.flow_g_s ?? pour.water_g / pourDuration(pour))),
        asked_C: Math.min(pour.kettle_temperature_C, boils),
        kettle: kettleOf(pour.kettle_id),
      };
    }),
    flow_g_s: brewing.flow_g_s ?? 5,
    actions: actionsOf(bundle, brewing.give_s),
    move_s: brewing.move_s,
    drain_s: Math.min(1_800, brewing.drain_s ?? drain_s),
    decant: brewing.decant,
    serve: brewing.serve,
    scales: brewing.scales,
    hands: brewing.people,
    kettles: kettles.map((kettle) => ({
      name: kettle.name,
      fill_g: kettle.fill_g,
      keep_g: kettle.keep_g,
      power_W: Math.min(5_000, kettle.power_W * (volts / kettle.rated_V) ** 2),
      start_C: Math.min(boils, startOf(kettle, bundle)),
      set_C: kettle.set_C === null ? null : Math.min(boils, kettle.set_C),
      between: kettle.between,
      body_equivalent_g: kettle.body_equivalent_g,
      loss_W_K: kettle.loss_W_K,
    })),
    alongside: brewing.alongside,
    apart_s: brewing.apart_s,
    limit_s: Math.min(7_200, limit),
    from_s: Math.min(brewing.first_pour_s, 7_200),
    air_C: bundle.venue.air_C,
    boils_C: Math.min(102, Math.max(80, boils)),
  });
}

/** Stirs and swirls, each counted from the pour that it follows. */
function actionsOf({ plan }: BrewBundle, give_s: number): BrewerOrder['actions'] {
  const pours = [...plan.pours].sort((a, b) => a.start_s - b.start_s);
  return plan.actions.flatMap(({ what, start_s, duration_s }) => {
    const pour = pours.findLastIndex((p) => p.start_s <= start_s);
    if (pour < 0) return [];
    const after_s = start_s - pours[pour]!.start_s;
    return [{ what, pour: pour + 1, after_s, takes_s: duration_s, give_s: Math.max(5, give_s) }];
  });
}

/** Heating of the kettles before the run, in the time that set-up gives. */
export function heatingOrderOf(documents: RunDocuments): HeatingOrder {
  const { talk, bundle, contest } = documents;
  const volts = bundle.venue.mains_V ?? USUAL_V;
  const boils = boils_C(bundle);
  return heatingOrder.parse({
    kettles: kettlesOfRun(documents).map((kettle) => ({
      name: kettle.name,
      water_g: kettle.fill_g,
      from_C: kettle.from_C,
      to_C: startOf(kettle, bundle),
      power_W: kettle.power_W,
      rated_V: kettle.rated_V,
      circuit: kettle.circuit,
      body_equivalent_g: kettle.body_equivalent_g,
      loss_W_K: kettle.loss_W_K,
    })),
    circuits: uniqueByName(talk.circuits).map(({ name, limit_A, other_W }) => ({ name, limit_A, other_W })),
    mains_V: volts,
    within_s: Math.min(7_200, talk.facts.setup_s ?? contest?.timers.setup_s ?? 300),
    air_C: bundle.venue.air_C,
    boils_C: Math.min(102, Math.max(80, boils)),
    efficiency: KETTLE_EFFICIENCY,
  });
}

const uniqueByName = <T extends { name: string }>(list: readonly T[]): T[] =>
  list.filter((entry, i) => list.findIndex(({ name }) => name === entry.name) === i);
