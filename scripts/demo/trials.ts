import { readFileSync } from 'node:fs';
import { type Archive, checkKind, type Instrument, type Trial } from '@pourline/core';
import brewed from './brewed.json' with { type: 'json' };
import { CAMPAIGN, EVENT, INSTRUMENT, trialId } from './ids.ts';
import { stories } from './trial-stories.ts';

/** A trial with every default written out. */
function filled(body: object): Trial {
  const checked = checkKind('trial', { kind: 'trial', version: 1, campaign_id: CAMPAIGN, ...body });
  if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join('\n'));
  return checked.value;
}

/** Invented trials: what happened in `trial-stories.ts`, what was measured in `brewed.json`, made by `brew-trials.ts`. */
export const trials: Trial[] = stories.map((story, i) =>
  filled({
    ...brewed[i],
    id: trialId(i + 1),
    name: story.name,
    notes: story.notes ?? '',
    plan_id: story.plan,
    brewed_at: story.at,
    poured_by: story.by ?? 'brewer',
    dripper_mark: story.cup ?? '',
    event: story.cup ? { id: EVENT, cup: story.cup } : null,
    refractometer_id: story.brix ? INSTRUMENT.oldRefractometer : INSTRUMENT.refractometer,
    balance_id: INSTRUMENT.balance,
    thermometer_id: story.thermometer || story.trace ? INSTRUMENT.thermometer : null,
  }),
);

function instrument(id: string, name: string, notes: string, is: object, serial: object | null): Instrument {
  const body = { kind: 'instrument', version: 1, campaign_id: CAMPAIGN, id, name, notes, is, serial };
  const checked = checkKind('instrument', body);
  if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join('\n'));
  return checked.value;
}

/** What the trials were measured with; invented. */
export const instruments: Instrument[] = [
  instrument(
    INSTRUMENT.balance,
    'Bench balance',
    'Prints ten lines a second.',
    { what: 'balance', step_g: 0.1, limit_g: 0.1 },
    { baud: 9_600, pattern: '{stable:ST}{moving:US},{skip},{number} {unit}', unit: 'g' },
  ),
  instrument(
    INSTRUMENT.refractometer,
    'Refractometer',
    '',
    { what: 'refractometer', shows: 'strength' },
    null,
  ),
  instrument(
    INSTRUMENT.oldRefractometer,
    'Refractometer, the old one',
    'Shows degrees Brix. Three samples were dried in an oven.',
    {
      what: 'refractometer',
      shows: 'brix',
      pairs: [
        { brix: 1.3, strength_pct: 1.13, strength_doubt_pct: 0.02 },
        { brix: 1.62, strength_pct: 1.39, strength_doubt_pct: 0.02 },
        { brix: 1.95, strength_pct: 1.69, strength_doubt_pct: 0.02 },
      ],
    },
    null,
  ),
  instrument(
    INSTRUMENT.thermometer,
    'Thermometer wire',
    '',
    { what: 'thermometer', step_C: 0.1, limit_C: 0.5 },
    { baud: 19_200, pattern: '{number} {unit}', unit: 'C' },
  ),
];

/** The recordings that trials point to. */
export const recordings: Archive['attachments'] = trials.flatMap(({ traces }) =>
  traces.map(({ attachment, media_type, name }) => ({
    hash: attachment,
    media_type,
    name,
    base64: readFileSync(new URL(`./traces/${name}`, import.meta.url)).toString('base64'),
  })),
);
