import { z } from 'zod';
import {
  type Checked,
  checkKind,
  checkSchema,
  type Instrument,
  type Plan,
  type Trial,
} from '../documents/index.ts';
import { trial } from '../documents/kinds/trial.ts';
import { balanceOfTrial, type TrialBalance } from './trial-balance.ts';

const { shape } = trial;
const NOBODY = '00000000-0000-4000-8000-000000000000';

/** A brew written by hand: what was weighed and read, in the words of a trial. */
const plainBrew = z.strictObject({
  method: z.enum(['percolation', 'immersion']).default('percolation'),
  dose_g: shape.dose_g,
  water_g: shape.water_g,
  beverage_g: shape.beverage_g,
  bypass_g: shape.bypass_g,
  spent_g: shape.spent_g,
  strength_readings: shape.strength_readings,
  brix_readings: shape.brix_readings,
  sample_lost_pct: shape.sample_lost_pct,
  /** Facts of the instruments, as their documents hold them. */
  balance: z.unknown().optional(),
  refractometer: z.unknown().optional(),
});

/**
 * Reads a brew written by hand as JSON and closes its balance, as for a trial. Never throws.
 * `{ "dose_g": 15, "water_g": 250, "beverage_g": 217, "strength_readings": [{ "strength_pct": 1.42 }] }`
 */
export function readPlainBalance(input: unknown): Checked<TrialBalance> {
  const checked = checkSchema(plainBrew, input);
  if (!checked.ok) return checked;
  const { method, balance, refractometer, ...measured } = checked.value;
  const weighed = instrumentOf('balance', balance);
  if (!weighed.ok) return weighed;
  const read = instrumentOf('refractometer', refractometer);
  if (!read.ok) return read;
  const body = checkKind('trial', {
    kind: 'trial',
    version: 1,
    id: NOBODY,
    campaign_id: NOBODY,
    name: 'by hand',
    plan_id: NOBODY,
    brewed_at: '2000-01-01T00:00:00Z',
    ...measured,
  });
  if (!body.ok) return body;
  return { ok: true, value: balanceBy(method, body.value, weighed.value, read.value) };
}

function balanceBy(
  method: 'percolation' | 'immersion',
  body: Trial,
  balance: Instrument | undefined,
  refractometer: Instrument | undefined,
): TrialBalance {
  const immersed = { outlet_opens_s: method === 'immersion' ? 1 : null, pours: [], bypass: null };
  // Only what tells the method and the added water is asked of the plan.
  return balanceOfTrial(body, immersed satisfies Pick<Plan, 'outlet_opens_s' | 'pours' | 'bypass'>, {
    balance,
    refractometer,
  });
}

function instrumentOf(what: 'balance' | 'refractometer', facts: unknown): Checked<Instrument | undefined> {
  if (facts === undefined) return { ok: true, value: undefined };
  const is = typeof facts === 'object' && facts !== null ? { ...facts, what } : facts;
  const checked = checkKind('instrument', {
    kind: 'instrument',
    version: 1,
    id: NOBODY,
    campaign_id: NOBODY,
    name: what,
    is,
  });
  return checked.ok
    ? checked
    : { ok: false, problems: checked.problems.map((p) => ({ ...p, path: [what, ...p.path.slice(1)] })) };
}
