import { checkKind, type Trial } from '@pourline/core';
import { CAMPAIGN, PLAN, trialId } from './ids.ts';

interface Measured {
  plan: string;
  name: string;
  at: string;
  dose: number;
  water: number;
  beverage: number | null;
  drawdown: number | null;
  strength: number[];
  /** Time [s], place, temperature [°C]. */
  temperatures?: [number, Trial['temperatures'][number]['where'], number][];
  notes?: string;
}

const measured: Measured[] = [
  {
    plan: PLAN.fourPours,
    name: 'First try of the four pours',
    at: '2026-11-16T09:20:00+00:00',
    dose: 14.02,
    water: 200.4,
    beverage: 155.3,
    drawdown: null,
    strength: [1.3, 1.32, 1.31],
    temperatures: [
      [12, 'bed_middle', 58],
      [28, 'bed_middle', 57],
      [45, 'bed_middle', 74],
      [75, 'bed_middle', 81],
      [105, 'bed_middle', 84],
      [125, 'server', 60],
    ],
    notes:
      'Sweet, a little thin in the middle. Thermometer wire in the middle of the bed. Taken away at 123 s, still dripping.',
  },
  {
    plan: PLAN.fourPours,
    name: 'Same again, other hands',
    at: '2026-11-16T10:05:00+00:00',
    dose: 13.98,
    water: 199.1,
    beverage: 153.8,
    drawdown: null,
    strength: [1.34, 1.33],
    notes: 'Poured by the coach.',
  },
  {
    plan: PLAN.fourPours,
    name: 'Two days later',
    at: '2026-11-18T09:10:00+00:00',
    dose: 14,
    water: 200.2,
    beverage: 156.1,
    drawdown: null,
    strength: [1.28, 1.29, 1.27],
    temperatures: [
      [28, 'bed_middle', 58],
      [45, 'bed_middle', 75],
      [105, 'bed_middle', 85],
    ],
  },
  {
    plan: PLAN.fivePoursCone,
    name: 'Cone, against the flat one',
    at: '2026-11-18T11:30:00+00:00',
    dose: 15.01,
    water: 250.6,
    beverage: 217.2,
    drawdown: 214,
    strength: [1.3, 1.31],
    notes: 'Rounder, less to say about it.',
  },
  {
    plan: PLAN.immersion,
    name: 'Closed valve, first time',
    at: '2026-11-19T14:00:00+00:00',
    dose: 15,
    water: 240.3,
    beverage: 206.5,
    drawdown: 236,
    strength: [1.19, 1.21],
  },
  {
    plan: PLAN.threePours,
    name: 'Three pours for the anaerobic lot',
    at: '2026-11-20T09:40:00+00:00',
    dose: 16.03,
    water: 200.8,
    beverage: 193.4,
    drawdown: 146,
    strength: [1.36, 1.34, 1.35],
    notes: 'Beverage weighed after the added water.',
  },
];

/** A trial with every default written out. */
function filled(body: object): Trial {
  const checked = checkKind('trial', { kind: 'trial', version: 1, campaign_id: CAMPAIGN, ...body });
  if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join('\n'));
  return checked.value;
}

export const trials: Trial[] = measured.map((m, i) =>
  filled({
    id: trialId(i + 1),
    name: m.name,
    notes: m.notes ?? '',
    plan_id: m.plan,
    brewed_at: m.at,
    dose_g: m.dose,
    water_g: m.water,
    beverage_g: m.beverage,
    drawdown_s: m.drawdown,
    strength_readings: m.strength.map((strength_pct) => ({ strength_pct, sample_C: 22 })),
    temperatures: (m.temperatures ?? []).map(([time_s, where, temperature_C]) => ({
      time_s,
      where,
      temperature_C,
    })),
  }),
);
