import {
  type AnyDocument,
  type Campaign,
  checkKind,
  type DocumentOf,
  type Kind,
  type Plan,
  type Trial,
  type Venue,
  type Water,
} from '@pourline/core';
import { v4 as uuid4, v7 as uuid7 } from 'uuid';
import type { RevisionInput } from '../src/types.ts';

/** Fills in the defaults of a kind, so that a new optional field needs no change here. */
function filled<K extends Kind>(kind: K, body: Record<string, unknown>): DocumentOf<K> {
  const checked = checkKind(kind, { kind, version: 1, ...body });
  if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join(' '));
  return checked.value;
}

/** Invented documents for tests. Every call makes new ids. */
export function makeCampaign(name = 'Harbour light cup'): Campaign {
  const id = uuid7();
  return filled('campaign', {
    id,
    campaign_id: id,
    name,
    contest_date: '2031-05-17',
  });
}

export function makeWater(campaign_id: string, name = 'Soft water'): Water {
  return filled('water', {
    id: uuid7(),
    campaign_id,
    name,
    calcium_mg_L: 18,
    magnesium_mg_L: 6,
    sodium_mg_L: 5,
    potassium_mg_L: 1,
    bicarbonate_mg_L: 48,
    chloride_mg_L: 22,
    sulfate_mg_L: 14,
    nitrate_mg_L: 0,
  });
}

export function makeVenue(campaign_id: string): Venue {
  return filled('venue', {
    id: uuid7(),
    campaign_id,
    name: 'Hall on the hill',
    altitude_m: 1_600,
    air_C: 22,
    humidity_pct: 40,
    mains_V: 230,
  });
}

export function makePlan(campaign_id: string, water_id: string, venue_id: string): Plan {
  const pour = (n: number, start_s: number, kettle_temperature_C: number) => ({
    id: `pour-${n}`,
    start_s,
    water_g: 50,
    rate: { by: 'flow', flow_g_s: 5 },
    water_id,
    kettle_temperature_C,
  });
  return filled('plan', {
    id: uuid7(),
    campaign_id,
    name: 'Four pours',
    coffee_id: uuid4(),
    setup_id: uuid4(),
    venue_id,
    dose_g: 14,
    grind: [{ grinder_id: uuid4(), setting_id: 'coarse', share: 1 }],
    pours: [pour(1, 0, 70), pour(2, 30, 92), pour(3, 60, 92), pour(4, 90, 92)],
    lift_s: 180,
  });
}

export function makeTrial(campaign_id: string, plan_id: string, hashes: readonly string[]): Trial {
  return filled('trial', {
    id: uuid7(),
    campaign_id,
    name: 'Trial in the morning',
    notes: 'A little slow at the end.',
    plan_id,
    brewed_at: '2031-04-02T08:15:00+08:00',
    dose_g: 14,
    water_g: 200,
    beverage_g: 154.6,
    drawdown_s: 171,
    strength_readings: [{ strength_pct: 1.46, sample_C: 24 }],
    temperatures: [{ time_s: 35, where: 'bed_middle', temperature_C: 68.2 }],
    traces: hashes.map((attachment) => ({ attachment, media_type: 'text/csv', name: 'balance.csv' })),
  });
}

/** Wraps a document as a client would send it. */
export function makeRevision(
  body: AnyDocument,
  base_revision_id: string | null = null,
  more: Partial<RevisionInput> = {},
): RevisionInput {
  return {
    revision_id: uuid7(),
    base_revision_id,
    author: 'Brewer',
    device: 'tablet',
    at: '2031-04-01T09:00:00.000Z',
    body,
    ...more,
  };
}
