import { type BrewBundle, hottestKettle_C, type Plan, pourDuration, pourEnd } from '../../documents/index.ts';
import { shareBelow } from '../../grind/index.ts';
import { grindTable, RESTED_DAYS } from '../compile.ts';
import { PARAMETERS } from '../parameters.ts';
import { medianSize, type Regrind, regroundTable, withTable } from './regrind.ts';

export const KNOB_NAMES = [
  'dose',
  'pour_water',
  'pour_start',
  'pour_kettle',
  'flow',
  'height',
  'grind',
  'fines',
  'paper',
  'age',
  'air',
  'lift',
  'outlet',
  'bypass',
] as const;
export type KnobName = (typeof KNOB_NAMES)[number];

/** Something a brewer can turn, in the unit the brewer reads. */
export interface Knob {
  /** `dose`, `pour_kettle.2`, `pour_water.2-9`. */
  readonly id: string;
  readonly name: KnobName;
  /** First and last pour it concerns, counted from 1; null for none in particular. */
  readonly pours: readonly [number, number] | null;
  readonly unit: string;
  /** As planned. */
  readonly value: number;
  /** What one might try around it. */
  readonly low: number;
  readonly high: number;
  /** A turn that is easy to picture: one gram, 100 µm. */
  readonly step: number;
  readonly turn: (hands: Hands, value: number) => void;
}

/** A plan under change. Plan, pours and venue are copies that knobs may write to. */
export interface Hands {
  plan: Plan;
  venue: BrewBundle['venue'];
  /** On the resistance of the paper, measured or not. */
  paper: number;
  regrind: Regrind;
}

/** More pours than these are taken together, the first apart from the rest. */
const MOST_POURS_APART = 6;
/** A grind has fines worth turning at from this share of its mass on. */
const LEAST_FINES = 0.005;
/** Between two pours, and between the last and the lift [s]. */
const GAP = 0.1;

/** Copies of what knobs write to. */
export const handsOf = ({ plan, venue }: BrewBundle): Hands => ({
  plan: { ...plan, pours: plan.pours.map((pour) => ({ ...pour, rate: { ...pour.rate } })) },
  venue: { ...venue },
  paper: 1,
  regrind: { coarser: 1, fines: Number.NaN },
});

/** The bundle after the knobs were turned: pours in a row without overlap, the lift after the last of them, the grind as turned. */
export function bundleOf(bundle: BrewBundle, hands: Hands): BrewBundle {
  settle(hands.plan);
  const turned = { ...bundle, plan: hands.plan, venue: hands.venue };
  const { coarser, fines } = hands.regrind;
  if (coarser === 1 && Number.isNaN(fines)) return turned;
  const table = grindTable(bundle);
  const limit = PARAMETERS.finesLimit.value;
  const wanted = { coarser, fines: Number.isNaN(fines) ? shareBelow(table, limit) : fines };
  return withTable(turned, regroundTable(table, wanted, limit));
}

/** Pushes pours that would begin during another behind it, in their order in time. */
function settle(plan: Plan): void {
  let end = Number.NEGATIVE_INFINITY;
  for (const pour of [...plan.pours].sort((a, b) => a.start_s - b.start_s)) {
    pour.start_s = Math.max(pour.start_s, end);
    end = pourEnd(pour);
  }
  if (plan.lift_s !== null) plan.lift_s = Math.max(plan.lift_s, end + GAP);
}

/** Limits around a value: not further than `most`, nor than the share `part` of it, and within `from`–`to`. */
const around = (value: number, most: number, part: number, from = 0, to = Number.POSITIVE_INFINITY) => {
  const reach = Math.min(most, Math.abs(value) * part);
  return { value, low: Math.max(from, value - reach), high: Math.min(to, value + reach) };
};

/** The knobs of a plan that have room to turn, with the range one might try: a judgement, the same for every plan. */
export function knobsOf(bundle: BrewBundle): Knob[] {
  const all = [
    doseKnob(bundle),
    ...pourGroups(bundle.plan).flatMap((group) => pourKnobs(bundle, group)),
    flowKnob(bundle.plan),
    heightKnob(bundle.plan),
    ...grindKnobs(bundle),
    PAPER,
    ageKnob(bundle.plan),
    airKnob(bundle),
    ...timeKnobs(bundle.plan),
    ...bypassKnobs(bundle.plan),
  ];
  return all.filter((knob) => knob.high > knob.low);
}

const doseKnob = ({ plan }: BrewBundle): Knob => ({
  id: 'dose',
  name: 'dose',
  pours: null,
  unit: 'g',
  ...around(plan.dose_g, 2, 0.07),
  step: plan.dose_g < 5 ? 0.1 : 1,
  turn: (hands, value) => {
    hands.plan.dose_g = value;
  },
});

/** Places of pours in the plan's list, in order of time, in the groups that are turned together. */
function pourGroups(plan: Plan): number[][] {
  const order = plan.pours.map((_, i) => i).sort((a, b) => plan.pours[a]!.start_s - plan.pours[b]!.start_s);
  return order.length <= MOST_POURS_APART ? order.map((i) => [i]) : [order.slice(0, 1), order.slice(1)];
}

