import { describe, expect, it } from 'vitest';
import { simulate } from '../../brew/simulate.ts';
import type { Distribution } from '../../documents/index.ts';
import { sampleBundle } from '../../documents/testing/samples.ts';
import { dialPointOfDistribution } from '../dial-points.ts';
import { grinderCurve } from '../grinder-curve.ts';
import { settingForDrawdown } from './drawdown-setting.ts';
import { mixEffect } from './mix-effect.ts';
import { withGrind } from './with-grind.ts';

const modes = (median_um: number): Distribution => ({
  by: 'modes',
  modes: [
    { share: 0.88, median_um, gsd: 1.45 },
    { share: 0.12, median_um: 48, gsd: 1.6 },
  ],
});
const parts = [
  { name: 'coarse', share: 3, distribution: modes(1000) },
  { name: 'fine', share: 1, distribution: modes(600) },
];

describe('another grind in a brew', () => {
  it('that is the plan’s own changes nothing of the cup', () => {
    const bundle = sampleBundle();
    const [grinder] = Object.values(bundle.grinders);
    const own = bundle.plan.grind.map(({ share, setting_id }) => ({
      name: setting_id,
      share,
      distribution: grinder!.settings.find((s) => s.id === setting_id)!.distribution,
    }));
    const { cup } = simulate(withGrind(bundle, own), { resolution: 'draft' });
    expect(cup).toEqual(simulate(bundle, { resolution: 'draft' }).cup);
  });
  it('leaves the bundle it was given as it was', () => {
    const bundle = sampleBundle();
    withGrind(bundle, parts);
    expect(bundle).toEqual(sampleBundle());
  });
});

describe('a mix beside its fractions', () => {
  const effect = mixEffect(sampleBundle(), 'the mix', parts);
  const [coarse, fine] = effect.pure;
  it('flows and extracts between them', () => {
    expect(coarse!.permeability_ratio).toBeGreaterThan(1);
    expect(fine!.permeability_ratio).toBeLessThan(1);
    expect(coarse!.drawdown_s!).toBeLessThan(effect.mix.drawdown_s!);
    expect(fine!.drawdown_s!).toBeGreaterThan(effect.mix.drawdown_s!);
    expect(coarse!.yield_pct).toBeLessThan(effect.mix.yield_pct);
    expect(fine!.yield_pct).toBeGreaterThan(effect.mix.yield_pct);
  });
  it('has a drawdown though the plan lifts the dripper early: that of the bed by itself', () => {
    expect(sampleBundle().plan.lift_s).not.toBeNull();
    expect(effect.mix.drawdown_s).not.toBeNull();
  });
  it('has the shares by mass and the figures of its sizes', () => {
    expect(effect.pure.map((p) => p.share)).toEqual([0.75, 0.25]);
    const surface = 0.75 * coarse!.figures.surface_m2_kg! + 0.25 * fine!.figures.surface_m2_kg!;
    expect(effect.mix.figures.surface_m2_kg).toBeCloseTo(surface, 6);
  });
  it('yields by size: small grains more than large ones', () => {
    const { sizes } = effect.mix;
    expect(sizes[0]!.yield_pct).toBeGreaterThan(sizes.at(-1)!.yield_pct);
  });
});

describe('the setting for a drawdown', () => {
  const bundle = sampleBundle();
  const curve = grinderCurve(
    [6, 8, 10].map((dial) => dialPointOfDistribution(String(dial), dial, modes(100 * dial), 0.02)),
  );
  const at = (dial: number) => {
    const brewed = withGrind({ ...bundle, plan: { ...bundle.plan, lift_s: null } }, [
      { name: 'x', share: 1, distribution: modes(100 * dial) },
    ]);
    return { brewed };
  };
  it('is the one that was simulated', () => {
    const { cup } = simulate(at(8).brewed, { resolution: 'draft' });
    const answer = settingForDrawdown({ bundle, curve, drawdown_s: cup.drawdown_s! })!;
    expect(Math.abs(answer.dial.mid - 8)).toBeLessThan(0.4);
    expect(answer.dial.low).toBeLessThan(answer.dial.mid);
    expect(answer.permeability_factor).toBe(1);
    const times = answer.ladder.map((step) => step.drawdown_s!);
    expect(times).toEqual([...times].sort((a, b) => b - a));
  });
  it('is surer with a brew that is known', () => {
    const { cup } = simulate(at(8).brewed, { resolution: 'draft' });
    const question = { bundle, curve, drawdown_s: cup.drawdown_s! };
    const width = (known: { dial: number; drawdown_s: number }[]) => {
      const { dial } = settingForDrawdown({ ...question, known })!;
      return dial.high - dial.low;
    };
    expect(width([{ dial: 8, drawdown_s: cup.drawdown_s! }])).toBeLessThan(width([]));
  });
  it('says when no setting gives it', () => {
    const answer = settingForDrawdown({ bundle, curve, drawdown_s: 7_000 })!;
    expect(answer.remarks.map((r) => r.code)).toEqual(['target_off_curve']);
    expect(answer.on_scale).toBeLessThan(0.1);
  });
  it('stops when told to', () => {
    expect(settingForDrawdown({ bundle, curve, drawdown_s: 150, progress: () => false })).toBeNull();
  });
});
