import { describe, expect, it } from 'vitest';
import examples from '../../../reference/panel-examples/examples.json' with { type: 'json' };
import { admission, brewCaffeine, caffeineLedger, remainingCaffeine, sipCaffeine } from './caffeine.ts';
import { findingSentences } from './finding-sentences.ts';
import { blockedSamples, sipCaution } from './taster-care.ts';

const { caffeine } = examples;

describe('care', () => {
  const adult = { name: 'Ines', age: 34, pregnant_or_lactating: false };
  it('remaining caffeine (computed)', () => {
    const doses = caffeine.doses.map(([at_h, mg]) => ({ at_h: at_h!, mg: mg! }));
    caffeine.at_h.forEach((t, i) => {
      expect(remainingCaffeine(doses, t, caffeine.half_life_h)).toBeCloseTo(caffeine.remaining_mg[i]!, 3);
    });
  });
  it('a brew, a sip, and spitting counted as swallowing unless assumed otherwise', () => {
    const brew = brewCaffeine(15);
    expect(brew).toEqual({ low: 120, high: 180 });
    expect(sipCaffeine(brew, 225, 15).high).toBeCloseTo(12, 10);
    expect(sipCaffeine(brew, 225, 15, 0.25).high).toBeCloseTo(3, 10);
  });
  it('stops before an occasion or a day passes its limit, at the upper end', () => {
    const cup = { low: 30, high: 40 };
    const had = (mg: number, at_h: number) => ({ at_h, mg: { low: mg, high: mg } });
    expect(caffeineLedger(adult, [had(161, 0)], 1, cup)).toMatchObject({ cups_left: 0, may_taste: false });
    expect(caffeineLedger(adult, [had(160, 0)], 1, cup)).toMatchObject({ cups_left: 1, may_taste: true });
    expect(caffeineLedger(adult, [had(160, 0)], 4, cup).cups_left).toBe(5);
    expect(caffeineLedger(adult, [had(190, 0), had(180, 5)], 12, cup).findings[0]!.code).toBe('day_limit');
    expect(caffeineLedger({ ...adult, pregnant_or_lactating: true }, [had(170, 0)], 8, cup).may_taste).toBe(
      false,
    );
    expect(caffeineLedger(adult, [], 0, { low: 0, high: 0 })).toMatchObject({
      cups_left: null,
      may_taste: true,
    });
    const left = caffeineLedger(adult, [had(100, 0)], 5, cup).remaining_mg;
    expect(left.mean).toBeCloseTo(50, 10);
    expect(left.fast).toBeLessThan(left.mean);
    expect(left.slow).toBeGreaterThan(left.mean);
  });
  it('minors and people who did not give an age do not taste; every caution says it is not advice', () => {
    expect(admission({ ...adult, age: 17 })[0]).toMatchObject({ firmness: 'cannot', code: 'minor_refused' });
    expect(admission({ ...adult, age: null })[0]!.code).toBe('age_missing');
    expect(caffeineLedger({ ...adult, age: 12 }, [], 0, { low: 1, high: 2 }).may_taste).toBe(false);
    expect(findingSentences.day_limit).toContain('not medical advice');
  });
  it('hot sips and allergens', () => {
    expect(sipCaution(65.1)).toMatchObject({ firmness: 'cannot' });
    expect(sipCaution(70, 3.2)!.sentence).toContain('about 4 min');
    expect(sipCaution(62)).toMatchObject({ firmness: 'caution' });
    expect(sipCaution(60)).toBeNull();
    const samples = [
      { name: 'plain', may_carry: [] },
      { name: 'with oat milk', may_carry: ['Gluten'] },
    ];
    expect(blockedSamples({ name: 'Kei', allergens: ['gluten '] }, samples).map((b) => b.sample)).toEqual([
      1,
    ]);
  });
});
