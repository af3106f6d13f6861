import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import {
  type Archive,
  asMade,
  bundlePlan,
  checkArchive,
  checkConcentrate,
  checkTrial,
  gatherOrder,
  type Mix,
  makingSteps,
  type Plan,
  readMeter,
  recipeOf,
  solveWaters,
  type Trial,
  type Water,
} from '@pourline/core';
import { describe, expect, test } from 'vitest';
import { demoArchive } from './archive.ts';

const text = readFileSync(new URL('../../examples/demo-campaign.json', import.meta.url), 'utf8');

function demo(): Archive {
  const checked = checkArchive(JSON.parse(text));
  if (!checked.ok) throw new Error(checked.problems.map((p) => p.sentence).join('\n'));
  return checked.value;
}

describe('the demo campaign', () => {
  test('is a valid archive', () => {
    const checked = checkArchive(JSON.parse(text));
    expect(checked.ok ? [] : checked.problems.map((p) => p.sentence)).toEqual([]);
  });

  test('is what its sources say: run `npx tsx scripts/demo/write.ts` after changing them', () => {
    expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(demoArchive())));
  });

  test('has every default written out, so that it reads as it is saved', () => {
    expect(JSON.parse(JSON.stringify(demo().documents))).toEqual(JSON.parse(text).documents);
  });

  test('has no identifier twice, and one campaign that all documents belong to', () => {
    const { documents } = demo();
    expect(new Set(documents.map((d) => d.id)).size).toBe(documents.length);
    const campaigns = documents.filter((d) => d.kind === 'campaign');
    expect(campaigns).toHaveLength(1);
    expect(documents.filter((d) => d.campaign_id !== campaigns[0]!.id)).toEqual([]);
    expect(campaigns[0]).toMatchObject({ demo: true });
  });

  test('resolves every reference of every plan and every trial', () => {
    const { documents } = demo();
    const byId = new Map(documents.map((d) => [d.id, d]));
    const plans = documents.filter((d): d is Plan => d.kind === 'plan');
    expect(plans.length).toBeGreaterThanOrEqual(5);
    for (const plan of plans) {
      const bundle = bundlePlan(plan, (id) => byId.get(id));
      expect(bundle.ok ? [] : bundle.problems.map((p) => `${plan.name}: ${p.sentence}`)).toEqual([]);
    }
    const trials = documents.filter((d) => d.kind === 'trial');
    expect(trials.length).toBeGreaterThanOrEqual(5);
    for (const trial of trials) expect(byId.get(trial.plan_id)?.kind).toBe('plan');
  });

  test('carries the recordings its trials point to, whole', () => {
    const { documents, attachments } = demo();
    const trials = documents.filter((d): d is Trial => d.kind === 'trial');
    const pointed = trials.flatMap(({ traces }) => traces.map(({ attachment }) => attachment));
    expect(attachments.map(({ hash }) => hash).sort()).toEqual(pointed.sort());
    expect(attachments.length).toBeGreaterThanOrEqual(2);
    for (const { hash, base64 } of attachments)
      expect(createHash('sha256').update(Buffer.from(base64, 'base64')).digest('hex')).toBe(hash);
  });

  test('has trials that agree with their plans, three of them brewed at once', () => {
    const { documents } = demo();
    const byId = new Map(documents.map((d) => [d.id, d]));
    const trials = documents.filter((d): d is Trial => d.kind === 'trial');
    const said = trials.flatMap((trial) => checkTrial(trial, (id) => byId.get(id)));
    expect(said.map((p) => p.sentence)).toEqual([]);
    const cups = trials.filter(({ event }) => event !== null);
    expect(cups.map(({ event }) => event!.cup)).toEqual(['A', 'B', 'C']);
    expect(new Set(cups.map(({ event }) => event!.id)).size).toBe(1);
  });

  test.each([
    ['Water 75', 75.3],
    ['Water 90', 90.1],
  ])('%s has ions that sum to %d mg/L and balance in charge', (name, sum) => {
    const water = demo().documents.find((d): d is Water => d.kind === 'water' && d.name === name)!;
    // Molar masses [g/mol] from the IUPAC standard atomic weights, rounded.
    const ions: [number, number, number][] = [
      [water.calcium_mg_L, 40.078, 2],
      [water.magnesium_mg_L, 24.305, 2],
      [water.sodium_mg_L, 22.99, 1],
      [water.potassium_mg_L, 39.098, 1],
      [water.bicarbonate_mg_L, 61.016, -1],
      [water.chloride_mg_L, 35.45, -1],
      [water.sulfate_mg_L, 96.06, -2],
      [water.nitrate_mg_L, 62.004, -1],
    ];
    expect(ions.reduce((total, [mg]) => total + mg, 0)).toBeCloseTo(sum, 1);
    const charge = ions.reduce((total, [mg, molar, z]) => total + (mg / molar) * z, 0);
    expect(Math.abs(charge)).toBeLessThan(0.005);
  });

  test('makes both waters of the plan from its shelf, to the ions written in their documents', () => {
    const { documents } = demo();
    const byId = new Map(documents.map((d) => [d.id, d]));
    const mix = documents.find((d) => d.kind === 'mix')!;
    const order = gatherOrder(mix, (id) => byId.get(id));
    if (!order.ok) throw new Error(order.problems.map((p) => p.sentence).join('\n'));
    const { sheets, remarks } = solveWaters(order.value);
    expect(remarks.map((r) => r.sentence)).toEqual([]);
    expect(sheets.flatMap((sheet) => sheet.remarks.map((r) => r.sentence))).toEqual([]);
    for (const { name, figures } of sheets) {
      const water = documents.find((d): d is Water => d.kind === 'water' && d.name === name)!;
      for (const ion of [
        'calcium',
        'magnesium',
        'sodium',
        'potassium',
        'bicarbonate',
        'chloride',
        'sulfate',
      ] as const)
        expect(
          Math.abs(figures.quantities[ion]!.value - water[`${ion}_mg_L`]),
          `${name}: ${ion}`,
        ).toBeLessThan(0.15);
    }
    for (const salt of documents.filter((d) => d.kind === 'salt')) expect(salt.food_grade).toBe(true);
  });

  test('has a batch with every step done, which the meter took', () => {
    const { documents } = demo();
    const byId = new Map(documents.map((d) => [d.id, d]));
    const batch = documents.find((d) => d.kind === 'batch')!;
    const mix = documents.find((d) => d.kind === 'mix' && d.id === batch.mix_id) as Mix;
    const order = gatherOrder(mix, (id) => byId.get(id));
    if (!order.ok) throw new Error(order.problems.map((p) => p.sentence).join('\n'));
    const sheet = solveWaters(order.value).sheets.find(({ water_id }) => water_id === batch.water_id)!;
    const steps = makingSteps(order.value, sheet).map(({ code, item_id }) =>
      item_id ? `${code} ${item_id}` : code,
    );
    expect(batch.done).toEqual(steps);
    const given = Object.fromEntries(batch.given.map(({ item_id, given_g }) => [item_id, given_g]));
    const read = readMeter(
      order.value,
      asMade(order.value, sheet, given),
      batch.meter_shows!,
      batch.sample_C,
    );
    expect(read.verdict).toBe('as expected');
  });

  test('keeps its concentrates clear, in the fridge and in the room', () => {
    const bottles = demo().documents.filter((d) => d.kind === 'concentrate');
    expect(bottles.length).toBeGreaterThan(0);
    for (const bottle of bottles)
      expect(checkConcentrate(recipeOf(bottle)).filter((r) => r.level === 'problem')).toEqual([]);
  });
});
