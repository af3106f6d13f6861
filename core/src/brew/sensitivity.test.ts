import { describe, expect, it } from 'vitest';
import {
  MATTER_TARGETS,
  type MatterInput,
  type MatterTargetKey,
  type WhatMatters,
  whatExplains,
  whatMatters,
} from './sensitivity.ts';
import { simulate } from './simulate.ts';
import { demoBundle } from './testing/demo-bundle.ts';

const bundle = demoBundle();
/** A dozen of the inputs: enough to tell, few enough to run in a moment. */
const CHOSEN = [
  'dose',
  'grind',
  'pour_start.3',
  'pour_kettle.4',
  'air',
  'extractable',
  'paperResistance',
  'wallContact',
  'share.acids',
];
const choose = ({ id }: MatterInput) => CHOSEN.includes(id);
const result = whatMatters(bundle, { trajectories: 2, choose })!;
const target = (from: WhatMatters, key: MatterTargetKey) => from.targets.find((t) => t.key === key)!;
const effect = (key: MatterTargetKey, id: string) =>
  target(result, key).effects.find((e) => result.inputs[e.input]!.id === id);

describe('what matters for a plan', () => {
  it('knows the figures as planned', () => {
    const { cup } = simulate(bundle, { resolution: 'draft' });
    expect(target(result, 'strength').now).toBeCloseTo(cup.strength_pct, 6);
    expect(target(result, 'yield').now).toBeCloseTo(cup.yield_pct, 6);
    expect(target(result, 'peak_bed').now).toBeCloseTo(cup.peak_bed_C, 6);
    expect(result.targets.map((t) => t.key)).toEqual(MATTER_TARGETS.map((t) => t.key));
  });
  it('looks at hands and constants, each with its unit and range, and runs as often as it says', () => {
    const all: MatterInput[] = [];
    whatMatters(bundle, { trajectories: 1, choose: (input) => all.push(input) < 0 || input.id === 'dose' });
    const kinds = all.map((input) => input.kind);
    expect(kinds.filter((kind) => kind === 'hand').length).toBeGreaterThan(15);
    expect(kinds.filter((kind) => kind === 'engine').length).toBeGreaterThan(60);
    expect(result.inputs.map((input) => input.id).sort()).toEqual([...CHOSEN].sort());
    expect(result.runs).toBe(2 * (CHOSEN.length + 1));
    for (const input of all) {
      expect(input.high).toBeGreaterThan(input.low);
      expect(input.kind === 'hand' ? input.step!.phrase : input.meaning).not.toBe('');
    }
  });
  it('ranks by size, and says which way: what physics leaves no doubt about', () => {
    for (const { effects } of result.targets) {
      const sizes = effects.map((e) => e.size);
      expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
    }
    expect(effect('strength', 'dose')!.step_effect!).toBeGreaterThan(0);
    expect(effect('yield', 'extractable')!.mean).toBeGreaterThan(0);
    expect(effect('yield', 'grind')!.step_effect!).toBeLessThan(0);
    expect(effect('drawdown', 'paperResistance')!.mean).toBeGreaterThan(0);
    expect(effect('peak_bed', 'pour_kettle.4')!.step_effect!).toBeGreaterThan(0);
    expect(effect('server', 'air')!.step_effect!).toBeGreaterThan(0);
    expect(effect('balance', 'share.acids')!.mean).toBeGreaterThan(0);
    expect(effect('drawdown', 'share.acids')).toBeUndefined();
  });
  it('stops when told to, keeps what it had, and gives the same bits twice', () => {
    let told = 0;
    const stopped = whatMatters(bundle, {
      trajectories: 2,
      choose,
      progress: (done, soFar) => {
        told++;
        expect(done).toBe(0.5);
        expect(soFar().trajectories).toBe(1);
        return false;
      },
    })!;
    expect(told).toBe(1);
    expect(stopped.trajectories).toBe(1);
    expect(stopped).toEqual(whatMatters(bundle, { trajectories: 1, choose }));
  });
});

describe('what explains the spread of a plan', () => {
  it('gives indices of every input from the rows it had, with their errors', { timeout: 60_000 }, () => {
    const rows = 2;
    const explained = whatExplains(bundle, { samples: 8, choose, progress: (done) => done < rows / 8 })!;
    expect(explained.runs).toBe(rows * (explained.inputs.length + 2));
    for (const { shares, deviation, rows: used } of explained.targets) {
      expect(used).toBeLessThanOrEqual(rows);
      expect(deviation).toBeGreaterThan(0);
      const totals = shares.map((s) => s.total);
      expect(totals).toEqual([...totals].sort((a, b) => b - a));
      expect(shares.every((s) => Number.isFinite(s.totalError))).toBe(true);
    }
  });
  it('has nothing to say of a single row', () => {
    expect(whatExplains(bundle, { samples: 2, choose, progress: () => false })).toBeNull();
  });
});
