import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { checkArchive, checkKind, type Grinder, type Plan } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { movePour, removePour } from '../../strip/kernels/pour-edit.ts';
import { handsOf } from '../../strip/pour-drag.ts';
import { applyKey } from '../../strip/pour-keys.ts';
import { depthKey } from './figures.ts';
import { mergeHands } from './merge-hands.ts';
import { firstPlan, missingFor, type PlanParts } from './new-plan.ts';
import { sizesOf } from './sizes.ts';

const file = fileURLToPath(new URL('../../../../examples/demo-campaign.json', import.meta.url));
const archive = checkArchive(JSON.parse(readFileSync(file, 'utf8')));
if (!archive.ok) throw new Error('the demo campaign does not pass its own checks');
const of = <T>(kind: string): T[] => archive.value.documents.filter((entry) => entry.kind === kind) as T[];
const plans = of<Plan>('plan').sort((a, b) => (a.id < b.id ? -1 : 1));
const plan = plans[0]!;
const parts: PlanParts = {
  coffees: of('coffee'),
  setups: of('setup'),
  venues: of('venue'),
  waters: of('water'),
  grinders: of('grinder'),
};

describe('carrying a drag over to what is typed', () => {
  it('changes only what the drag changed and keeps half-typed figures elsewhere', () => {
    const typed = { ...plan, pours: plan.pours.map((p, i) => (i === 0 ? { ...p, water_g: 'fifty' } : p)) };
    const before = handsOf(plan);
    const start = plan.pours[1]!.start_s + 4;
    const merged = mergeHands(typed as unknown as Plan, before, movePour(before, 1, start));
    expect(merged.pours[0]!.water_g).toBe('fifty');
    expect(merged.pours[1]).toEqual({ ...plan.pours[1], start_s: start });
  });

  it('replaces a half-typed figure when the drag is about that very figure', () => {
    const typed = { ...plan, pours: plan.pours.map((p, i) => (i === 1 ? { ...p, start_s: '3o' } : p)) };
    const before = handsOf(plan);
    const start = plan.pours[1]!.start_s + 2;
    const merged = mergeHands(typed as unknown as Plan, before, movePour(before, 1, start));
    expect(merged.pours[1]!.start_s).toBe(start);
  });

  it('takes pours away and leaves the typed lift alone', () => {
    const typed = { ...plan, lift_s: 'late' } as unknown as Plan;
    const before = handsOf(plan);
    const merged = mergeHands(typed, before, removePour(before, 0));
    expect(merged.pours.map((p) => p.id)).toEqual(plan.pours.slice(1).map((p) => p.id));
    expect(merged.lift_s).toBe('late');
  });
});

describe('keys on a pour', () => {
  it('land on whole seconds and grams from uneven ones', () => {
    const hands = { ...handsOf(plan), lift_s: null };
    const uneven = {
      ...hands,
      pours: hands.pours.map((p, i) => (i === 1 ? { ...p, start_s: 30.4, water_g: 50.5 } : p)),
    };
    expect(applyKey(uneven, 1, { do: 'move', by_s: 1 }, false).pours[1]!.start_s).toBe(31);
    expect(applyKey(uneven, 1, { do: 'move', by_s: -1 }, false).pours[1]!.start_s).toBe(30);
    expect(applyKey(uneven, 1, { do: 'grams', by_g: 5 }, false).pours[1]!.water_g).toBe(55);
  });

  it('go as far as there is room with Home and End', () => {
    const hands = handsOf(plan);
    const first = applyKey(hands, 1, { do: 'first' }, false).pours[1]!.start_s;
    const last = applyKey(hands, 1, { do: 'last' }, false).pours[1]!;
    expect(first).toBe(plan.pours[0]!.start_s + 10);
    expect(last.start_s + 10).toBe(plan.pours[2]!.start_s);
  });
});

describe('a first plan', () => {
  it('passes the schema, made with what is on the shelf', () => {
    const body = firstPlan('New plan', parts);
    const { id, campaign_id } = plan;
    const checked = checkKind('plan', { kind: 'plan', version: 1, id, campaign_id, ...body });
    expect(checked.ok ? [] : checked.problems).toEqual([]);
  });

  it('names what is missing and makes nothing of nothing', () => {
    const bare = { ...parts, waters: [], grinders: [] };
    expect(missingFor(bare)).toEqual(['water', 'grinder']);
    expect(firstPlan('New plan', bare)).toBeNull();
  });
});

describe('sizes of a grind mix', () => {
  const find = (id: string) => (parts.grinders as readonly Grinder[]).find((grinder) => grinder.id === id);

  it('hold all of the mass, and the mix is the sum of its parts', () => {
    const sizes = sizesOf(plan.grind, find)!;
    const { mix } = sizes;
    const step = Math.log(mix!.diameter_um[1]! / mix!.diameter_um[0]!);
    const mass = mix!.density.reduce((sum, density) => sum + density * step, 0);
    // The drawing leaves out what lies below 10 µm.
    expect(mass).toBeGreaterThan(0.98);
    expect(mass).toBeLessThanOrEqual(1 + 1e-9);
    const summed = mix!.density.map((_, i) => sizes.parts.reduce((sum, part) => sum + part.density[i]!, 0));
    mix!.density.forEach((density, i) => {
      expect(summed[i]).toBeCloseTo(density, 9);
    });
  });

  it('rise from D10 over D50 to D90', () => {
    const { d10_um, d50_um, d90_um, fines_pct } = sizesOf(plan.grind, find)!;
    expect(d10_um).toBeLessThan(d50_um);
    expect(d50_um).toBeLessThan(d90_um);
    expect(fines_pct).toBeGreaterThan(5);
    expect(fines_pct).toBeLessThan(20);
  });

  it('are not drawn while a share points nowhere', () => {
    expect(sizesOf([{ ...plan.grind[0]!, setting_id: 'gone' }], find)).toBeNull();
  });
});

describe('depth in words', () => {
  it.each([
    [0, 'brew.depth.top'],
    [0.3, 'brew.depth.upper'],
    [0.5, 'brew.depth.middle'],
    [0.7, 'brew.depth.lower'],
    [1, 'brew.depth.bottom'],
  ])('calls %d %s', (depth, key) => {
    expect(depthKey(depth)).toBe(key);
  });
});
