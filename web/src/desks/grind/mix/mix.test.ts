import { type Blend, type Distribution, type Grinder, workOutGrindMix } from '@pourline/core';
import { describe, expect, it } from 'vitest';
import { engineParts, mixOnPlan, orderOf, withShare } from './mix-kernels.ts';

const modes = (median_um: number): Distribution => ({
  by: 'modes',
  modes: [{ share: 1, median_um, gsd: 1.4 }],
});
const grinder = {
  id: 'g',
  name: 'Bench',
  settings: [
    { id: 's1', mark: '7.0', distribution: modes(650), retention_g: 0.2 },
    { id: 's2', mark: '10.0', distribution: modes(950), retention_g: 0.1 },
  ],
} as unknown as Grinder;
const part = { above_um: null, below_um: null, retention_g: null, loss_pct: 0 };
const blend = {
  id: 'b',
  name: 'Mix',
  parts: [
    { ...part, id: 'a', grinder_id: 'g', setting_id: 's2', share: 0.75 },
    { ...part, id: 'b', grinder_id: 'g', setting_id: 's1', share: 0.25, above_um: 500 },
  ],
  dose_g: 15,
  cups: 3,
  step_g: 0.1,
  grinding: 'each_cup',
  blur_pct: 0,
  fines_limit_um: 100,
} as unknown as Blend;
const name = (of: { above_um: number | null }, mark: string): string =>
  of.above_um === null ? mark : `${mark} above ${of.above_um}`;

describe('shares', () => {
  it('give and take in proportion and always make 1', () => {
    const three = [0.5, 0.3, 0.2].map((share, i) => ({ ...blend.parts[0]!, id: String(i), share }));
    const moved = withShare(three, 0, 0.2).map(({ share }) => share);
    expect(moved).toEqual([0.2, 0.48, 0.32]);
    for (const share of [0, 0.3337, 1, 1.4, -1]) {
      const sum = withShare(three, 1, share).reduce((all, one) => all + one.share, 0);
      expect(sum).toBeCloseTo(1, 9);
    }
  });

  it('are spread evenly where there was nothing, and a lone part keeps all it is given', () => {
    const none = [1, 0, 0].map((share, i) => ({ ...blend.parts[0]!, id: String(i), share }));
    expect(withShare(none, 0, 0.5).map(({ share }) => share)).toEqual([0.5, 0.25, 0.25]);
    expect(withShare([none[0]!], 0, 1)).toHaveLength(1);
  });
});

describe('an order', () => {
  it('holds what settings and parts say, and is null while a setting is missing', () => {
    const order = orderOf(blend, [grinder], name)!;
    expect(order.parts.map((one) => one.name)).toEqual(['10.0', '7.0 above 500']);
    expect(order.parts.map((one) => one.retention_g)).toEqual([0.1, 0.2]);
    expect(order.parts[1]!.cut).toEqual({ above_um: 500, below_um: null, blur_gsd: 1 });
    expect(orderOf(blend, [], name)).toBeNull();
  });

  it('goes to the engine with the sizes its sieves leave, at the shares asked for', () => {
    const order = orderOf(blend, [grinder], name)!;
    const parts = engineParts(order, workOutGrindMix(order)!);
    expect(parts.map(({ share }) => share)).toEqual([0.75, 0.25]);
    const sieved = parts[1]!.distribution;
    if (sieved.by !== 'classes') throw new Error('not classes');
    expect(Math.min(...sieved.classes.map((row) => row.diameter_um))).toBeGreaterThan(500);
  });
});

describe('a mix on a plan', () => {
  const sizes = new Map([['b', modes(700)]]);

  it('points to settings as they are, and makes one of a sieved part', () => {
    const laid = mixOnPlan(blend, [grinder], sizes, name, () => 'new');
    expect(laid.grind).toEqual([
      { grinder_id: 'g', setting_id: 's2', share: 0.75 },
      { grinder_id: 'g', setting_id: 'new', share: 0.25 },
    ]);
    expect(laid.grinders[0]!.settings.at(-1)).toMatchObject({ id: 'new', mark: '7.0 above 500' });
  });

  it('replaces its own setting when it is taken again', () => {
    const first = mixOnPlan(blend, [grinder], sizes, name, () => 'new').grinders[0]!;
    const again = mixOnPlan(blend, [first], new Map([['b', modes(720)]]), name, () => 'other');
    expect(again.grinders[0]!.settings).toHaveLength(3);
    expect(again.grind[1]!.setting_id).toBe('new');
    expect(again.grinders[0]!.settings[2]!.distribution).toEqual(modes(720));
  });
});
