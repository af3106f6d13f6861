import type { MatterEffect, MatterInput, WhatMatters } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { matterRows } from './what-matters-rows.ts';

const input = (id: string, kind: MatterInput['kind']): MatterInput => ({
  id,
  kind,
  name: id,
  solute: null,
  unit: 'g',
  value: 1,
  low: 0,
  high: 2,
  step: kind === 'hand' ? { phrase: id, values: {} } : null,
  meaning: id,
  source: '',
});
const effect = (
  at: number,
  mean: number,
  size: number,
  spread: number,
  step: number | null,
): MatterEffect => ({
  input: at,
  mean,
  size,
  spread,
  error: 0,
  count: 8,
  step_effect: step,
});
const study = (
  key: WhatMatters['targets'][number]['key'],
  now: number,
  effects: MatterEffect[],
): WhatMatters => ({
  inputs: [input('dose', 'hand'), input('grind', 'hand'), input('paper', 'engine'), input('air', 'hand')],
  targets: [{ key, unit: key === 'balance' ? '' : '%', now, effects }],
  trajectories: 8,
  runs: 40,
  seed: 1,
});
const EFFECTS = [
  effect(2, -0.4, 0.4, 0.1, null),
  effect(0, 0.2, 0.2, 0.02, 0.1),
  effect(1, 0.01, 0.1, 0.12, 0.005),
  effect(3, 0.001, 0.001, 0, 0.0005),
];

describe('rows of what matters', () => {
  const result = study('strength', 1.4, EFFECTS);
  const target = result.targets[0]!;
  it('are told apart by kind, and bars are measured in the largest effect of their kind', () => {
    const hands = matterRows(result, target, 'hand');
    expect(hands.map((row) => row.input.id)).toEqual(['dose', 'grind']);
    expect(hands[0]).toMatchObject({ change: 0.1, unit: '%', digits: 2, eitherWay: false });
    expect(hands[0]!.to).toBeCloseTo(1, 12);
    expect(hands[0]!.line[0]).toBeCloseTo(0.9, 12);
    expect(hands[0]!.line[1]).toBeCloseTo(1, 12);
    const [paper] = matterRows(result, target, 'engine');
    expect(paper).toMatchObject({ change: -0.4, to: -1, digits: 2 });
    expect(paper!.line[0]).toBe(-1);
  });
  it('say so when an effect may go either way, and give its size per step', () => {
    const grind = matterRows(result, target, 'hand')[1]!;
    expect(grind.eitherWay).toBe(true);
    expect(grind.change).toBeCloseTo(0.05, 12);
    expect(grind.to).toBeCloseTo(0.5, 12);
  });
  it('give the balance in per cent of what it is', () => {
    const other = study('balance', 0.25, [effect(0, 0.02, 0.02, 0, 0.01)]);
    expect(matterRows(other, other.targets[0]!, 'hand')[0]).toMatchObject({ unit: '%', digits: 1 });
    expect(matterRows(other, other.targets[0]!, 'hand')[0]!.change).toBeCloseTo(4, 12);
  });
  it('are none when nothing moves the figure', () => {
    const none = study('strength', 1.4, []);
    expect(matterRows(none, none.targets[0]!, 'hand')).toEqual([]);
  });
});
