/** What was brewed in the demo, when and by whom, and what was said of it. Invented; the figures are in `brewed.json`. */
import type { Tasted } from '@pourline/core';
import { PLAN } from './ids.ts';

export interface TrialStory {
  plan: string;
  name: string;
  at: string;
  notes?: string;
  by?: 'brewer' | 'coach';
  /** Which of three cups made at once. */
  cup?: 'A' | 'B' | 'C';
  /** What was measured beside masses and strength. */
  thermometer?: boolean;
  trace?: boolean;
  spent?: boolean;
  /** Readings in °Brix, by the old instrument. */
  brix?: boolean;
  /** Words found hot, warm and cold; a cup without them was not tasted. */
  words?: Partial<Record<Tasted['when'], string[]>>;
  /** A hand that pours more at first, and other slips: seconds late and grams over, by pour. */
  slips?: readonly (readonly [late_s: number, over_g: number])[];
}

const washed = { hot: ['white flowers', 'lemon'], warm: ['apricot', 'honey'], cold: ['green grape'] };

/** The trials in the order of their ids. */
export const stories: readonly TrialStory[] = [
  {
    plan: PLAN.fourPours,
    name: 'First try of the four pours',
    at: '2026-11-16T09:20:00+00:00',
    thermometer: true,
    notes:
      'Sweet, a little thin in the middle. Thermometer wire in the middle of the bed. Taken away at 123 s, still dripping.',
    words: washed,
  },
  {
    plan: PLAN.fourPours,
    name: 'Same again, other hands',
    at: '2026-11-16T10:05:00+00:00',
    by: 'coach',
    notes: 'Poured by the coach.',
  },
  {
    plan: PLAN.fourPours,
    name: 'Two days later',
    at: '2026-11-18T09:10:00+00:00',
    thermometer: true,
    words: { hot: ['jasmine'], warm: ['apricot'] },
  },
  {
    plan: PLAN.fivePoursCone,
    name: 'Cone, against the flat one',
    at: '2026-11-18T11:30:00+00:00',
    notes: 'Rounder, less to say about it.',
    words: { hot: ['black tea'], warm: ['apricot', 'caramel'], cold: ['honey'] },
  },
  {
    plan: PLAN.immersion,
    name: 'Closed valve, first time',
    at: '2026-11-19T14:00:00+00:00',
    words: { warm: ['strawberry jam', 'cocoa'] },
  },
  {
    plan: PLAN.threePours,
    name: 'Three pours for the anaerobic lot',
    at: '2026-11-20T09:40:00+00:00',
    notes: 'Beverage weighed after the added water.',
    words: { hot: ['rum'], warm: ['strawberry jam'], cold: ['hibiscus'] },
  },
  {
    plan: PLAN.fourPours,
    name: 'One week from roasting',
    at: '2026-11-09T10:00:00+00:00',
    notes: 'Too fresh: it foams, and the bed rises.',
    words: { hot: ['grain'], warm: ['lemon'] },
  },
  {
    plan: PLAN.fourPours,
    name: 'Ten days from roasting',
    at: '2026-11-12T09:30:00+00:00',
    spent: true,
    words: { hot: ['white flowers'], warm: ['lemon', 'honey'] },
  },
  {
    plan: PLAN.fivePoursCone,
    name: 'Cone, first morning',
    at: '2026-11-13T10:10:00+00:00',
    thermometer: true,
    notes: 'Swirled late.',
    words: { hot: ['black tea'], cold: ['orange peel'] },
    slips: [
      [0, 0],
      [3, 2],
      [4, -3],
      [4, 1],
      [5, 0],
    ],
  },
  {
    plan: PLAN.fourPours,
    name: 'The old refractometer',
    at: '2026-11-22T09:00:00+00:00',
    brix: true,
    notes: 'The other refractometer had no battery.',
    words: { warm: ['apricot'] },
  },
  {
    plan: PLAN.fourPours,
    name: 'Three cups at once: A',
    at: '2026-11-23T15:00:00+00:00',
    cup: 'A',
    trace: true,
    words: washed,
  },
  {
    plan: PLAN.fourPours,
    name: 'Three cups at once: B',
    at: '2026-11-23T15:00:00+00:00',
    cup: 'B',
    words: { hot: ['white flowers'], warm: ['apricot'], cold: ['green grape', 'honey'] },
    slips: [
      [0, 0],
      [4, 1],
      [5, -1],
      [6, 1],
    ],
  },
  {
    plan: PLAN.fourPours,
    name: 'Three cups at once: C',
    at: '2026-11-23T15:00:00+00:00',
    cup: 'C',
    notes: 'The third pour ran over: too long a look at the clock.',
    words: { hot: ['lemon'], warm: ['apricot'], cold: ['green grape'] },
    slips: [
      [0, 0],
      [8, 0],
      [10, 9],
      [11, 0],
    ],
  },
  {
    plan: PLAN.threePours,
    name: 'Anaerobic, rested',
    at: '2026-11-23T10:20:00+00:00',
    words: { hot: ['rum'], warm: ['strawberry jam', 'vanilla'], cold: ['hibiscus'] },
  },
  {
    plan: PLAN.fivePoursCone,
    name: 'Cone, three weeks from roasting',
    at: '2026-11-24T09:15:00+00:00',
    spent: true,
    words: { hot: ['jasmine'], warm: ['honey'], cold: ['green grape'] },
  },
  {
    plan: PLAN.immersion,
    name: 'Closed valve, stirred with care',
    at: '2026-11-25T13:30:00+00:00',
    words: { hot: ['cocoa'], warm: ['strawberry jam'] },
  },
  {
    plan: PLAN.fourPours,
    name: 'Front-loaded by mistake',
    at: '2026-11-26T09:05:00+00:00',
    trace: true,
    notes: 'The first pour went in too fast and too full; the last one makes up for it.',
    words: { hot: ['lemon'], warm: ['grain', 'honey'] },
    slips: [
      [0, 16],
      [0, 2],
      [-1, -1],
      [1, -15],
    ],
  },
  {
    plan: PLAN.threePours,
    name: 'Anaerobic, coach pours',
    at: '2026-11-26T11:00:00+00:00',
    by: 'coach',
    words: { warm: ['strawberry jam'], cold: ['rum'] },
  },
  {
    plan: PLAN.fivePoursCone,
    name: 'Cone, last before packing',
    at: '2026-11-27T16:40:00+00:00',
    words: { hot: ['jasmine'], warm: ['apricot', 'honey'] },
  },
  {
    plan: PLAN.fourPours,
    name: 'Four pours, quiet hands',
    at: '2026-11-28T09:00:00+00:00',
    thermometer: true,
    words: washed,
  },
  {
    plan: PLAN.threePours,
    name: 'Anaerobic, a little warmer room',
    at: '2026-11-28T10:30:00+00:00',
    words: { hot: ['vanilla'], warm: ['strawberry jam'], cold: ['hibiscus'] },
  },
];
