import type { Cue, Rehearsal, RunEvent } from '@pourline/core';
import { CAMPAIGN, PLAN, rehearsalId, TALK } from './ids.ts';
import { talk } from './stage.ts';

/**
 * Rehearsals of a time when the three brewers were still poured one after another: invented, and the reason why the run now pours them
 * alongside.
 */
const FIRST_POURS = [60, 215, 370] as const;

const none = { brewer: null, water_g: null, scale_g: null, title: '', text: '' };

const hands = FIRST_POURS.flatMap((from, b): Cue[] => {
  const brewer = b + 1;
  return [
    ...[1, 2, 3, 4].map(
      (pour): Cue => ({
        ...none,
        id: `brewer ${brewer} pour ${pour}`,
        what: 'pour',
        brewer,
        at_s: from + 30 * (pour - 1),
        takes_s: 10,
        water_g: 50,
        scale_g: 50 * pour,
      }),
    ),
    { ...none, id: `brewer ${brewer} decant`, what: 'decant', brewer, at_s: from + 123, takes_s: 6 },
    { ...none, id: `brewer ${brewer} serve`, what: 'serve', brewer, at_s: from + 129, takes_s: 15 },
  ];
});

/** When each piece of the talk begins and how long it takes, as planned then [s]. */
const SAID: readonly (readonly [id: string, at_s: number, takes_s: number])[] = [
  ['greeting', 0, 15],
  ['coffee', 16, 17],
  ['waters', 34, 14],
  ['bed', 72, 17],
  ['hill', 131, 22],
  ['instructions', 190, 18],
  ['flavour', 255, 19],
  ['acidity', 316, 12],
  ['service', 472, 16],
  ['thanks', 560, 9],
];

const voice = SAID.map(([id, at_s, takes_s]): Cue => {
  const segment = talk.segments.find((entry) => entry.id === id)!;
  // Numbers that follow their sources were not bound yet when these runs were made.
  const text = segment.text.replaceAll(/\{[^}]*\}/g, 'so many');
  return { ...none, id, what: 'say', at_s, takes_s, title: segment.title, text };
});

const cues: Cue[] = [...hands, ...voice].sort((a, b) => a.at_s - b.at_s);

/** How a run went: what it lost evenly, what the story about the hill added, and where it ended [s]. */
interface Went {
  at: string;
  evenly: number;
  hill: number;
  ended: number;
  notes: string;
  /** Cues nobody tapped. */
  missed?: readonly string[];
  left_out?: readonly string[];
  marked?: number;
  cups: readonly [beverage_g: number, strength_pct: number, served_C: number][];
}

const WENT: readonly Went[] = [
  {
    at: '2026-11-17T18:05:00+00:00',
    evenly: 17,
    hill: 14,
    ended: 611.4,
    notes: 'Talked to the kettle instead of the table. The story took twice as long as on paper.',
    missed: ['waters', 'brewer 2 pour 3'],
    marked: 174,
    cups: [
      [156.1, 1.3, 63],
      [155.2, 1.34, 64],
      [157.4, 1.27, 66],
    ],
  },
  {
    at: '2026-11-18T18:20:00+00:00',
    evenly: 12,
    hill: 11,
    ended: 602.8,
    notes: 'Left the service line out when the third brewer began late.',
    left_out: ['service'],
    cups: [
      [155.6, 1.31, 62],
      [156.0, 1.32, 63],
      [156.3, 1.29, 65],
    ],
  },
  {
    at: '2026-11-19T18:00:00+00:00',
    evenly: 10,
    hill: 6,
    ended: 597.1,
    notes: '',
    marked: 301,
    cups: [
      [155.9, 1.32, 62],
      [155.4, 1.33, 62],
      [155.8, 1.31, 64],
    ],
  },
  {
    at: '2026-11-20T18:10:00+00:00',
    evenly: 6,
    hill: 5,
    ended: 591.6,
    notes: 'Calm. Still a breath too many before the hill.',
    cups: [
      [155.7, 1.32, 63],
      [155.9, 1.31, 63],
      [155.5, 1.32, 64],
    ],
  },
];

/** What no hand does twice alike [s]; invented. */
const WOBBLE = [0.4, -0.3, 0.9, 0.1, -0.6, 0.7, 0.2, -0.1, 1.1, -0.4, 0.5];

function eventsOf(
  run: number,
  { at, evenly, hill, ended, missed = [], left_out = [], marked }: Went,
): RunEvent[] {
  const began = Date.parse(at);
  const hillAt = cues.find(({ id }) => id === 'hill')!.at_s;
  const laps = cues
    .filter(({ id }) => !missed.includes(id) && !left_out.includes(id))
    .map(({ id, at_s }, i) => {
      const wobble = WOBBLE[(7 * i + 3 * run) % WOBBLE.length]!;
      const late = (evenly * at_s) / 600 + (at_s > hillAt ? hill : 0) + wobble;
      return { what: 'lap' as const, cue_id: id, at_s: Math.max(0, Math.round((at_s + late) * 10) / 10) };
    });
  const between = [
    ...(marked === undefined ? [] : [{ what: 'mark' as const, at_s: marked }]),
    ...(left_out.length === 0
      ? []
      : [
          {
            what: 'choice' as const,
            at_s: 389,
            left_out: [...left_out],
            starts: [],
            points: 0.5,
            ends_s: 596,
          },
        ]),
  ];
  return [
    { what: 'start' as const, at_s: -5, count_in_s: 5 },
    ...[...laps, ...between].sort((a, b) => a.at_s - b.at_s),
    { what: 'end' as const, at_s: ended, how: 'finished' as const },
  ].map((event, n) => ({
    ...event,
    n,
    wall_ms: began + 1_000 * event.at_s,
    mono_ms: 20_000 + 1_000 * event.at_s,
    opened_ms: began - 20_000,
  }));
}

/** Four runs with the live view, each a little better than the one before. */
export const rehearsals: Rehearsal[] = WENT.map((went, run) => ({
  kind: 'rehearsal',
  version: 1,
  id: rehearsalId(run + 1),
  campaign_id: CAMPAIGN,
  name: `One after another, run ${run + 1}`,
  notes: went.notes,
  archived: false,
  talk_id: TALK,
  plan_id: PLAN.fourPoursAtTheHall,
  began_at: went.at,
  limit_s: 600,
  brewers: 3,
  cues,
  events: eventsOf(run, went),
  sound: null,
  cups: went.cups.map(([beverage_g, strength_pct, served_C], b) => ({
    brewer: b + 1,
    beverage_g,
    strength_pct,
    served_C,
  })),
}));
