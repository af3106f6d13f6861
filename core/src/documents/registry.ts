import { z } from 'zod';
import { batch } from './kinds/batch.ts';
import { blend } from './kinds/blend.ts';
import { budget } from './kinds/budget.ts';
import { campaign } from './kinds/campaign.ts';
import { coffee } from './kinds/coffee.ts';
import { concentrate } from './kinds/concentrate.ts';
import { contest } from './kinds/contest.ts';
import { description } from './kinds/description.ts';
import { grinder } from './kinds/grinder.ts';
import { instrument } from './kinds/instrument.ts';
import { mix } from './kinds/mix.ts';
import { plan } from './kinds/plan.ts';
import { rehearsal } from './kinds/rehearsal.ts';
import { salt } from './kinds/salt.ts';
import { setup } from './kinds/setup.ts';
import { sizing } from './kinds/sizing.ts';
import { talk } from './kinds/talk.ts';
import { tasting } from './kinds/tasting.ts';
import { trial } from './kinds/trial.ts';
import { venue } from './kinds/venue.ts';
import { water } from './kinds/water.ts';
import { words } from './kinds/words.ts';
import { type Checked, checkSchema, problem, shown } from './problem.ts';
import { defineFamily, type Family, upgradeTo } from './upgrade.ts';

/** Every kind of document, with its newest schema and the steps that bring older versions to it. */
export const families = {
  campaign: defineFamily('campaign', campaign, []),
  coffee: defineFamily('coffee', coffee, []),
  water: defineFamily('water', water, []),
  salt: defineFamily('salt', salt, []),
  concentrate: defineFamily('concentrate', concentrate, []),
  mix: defineFamily('mix', mix, []),
  batch: defineFamily('batch', batch, []),
  grinder: defineFamily('grinder', grinder, []),
  sizing: defineFamily('sizing', sizing, []),
  blend: defineFamily('blend', blend, []),
  setup: defineFamily('setup', setup, []),
  venue: defineFamily('venue', venue, []),
  plan: defineFamily('plan', plan, []),
  trial: defineFamily('trial', trial, []),
  instrument: defineFamily('instrument', instrument, []),
  contest: defineFamily('contest', contest, []),
  tasting: defineFamily('tasting', tasting, []),
  words: defineFamily('words', words, []),
  description: defineFamily('description', description, []),
  rehearsal: defineFamily('rehearsal', rehearsal, []),
  talk: defineFamily('talk', talk, []),
  budget: defineFamily('budget', budget, []),
} as const;

export type Kind = keyof typeof families;
export type DocumentOf<K extends Kind> = z.infer<(typeof families)[K]['schema']>;
export type AnyDocument = { [K in Kind]: DocumentOf<K> }[Kind];

export const KINDS = Object.keys(families) as Kind[];

export const isKind = (value: unknown): value is Kind =>
  typeof value === 'string' && Object.hasOwn(families, value);

/**
 * Checks anything at all against the schema of the kind it says it is, after bringing an older version up to
 * date. Never throws; reports every problem with its path.
 */
export function checkDocument(input: unknown): Checked<AnyDocument> {
  const said = typeof input === 'object' && input !== null && 'kind' in input ? input.kind : undefined;
  if (!isKind(said))
    return {
      ok: false,
      problems: [problem(['kind'], 'not_a_document', { value: shown(said), allowed: KINDS.join(', ') })],
    };
  return checkIn<AnyDocument>(families[said] as unknown as Family<z.ZodType<AnyDocument>>, input);
}

/** {@link checkDocument} for a caller that wants one kind and no other. */
export function checkKind<K extends Kind>(kind: K, input: unknown): Checked<DocumentOf<K>> {
  return checkIn<DocumentOf<K>>(families[kind] as unknown as Family<z.ZodType<DocumentOf<K>>>, input);
}

/** Checks `input` against one family: upgrade, then parse. */
export function checkIn<T>(family: Family<z.ZodType<T>>, input: unknown): Checked<T> {
  const upgraded = upgradeTo(family, input);
  if (!upgraded.ok) return upgraded;
  return checkSchema(family.schema, upgraded.value);
}

/** JSON Schema (draft 2020-12) of one kind, as a person would write the document by hand. */
export function jsonSchemaOf(kind: Kind): Record<string, unknown> {
  return z.toJSONSchema(families[kind].schema, { io: 'input', target: 'draft-2020-12' }) as Record<
    string,
    unknown
  >;
}