function pourKnobs(bundle: BrewBundle, group: readonly number[]): Knob[] {
  const { pours } = bundle.plan;
  const first = Math.min(...group) + 1;
  const last = Math.max(...group) + 1;
  const mean = (of: (i: number) => number) => group.reduce((sum, i) => sum + of(i), 0) / group.length;
  const shared = { pours: [first, last] as const };
  const suffix = first === last ? `${first}` : `${first}-${last}`;
  const water = mean((i) => pours[i]!.water_g);
  const kettle = mean((i) => pours[i]!.kettle_temperature_C);
  const hottest = Math.max(...group.map((i) => pours[i]!.kettle_temperature_C));
  const knobs: Knob[] = [
    {
      ...shared,
      id: `pour_water.${suffix}`,
      name: 'pour_water',
      unit: 'g',
      ...around(water, 20, 0.2),
      step: 10,
      turn: (hands, value) => {
        for (const i of group) hands.plan.pours[i]!.water_g += value - water;
      },
    },
    {
      ...shared,
      id: `pour_kettle.${suffix}`,
      name: 'pour_kettle',
      unit: '°C',
      ...around(kettle, 5, 1, 0, kettle + Math.max(0, hottestKettle_C(bundle.venue) - hottest)),
      step: 2,
      turn: (hands, value) => {
        for (const i of group) hands.plan.pours[i]!.kettle_temperature_C += value - kettle;
      },
    },
  ];
  const start = mean((i) => pours[i]!.start_s);
  const earliest = Math.min(...pours.map((pour) => pour.start_s));
  if (group.every((i) => pours[i]!.start_s > earliest))
    knobs.splice(1, 0, {
      ...shared,
      id: `pour_start.${suffix}`,
      name: 'pour_start',
      unit: 's',
      ...around(start, 10, 0.5),
      step: 5,
      turn: (hands, value) => {
        for (const i of group) hands.plan.pours[i]!.start_s += value - start;
      },
    });
  return knobs;
}

function flowKnob({ pours }: Plan): Knob {
  const water = pours.reduce((sum, pour) => sum + pour.water_g, 0);
  const flow = water / pours.reduce((sum, pour) => sum + pourDuration(pour), 0);
  return {
    id: 'flow',
    name: 'flow',
    pours: null,
    unit: 'g/s',
    ...around(flow, 2, 0.3),
    step: 1,
    turn: (hands, value) => {
      for (const { rate } of hands.plan.pours)
        if (rate.by === 'flow') rate.flow_g_s *= value / flow;
        else rate.duration_s *= flow / value;
    },
  };
}

function heightKnob({ pours }: Plan): Knob {
  const height = pours.reduce((sum, pour) => sum + pour.height_cm, 0) / pours.length;
  return {
    id: 'height',
    name: 'height',
    pours: null,
    unit: 'cm',
    value: height,
    low: Math.max(0, height - 8),
    high: Math.min(60, height + 8),
    step: 5,
    turn: (hands, value) => {
      for (const pour of hands.plan.pours) pour.height_cm = Math.max(0, pour.height_cm + value - height);
    },
  };
}

function grindKnobs(bundle: BrewBundle): Knob[] {
  const table = grindTable(bundle);
  const median = medianSize(table) * 1e6;
  const fines = shareBelow(table, PARAMETERS.finesLimit.value);
  const knobs: Knob[] = [
    {
      id: 'grind',
      name: 'grind',
      pours: null,
      unit: 'µm',
      ...around(median, 150, 0.25),
      step: 100,
      turn: (hands, value) => {
        hands.regrind.coarser = value / median;
      },
    },
  ];
  if (fines >= LEAST_FINES)
    knobs.push({
      id: 'fines',
      name: 'fines',
      pours: null,
      unit: '%',
      ...around(fines * 100, 4, 0.4, 0, 100),
      step: 2,
      turn: (hands, value) => {
        hands.regrind.fines = value / 100;
      },
    });
  return knobs;
}

/** Another paper: how tight it is, over the one planned. What is not known of the planned one is no matter of the hand. */
const PAPER: Knob = {
  id: 'paper',
  name: 'paper',
  pours: null,
  unit: '-',
  value: 1,
  low: 0.7,
  high: 1.3,
  step: 0.25,
  turn: (hands, value) => {
    hands.paper = value;
  },
};

function ageKnob(plan: Plan): Knob {
  const age = plan.coffee_age_d ?? RESTED_DAYS;
  return {
    id: 'age',
    name: 'age',
    pours: null,
    unit: 'd',
    value: age,
    low: Math.max(0, age - 7),
    high: Math.min(400, age + 7),
    step: 7,
    turn: (hands, value) => {
      hands.plan.coffee_age_d = value;
    },
  };
}

const airKnob = ({ venue }: BrewBundle): Knob => ({
  id: 'air',
  name: 'air',
  pours: null,
  unit: '°C',
  value: venue.air_C,
  low: Math.max(-10, venue.air_C - 6),
  high: Math.min(50, venue.air_C + 6),
  step: 5,
  turn: (hands, value) => {
    hands.venue.air_C = value;
  },
});

function timeKnobs(plan: Plan): Knob[] {
  const knobs: Knob[] = [];
  const time = (name: 'lift' | 'outlet', value: number, turn: Knob['turn']) =>
    knobs.push({ id: name, name, pours: null, unit: 's', ...around(value, 10, 0.2), step: 5, turn });
  if (plan.lift_s !== null)
    time('lift', plan.lift_s, (hands, value) => {
      hands.plan.lift_s = value;
    });
  if (plan.outlet_opens_s)
    time('outlet', plan.outlet_opens_s, (hands, value) => {
      hands.plan.outlet_opens_s = value;
    });
  return knobs;
}

function bypassKnobs({ bypass }: Plan): Knob[] {
  if (!bypass) return [];
  const knob: Knob = {
    id: 'bypass',
    name: 'bypass',
    pours: null,
    unit: 'g',
    ...around(bypass.water_g, 20, 0.5),
    step: 10,
    turn: (hands, value) => {
      hands.plan.bypass = { ...bypass, water_g: value };
    },
  };
  return [knob];
}
